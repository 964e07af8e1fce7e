"""Undo takes back the line it stands beside, and no other."""

from __future__ import annotations

import html
import re
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

from starlette.testclient import TestClient

from knowngood.app.workshop import Workshop
from knowngood.library.load import load
from tests.unit.web.test_page import said, words

JSON = {"accept": "application/json"}
SENT = "0123456789abcdef01234567"


def undo_beside(page: str) -> list[str]:
    """The entries that the Undo of an echo names; empty where it has none."""
    echo = re.search(r'<div class="echo".*?</div>', page, re.DOTALL)
    return re.findall(r'name="of" value="([^"]*)"', html.unescape(echo.group(0))) if echo else []


def test_undo_names_its_entry(browser: TestClient, car: str) -> None:
    """What another screen said since stays; a second tap strikes nothing more and says so."""
    page = browser.post(f"{car}/say", data={"line": "shakes at idle"})
    of = undo_beside(page.text)
    assert len(of) == 1
    browser.post(f"{car}/say", data={"line": "slow crank"})
    struck = browser.post(f"{car}/undo", data={"of": of})
    assert "Struck: shakes at idle" in words(struck.text)
    assert said(browser, car) == ["slow crank", "van"]
    again = browser.post(f"{car}/undo", data={"of": of})
    assert again.status_code == 200
    assert "Struck before: shakes at idle" in words(again.text)
    assert said(browser, car) == ["slow crank", "van"]


def test_undo_stands_only_beside_what_still_counts(browser: TestClient, car: str) -> None:
    """Gone back to after the line was struck, the page offers none; nor to an echo that names no entry."""
    page = browser.post(f"{car}/say", data={"line": "shakes at idle"})
    browser.post(f"{car}/undo", data={"of": undo_beside(page.text)})
    back = browser.get(str(page.url)).text
    assert "Saved: " in words(back)
    assert undo_beside(back) == []
    assert ">Undo<" not in browser.get(car, params={"echo": "Saved: everything."}).text


def test_answer_to_a_script_names_the_entry_too(browser: TestClient, car: str) -> None:
    """And the address it leads to, behind the words."""
    answer = browser.post(f"{car}/say", data={"line": "shakes", "sent": SENT}, headers=JSON).json()
    assert answer["of"] == [f"{SENT}-0"]
    assert re.search(r"\?echo=[^&]*&of=", answer["to"])
    assert parse_qs(urlsplit(answer["to"]).query)["of"] == answer["of"]


def test_undo_of_a_talk_takes_all_its_lines_back(browser: TestClient, car: str, folder: Path) -> None:
    """One button made them, one takes them back."""
    page = browser.post(f"{car}/talk", data={"cylinders": "4", "year": "2004"})
    of = undo_beside(page.text)
    assert len(said(browser, car)) - 1 == len(of) > 0
    browser.post(f"{car}/undo", data={"of": of})
    with Workshop(folder, load()) as workshop:
        assert len(workshop.entries(car.rsplit("/", 1)[-1])) == 1


def test_undo_from_the_journal_names_the_last_line(browser: TestClient, car: str) -> None:
    """The one typed last as the page was made; none where only the name is left."""
    assert "Take back the last line" not in browser.get(f"{car}/journal").text
    for line in ("shakes at idle", "yesterday slow crank"):
        browser.post(f"{car}/say", data={"line": line})
    journal = browser.get(f"{car}/journal").text
    form = re.search(r"<form[^>]*/undo.*?</form>", journal, re.DOTALL)
    assert form is not None
    browser.post(f"{car}/say", data={"line": "smells of petrol"})
    browser.post(f"{car}/undo", data={"of": re.findall(r'name="of" value="([^"]*)"', form.group(0))})
    assert set(said(browser, car)) == {"smells of petrol", "shakes at idle", "van"}


def test_strike_can_be_undone(browser: TestClient, car: str) -> None:
    """Beside its echo, and as the last line of the journal: what it struck counts again."""
    of = undo_beside(browser.post(f"{car}/say", data={"line": "shakes at idle"}).text)
    for _ in range(2):
        struck = browser.post(f"{car}/strike", data={"entry": of, "why": "mistyped"})
        assert "Struck: shakes at idle (mistyped)" in words(struck.text)
        assert said(browser, car) == ["van"]
        assert re.findall(r'name="of" value="([^"]*)"', struck.text) == undo_beside(struck.text) * 2
        browser.post(f"{car}/undo", data={"of": undo_beside(struck.text)})
        assert said(browser, car) == ["shakes at idle", "van"]


def test_strike_without_a_reason_is_refused_beside_its_line(browser: TestClient, car: str) -> None:
    """With what was typed still there; of a line that does not stand any more, above them all. Nothing is struck."""
    of = undo_beside(browser.post(f"{car}/say", data={"line": "shakes at idle"}).text)
    long = "x" * 201
    for own, fact in (
        (" ", "No reason was given. Say why in 1 to 200 characters."),
        (long, "The reason has 201 characters. Say why in 1 to 200 characters."),
    ):
        answer = browser.post(f"{car}/strike", data={"entry": of, "why": "", "own": own})
        assert answer.status_code == 400
        assert f'value="{own}" aria-describedby="refused"' in answer.text
        assert fact in words(answer.text)
    answer = browser.post(f"{car}/strike", data={"entry": "nosuch", "why": "mistyped"})
    assert answer.status_code == 400
    assert "Journal This line does not stand any more. Open the journal again." in words(answer.text)
    assert said(browser, car) == ["shakes at idle", "van"]


def test_undo_of_nothing_is_refused(browser: TestClient, car: str) -> None:
    """Without an entry, with one that is none, with the one the car began with: in words, and nothing is struck."""
    page = browser.post(f"{car}/say", data={"line": "shakes at idle"})
    assert undo_beside(page.text)
    for of, fact in (
        ([], "What is to be taken back was not named. Strike it in the journal."),
        (["nosuch"], "There is no entry 'nosuch' in this job."),
    ):
        answer = browser.post(f"{car}/undo", data={"of": of})
        assert answer.status_code == 400
        assert fact in words(answer.text)
    assert said(browser, car) == ["shakes at idle", "van"]
