"""What a page shows of a car for which nothing is worked out: not yet, or not at all."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from pathlib import Path
from unittest import mock

import pytest
from starlette.testclient import TestClient

from knowngood.app.state import state_of
from knowngood.errors import ImpossibleEvidence
from knowngood.library.load import load
from knowngood.web.page import Page
from knowngood.web.thinking import Thinking
from tests.unit.web.conftest import ADDRESS
from tests.unit.web.test_page import words

TROUBLE = ImpossibleEvidence("No set of faults explains these together: x.", "Strike the one most in doubt.")
UNPLUGGED = "coil 3 left unplugged"


@pytest.fixture
def impossible() -> Iterator[None]:
    """No state can be worked out, for what was said cannot all be so."""
    with mock.patch("knowngood.app.workshop.state_of", side_effect=TROUBLE):
        yield


@pytest.fixture
def thinking_still(folder: Path) -> Iterator[TestClient]:
    """A page that does not wait, while the first thought takes its time."""
    go_on = threading.Event()

    def held(*args: object) -> object:
        go_on.wait(60.0)
        return state_of(*args)  # type: ignore[arg-type]

    with mock.patch("knowngood.app.workshop.state_of", side_effect=held):
        app = Page(folder, load(), patience_s=0.0).app()
        with TestClient(app, base_url=ADDRESS, raise_server_exceptions=False) as client:
            yield client
        go_on.set()


def begun(browser: TestClient, *lines: str) -> str:
    """The address of a car of which some lines were said."""
    car = browser.post("/new", data={"nickname": "van"}, follow_redirects=False).headers["location"]
    for line in lines:
        browser.post(f"{car}/say", data={"line": line})
    return car


def test_left_undone_is_shown_before_anything_is_worked_out(thinking_still: TestClient) -> None:
    """A danger is not held back until what next is known; on the list of cars, too."""
    car = begun(thinking_still, "4 cylinders inline", UNPLUGGED)
    page = words(thinking_still.get(car).text)
    assert f"Left as it must not stay {UNPLUGGED}" in page
    assert "It is being worked out." in page
    assert f"Waits to be put right: {UNPLUGGED}." in words(thinking_still.get("/").text)


@pytest.mark.usefixtures("impossible")
def test_left_undone_is_shown_with_trouble(browser: TestClient) -> None:
    """With one tap that puts it right."""
    car = begun(browser, "4 cylinders inline", UNPLUGGED)
    page = browser.get(car).text
    assert f"Left as it must not stay {UNPLUGGED}" in words(page)
    assert str(TROUBLE) in words(page)
    browser.post(f"{car}/tap", data={f"put right|{UNPLUGGED}|cylinder 3": "yes"})
    assert "Left as it must not stay" not in browser.get(car).text


def test_list_asks_for_what_is_not_worked_on_yet(thinking_still: TestClient) -> None:
    """Asked each second by every screen, it queues no car again that is being worked out, and never one put away."""
    begun(thinking_still, "4 cylinders inline")
    two = begun(thinking_still, "4 cylinders inline")
    thinking_still.post(f"{two}/away", data={"away": "yes"})
    while "Being worked out." not in words(thinking_still.get("/").text):
        time.sleep(0.01)
    with mock.patch.object(Thinking, "_want", autospec=True) as queued:
        for _ in range(3):
            assert "Not worked out while it is put away." in words(thinking_still.get("/").text)
            thinking_still.get("/mark")
    assert not queued.called


EVIDENCE = ("", "/engine", "/cylinder/3", "/suspects", "/suspect/lead_open")
PAGES = (*EVIDENCE, "/work", "/todo", "/proof", "/story", "/road")


@pytest.mark.usefixtures("impossible")
@pytest.mark.parametrize("page", PAGES)
def test_trouble_is_told_on_every_page(browser: TestClient, page: str) -> None:
    """What is impossible, and the way to where it can be struck; none says that it is being worked out."""
    car = begun(browser, "4 cylinders inline")
    answer = browser.get(f"{car}{page}")
    assert answer.status_code == 200
    assert f"{TROUBLE} To the journal: strike what is not so" in words(answer.text)
    assert "being worked out" not in answer.text


@pytest.mark.parametrize("page", PAGES)
def test_what_is_being_worked_out_is_said_alike(thinking_still: TestClient, page: str) -> None:
    """In one wording everywhere."""
    car = begun(thinking_still, "4 cylinders inline")
    answer = thinking_still.get(f"{car}{page}")
    assert answer.status_code == 200
    assert "It is being worked out. All that was said is saved." in words(answer.text)


@pytest.mark.usefixtures("impossible")
@pytest.mark.parametrize("form", ["", "?form=txt", "?form=html"])
def test_sheet_that_cannot_be_made_is_refused(browser: TestClient, form: str) -> None:
    """In words, with a status that no browser saves as the sheet."""
    car = begun(browser, "4 cylinders inline")
    assert "Looking before buying" in words(browser.get(f"{car}/sheets").text)
    answer = browser.get(f"{car}/sheet/todo{form}")
    assert answer.status_code == 400
    assert str(TROUBLE) in words(answer.text)
    assert "attachment" not in answer.headers.get("content-disposition", "")


def test_sheet_is_worked_out_where_it_is_not_there_yet(folder: Path) -> None:
    """Asked for before the thought has come, and after a line that no thought knows of."""
    app = Page(folder, load(), patience_s=0.0).app()
    with TestClient(app, base_url=ADDRESS, raise_server_exceptions=False) as browser:
        car = begun(browser, "4 cylinders inline", "shakes at idle", UNPLUGGED)
        assert UNPLUGGED in browser.get(f"{car}/sheet/todo?form=txt").text
        browser.post(f"{car}/say", data={"line": "oil cap left off"})
        assert "oil cap" in browser.get(f"{car}/sheet/todo?form=txt").text


def test_tools_are_there_before_anything_is_worked_out(thinking_still: TestClient) -> None:
    """A tool that was lent out stands so at once; nothing about it has to be worked out."""
    car = begun(thinking_still, "4 cylinders inline")
    thinking_still.post(f"{car}/tap", data={"tool|multimeter": "lent"})
    page = words(thinking_still.get(f"{car}/tools").text)
    assert "being worked out" not in page
    assert "Multimeterlent On hand" in page


def test_part_that_has_come_is_not_offered_again(folder: Path) -> None:
    """The sums are still those before it; the part stands where it is now."""
    held = threading.Event()
    held.set()

    def slow(*args: object) -> object:
        held.wait(60.0)
        return state_of(*args)  # type: ignore[arg-type]

    with (
        mock.patch("knowngood.app.workshop.state_of", side_effect=slow),
        TestClient(Page(folder, load(), patience_s=60.0).app(), base_url=ADDRESS) as client,
    ):
        car = begun(client, "4 cylinders inline, coil on plug", "P0302", "ordered coil, 38, 1 day")
        assert "It has come" in client.get(f"{car}/work").text
        held.clear()
        with mock.patch.object(Thinking, "thought", lambda thinking, job, _: thinking.last(job)):
            client.post(f"{car}/tap", data={"stock|arrived|coil": "yes"})
            page = words(client.get(f"{car}/work").text)
        held.set()
        assert "This does not know of the last yet" in page
        assert "It has come" not in page
        assert "Here, to be fitted Ignition coil, 38" in page
