"""The page served on this machine, and browsers that may talk to nobody else."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from knowngood.library.load import load
from knowngood.web.page import Page
from knowngood.web.pairing import Pairing
from knowngood.web.serving import free_socket
from tests.browser.being_served import being_served
from tests.browser.every_page import every_page

SIZES = {"phone": (390, 844), "bench": (1280, 800), "narrow": (320, 640)}  # CSS px


@pytest.fixture(scope="session")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[str, Path]]:
    """Address and folder of a page that is being served."""
    folder = tmp_path_factory.mktemp("served")
    with free_socket(21000) as listening:
        app = Page(folder, load(), pairing=Pairing("12345678")).app()
        with being_served(app, listening):
            yield f"http://127.0.0.1:{listening.getsockname()[1]}/", folder


@pytest.fixture(scope="session")
def pages(chromium: Any, served: tuple[str, Path]) -> dict[str, str]:
    """Addresses of every kind of page there is."""
    return every_page(chromium, served[0])


@pytest.fixture
def opened(chromium: Any, served: tuple[str, Path]) -> Iterator[Callable[[str], Any]]:
    """``opened("phone")``: a page at that size; whatever it asked of other machines, or said went wrong, fails."""
    contexts: list[Any] = []
    elsewhere: list[str] = []
    wrong: list[str] = []

    def at(size: str) -> Any:
        width, height = SIZES[size]
        touch = size != "bench"
        context = chromium.new_context(
            viewport={"width": width, "height": height}, has_touch=touch, is_mobile=touch, device_scale_factor=1
        )
        contexts.append(context)
        page = context.new_page()
        page.on("request", lambda asked: elsewhere.append(asked.url) if not _is_here(asked.url, served[0]) else None)
        page.on("console", lambda message: wrong.append(message.text) if message.type == "error" else None)
        page.on("pageerror", lambda error: wrong.append(str(error)))
        return page

    yield at
    for context in contexts:
        context.close()
    assert elsewhere == []
    assert [text for text in wrong if not any(told in text for told in ("400", "404", "413"))] == []


def _is_here(url: str, address: str) -> bool:
    return url.startswith((address, "data:"))
