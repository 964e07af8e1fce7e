"""An error that the page's own script asked about is answered in one shape, so that it can tell "no" from "away"."""

from __future__ import annotations

from urllib.parse import unquote

import pytest
from starlette.testclient import TestClient

from knowngood.web.desk import MOST_FIELDS
from knowngood.web.keeping import LONGEST_ECHO

SCRIPTED = {"accept": "application/json"}


def test_every_refusal_has_words_in_one_shape(browser: TestClient, car: str) -> None:
    """Another page's form, too many fields, no such address, a way of asking that is none."""
    many = {f"word|{number}|engine": "yes" for number in range(MOST_FIELDS + 1)}
    met = [
        browser.post(f"{car}/say", data={"line": "x"}, headers={**SCRIPTED, "origin": "http://elsewhere.example"}),
        browser.post(f"{car}/tap", data=many, headers=SCRIPTED),
        browser.post(f"{car}/nothing", headers=SCRIPTED),
        browser.post(f"{car}/suspects", headers=SCRIPTED),
    ]
    assert [(answer.status_code, answer.json()) for answer in met] == [
        (403, {"problem": "This form was sent from another page. Open it here and type it again."}),
        (400, {"problem": "The form could not be read. Go back and send it again."}),
        (404, {"problem": "There is no such page. Go back to the cars."}),
        (405, {"problem": "This page is not asked in this way. Go back to the cars."}),
    ]


def test_crash_has_words_in_that_shape(browser: TestClient, car: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """With the headers of every answer, though it is made outside of them."""

    def broken(*_: object, **__: object) -> None:
        raise OSError("the disk")

    monkeypatch.setattr("knowngood.app.workshop.Workshop.say", broken)
    answer = browser.post(f"{car}/say", data={"line": "slow crank"}, headers=SCRIPTED)
    assert answer.status_code == 500
    assert answer.json()["problem"].startswith("Something went wrong that should not have (OSError).")
    assert answer.headers["cache-control"] == "no-store"


def test_long_echo_keeps_what_is_asked_at_its_end(browser: TestClient, car: str) -> None:
    """The address of the page that follows leaves out its middle only."""
    answer = browser.post(f"{car}/say", data={"line": f"wobbly {'x' * 900} thing"}, headers=SCRIPTED).json()
    shown = unquote(answer["to"].split("echo=")[1].split("&of=")[0])
    assert len(answer["echo"]) > LONGEST_ECHO
    assert len(shown) == LONGEST_ECHO + len(" ... ")
    assert shown.startswith(answer["echo"][:100])
    assert shown.endswith(answer["echo"][-100:])
