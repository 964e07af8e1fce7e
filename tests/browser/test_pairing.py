"""A page that is shared: a phone on the network is led to the code, and works once it has typed it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from knowngood.library.load import load
from knowngood.web.page import Page
from knowngood.web.pairing import MOST_WRONG, NO_NETWORK, SESSION_S, Pairing, own_address
from knowngood.web.serving import EVERYWHERE, free_socket, shared_words
from tests.browser.being_served import being_served
from tests.browser.hand import begin, press

pytestmark = pytest.mark.browser

CODE = "48151623"
Shared = tuple[str, dict[str, float]]


@pytest.fixture
def shared(tmp_path: Path) -> Iterator[Shared]:
    """Address on the network of a page that is shared, and the clock of its sessions."""
    address, clock = own_address(), {"s": 0.0}
    if address == NO_NETWORK:
        pytest.skip("this machine is on no network that a page could be shared on")
    with free_socket(22000, EVERYWHERE) as listening:
        app = Page(tmp_path, load(), hosts=(address,), pairing=Pairing(CODE, lambda: clock["s"])).app()
        with being_served(app, listening):
            yield f"http://{address}:{listening.getsockname()[1]}/", clock


@pytest.fixture
def phones(chromium: Any) -> Iterator[Callable[[], Any]]:
    """Another phone each time it is asked for."""
    contexts: list[Any] = []

    def another() -> Any:
        contexts.append(chromium.new_context(viewport={"width": 390, "height": 844}, has_touch=True, is_mobile=True))
        return contexts[-1].new_page()

    yield another
    for context in contexts:
        context.close()


def type_code(page: Any, code: str) -> None:
    page.get_by_label("Code").fill(code)
    with page.expect_navigation():
        page.get_by_role("button", name="Pair").click()


def test_phone_is_paired_by_the_code_and_then_works(shared: Shared, phones: Callable[[], Any]) -> None:
    """A wrong code is said in words; the right one leads to the cars; another phone, and a day later, it is asked."""
    address, clock = shared
    page = phones()
    page.goto(address)
    assert page.url == f"{address}pair"
    type_code(page, "0000 0000")
    assert "not the code the program printed" in page.locator(".problem").inner_text()
    type_code(page, f"{CODE[:4]} {CODE[4:]}")
    assert page.url == address
    begin(page, address, "shared", "P0302 stored")
    assert page.locator(".echo").inner_text().startswith("Saved: ")
    press(page, "Undo")
    other = phones()
    other.goto(address)
    assert other.url == f"{address}pair"
    clock["s"] += SESSION_S
    page.goto(address)
    assert page.url == f"{address}pair"


def test_picture_fills_the_code_in(shared: Shared, phones: Callable[[], Any]) -> None:
    """What the printed picture holds opens the page with the code in it: one tap pairs."""
    address, _ = shared
    assert f"code: {CODE[:4]} {CODE[4:]}" in shared_words(address, CODE)
    page = phones()
    page.goto(f"{address}pair?code={CODE}")
    with page.expect_navigation():
        page.get_by_role("button", name="Pair").click()
    assert page.url == address


def test_guessing_shuts_the_door(shared: Shared, phones: Callable[[], Any]) -> None:
    """After ten wrong codes the right one is refused too, and the page says what to do."""
    address, _ = shared
    page = phones()
    page.goto(f"{address}pair")
    for _ in range(MOST_WRONG):
        type_code(page, "00000000")
    type_code(page, CODE)
    assert "Start the program again" in page.locator(".problem").inner_text()
    assert page.url == f"{address}pair"
