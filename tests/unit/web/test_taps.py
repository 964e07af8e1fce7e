"""Taps: kept as entries, once, at their own time; refused in words."""

from __future__ import annotations

import re
import time
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from knowngood.app.workshop import Workshop
from knowngood.evidence import Reading
from knowngood.library.load import load
from tests.unit.web.test_page import said

SENT = "0123456789abcdef01234567"
JSON = {"accept": "application/json"}


def entries(folder: Path, car: str) -> list[object]:
    """The bodies that stand."""
    with Workshop(folder, load()) as workshop:
        return [entry.body for entry in workshop.entries(car.rsplit("/", 1)[-1])][1:]


def test_tap_is_kept_as_a_reading(browser: TestClient, car: str, folder: Path) -> None:
    """The same reading a line would have made; the script gets its words and where to go on."""
    answer = browser.post(f"{car}/tap", data={"word|oil_there_look|engine": "good"}, headers=JSON)
    assert answer.json()["echo"] == "Saved: oil there look: good."
    assert answer.json()["to"].startswith(f"{car}?echo=Saved")
    assert entries(folder, car) == [Reading(kind="oil_there_look", word="good")]


def test_sent_twice_is_kept_once(browser: TestClient, car: str, folder: Path) -> None:
    """A form whose answer was lost comes again under the same name; an undo, too."""
    for path, fields in (("say", {"line": "petrol"}), ("say", {"line": "slow crank"})):
        browser.post(f"{car}/{path}", data=fields)
    first = browser.post(f"{car}/say", data={"line": "shakes", "sent": SENT}, headers=JSON)
    again = browser.post(f"{car}/say", data={"line": "shakes", "sent": SENT}, headers=JSON)
    assert first.json()["echo"].startswith("Saved: ")
    assert again.json()["echo"] == "Saved before: it came twice and was kept once."
    assert len(entries(folder, car)) == 3
    for _ in range(2):
        browser.post(f"{car}/undo", data={"of": first.json()["of"], "sent": SENT[::-1]}, headers=JSON)
    assert len(entries(folder, car)) == 2


def test_what_waited_keeps_its_own_time(browser: TestClient, car: str, folder: Path) -> None:
    """By how long it waited on the sender's own clock, whatever that clock shows."""
    browser.post(f"{car}/say", data={"line": "shakes", "sent": SENT, "waited": "600"}, headers=JSON)
    with Workshop(folder, load()) as workshop:
        last = workshop.entries(car.rsplit("/", 1)[-1])
        entry = next(one for one in last if one.line == "shakes")
    assert entry.at < entry.entered


def test_what_waited_keeps_the_day_that_it_names(browser: TestClient, car: str, folder: Path) -> None:
    """A day in front is when it happened, however long the line waited; yesterday is counted from when it was typed."""
    week_s = 7 * 86400
    for line, waited in (
        ("3 may 2025: new coil 2", 60),
        ("yesterday new coil 1", week_s),
        ("today new coil 3", week_s),
    ):
        browser.post(f"{car}/say", data={"line": line, "waited": str(waited)}, headers=JSON)
    with Workshop(folder, load()) as workshop:
        happened = {one.line: one.at for one in workshop.entries(car.rsplit("/", 1)[-1])}
        now = datetime.fromisoformat(workshop.now())
    assert happened["3 may 2025: new coil 2"].startswith("2025-05-03")
    yesterday = now - datetime.fromisoformat(happened["yesterday new coil 1"])
    today = now - datetime.fromisoformat(happened["today new coil 3"])
    assert timedelta(days=7.9) < yesterday < timedelta(days=9)
    assert timedelta(days=7) < today < timedelta(days=7, hours=1)


def test_order_is_that_of_typing(browser: TestClient, car: str) -> None:
    """The one typed first waited for less than a second before it was sent, the next for more: none is turned round."""
    time.sleep(1.0)  # the car is older than what is said of it
    browser.post(f"{car}/say", data={"line": "slow crank", "waited": "0.9"}, headers=JSON)
    time.sleep(0.3)
    browser.post(f"{car}/say", data={"line": "hard start", "waited": "1.1"}, headers=JSON)
    assert said(browser, car)[:2] == ["hard start", "slow crank"]


@pytest.mark.parametrize(
    ("field", "value", "fact"),
    [
        ("word|nosuch|engine", "good", "There is no reading 'nosuch'."),
        ("word|spark_test|cylinder 3", "bright", "'bright' is no word of spark at a grounded tester."),
        ("number|compression|cylinder 1", "many", "'many'"),
        ("work|polished|coil|engine", "", "'polished' is no work."),
        ("tool|nosuch", "missing", "There is no tool 'nosuch'"),
        ("word|spark_test|cylinder 3", "", "Nothing was entered."),
    ],
)
def test_tap_that_says_nothing_known_is_refused(
    browser: TestClient, car: str, folder: Path, field: str, value: str, fact: str
) -> None:
    """In words, with what was sent still on the page; nothing is kept."""
    answer = browser.post(f"{car}/tap", data={field: value}, headers=JSON)
    assert answer.status_code == 400
    assert fact in answer.json()["problem"]
    assert entries(folder, car) == []


def test_spread_is_said_while_it_is_typed(browser: TestClient, car: str) -> None:
    """Nothing is kept, and a number that is not finished is left out."""
    row = {f"number|compression|cylinder {at}": value for at, value in enumerate(("175", "172", "60", "-"), start=1)}
    answer = browser.get(f"{car}/spread", params={**row, "unit|compression": "psi"})
    assert (
        answer.json()["words"]
        == "From 60 psi to 175 psi. Cylinder 3 is 65% under the middle of the others (173.5 psi)."
    )
    assert browser.get(f"{car}/spread").json()["words"] == ""


def test_mark_changes_with_entries(browser: TestClient, car: str) -> None:
    """So that another screen knows that there is something new."""
    before = browser.get(f"{car}/mark").json()["mark"]
    browser.post(f"{car}/say", data={"line": "petrol"})
    assert browser.get(f"{car}/mark").json()["mark"] != before


def test_thinking_longer_is_said_and_ends(browser: TestClient, car: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """The leading steps are played through beside the page, which then says what came of it; nothing is entered."""
    monkeypatch.setattr("knowngood.web.thinking.LONGER_S", 1.0)
    for line in ("4 cylinders inline, coil on plug", "P0302 stored", "shakes at idle"):
        browser.post(f"{car}/say", data={"line": line})
    shown = browser.get(car).text
    assert "How sure is this?" in shown
    assert "Think longer" in shown
    lines = browser.get(f"{car}/journal").text
    answer = browser.post(f"{car}/longer", headers={"accept": "application/json"})
    assert answer.status_code == 200
    until = time.monotonic() + 120.0
    while "played through" not in (shown := browser.get(car).text) and time.monotonic() < until:
        time.sleep(0.2)
    assert re.search(r"\d turns? played through", shown)
    assert "Think longer" not in shown
    assert browser.get(f"{car}/mark").json()["progress"] == ""
    assert browser.get(f"{car}/journal").text.count("<li") == lines.count("<li")


def test_a_branch_of_the_car_is_read_by_taps(browser: TestClient, car: str, folder: Path) -> None:
    """A fuse that was told has its check with a field, and what is tapped there is kept."""
    for line in ("4 cylinders inline, coil on plug, port injection", "fuse 7 feeds coils, injectors"):
        browser.post(f"{car}/say", data={"line": line})
    page = browser.get(f"{car}/check/volts_measured_fuse_7").text
    assert "Volts behind fuse 7, under load" in page
    assert "number|volts_behind_fuse_7|engine" in page
    answer = browser.post(f"{car}/tap", data={"number|volts_behind_fuse_7|engine": "12.1"}, headers=JSON)
    assert answer.json()["echo"].startswith("Saved: ")
    (kept,) = (body for body in entries(folder, car) if isinstance(body, Reading))
    assert (kept.kind, kept.value.number if kept.value else None) == ("volts_behind_fuse_7", 12.1)
