"""A client that asks the page of an empty workshop as a browser on this machine would."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from knowngood.library.load import load
from knowngood.web.page import Page

ADDRESS = "http://127.0.0.1:8765"


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """The workshop's."""
    return tmp_path / "home"


@pytest.fixture
def browser(folder: Path) -> Iterator[TestClient]:
    """What a crash leads to is shown as the mechanic would see it."""
    app = Page(folder, load(), patience_s=300.0).app()
    with TestClient(app, base_url=ADDRESS, raise_server_exceptions=False) as client:
        yield client


@pytest.fixture
def car(browser: TestClient) -> str:
    """The address of a new car, ``van``."""
    answer = browser.post("/new", data={"nickname": "van"}, follow_redirects=False)
    assert answer.status_code == 303
    return answer.headers["location"]
