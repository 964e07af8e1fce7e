"""The card of a car on its page: written, erased, and in nothing else."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from tests.unit.web.test_page import words

OWNER = 'Xaverius Quillfeather <&">'
PAGES = ("", "/journal", "/work", "/story", "/sheets")
SHEETS = ("buy", "arrival", "row", "next", "closing", "road", "todo", "record", "cost")


@pytest.fixture
def carded(browser: TestClient, car: str) -> str:
    """A car with an owner on its card."""
    browser.post(f"{car}/say", data={"line": "4 cylinders inline"})
    answer = browser.post(f"{car}/card", data={"field": "owner", "text": OWNER})
    assert "On the card: owner." in words(answer.text)
    return car


def test_card_is_written_field_by_field(browser: TestClient, carded: str) -> None:
    """The usual ones stand ready; any other may be named; an empty text takes one off."""
    page = browser.get(f"{carded}/card")
    assert 'value="Xaverius Quillfeather &lt;&amp;&#34;&gt;"' in page.text
    assert "Telephone" in words(page.text)
    browser.post(f"{carded}/card", data={"field": "sister", "text": "0170 555"})
    assert 'value="0170 555"' in browser.get(f"{carded}/card").text
    answer = browser.post(f"{carded}/card", data={"field": "sister", "text": " "})
    assert "Off the card: sister." in words(answer.text)
    assert "0170 555" not in answer.text


def test_card_is_in_nothing_else(browser: TestClient, carded: str) -> None:
    """No other page, no sheet, no hand-over copy; its own page asks the browser not to keep it."""
    assert '<main data-unkept="yes">' in browser.get(f"{carded}/card").text
    for page in ("/", *(f"{carded}{page}" for page in PAGES)):
        assert "Quillfeather" not in browser.get(page).text
    for sheet in SHEETS:
        assert "Quillfeather" not in browser.get(f"{carded}/sheet/{sheet}?form=txt").text
    with zipfile.ZipFile(io.BytesIO(browser.get(f"{carded}/hand-over.zip").content)) as archive:
        assert not [name for name in archive.namelist() if b"Quillfeather" in archive.read(name)]


def test_card_is_erased_from_every_file(browser: TestClient, carded: str, folder: Path) -> None:
    """In the daily copies too; the journal stays."""
    browser.post(f"{carded}/say", data={"line": "shakes"})
    answer = browser.post(f"{carded}/card/erase")
    assert "Erased, here and in 1 daily copy." in words(answer.text)
    assert "Erase the whole card" not in answer.text
    assert not [file for file in folder.rglob("*") if file.is_file() and b"Quillfeather" in file.read_bytes()]
    assert "shakes" in browser.get(f"{carded}/journal").text


@pytest.mark.parametrize(
    ("field", "text", "fact"),
    [
        ("", "0170 555", "The field has no name. Name it: owner, plate, telephone, or any word."),
        ("owner", "x" * 1001, "The text has 1001 characters; 1000 are the most. Shorten it."),
        ("x" * 61, "0170 555", "The name of the field has 61 characters; 60 are the most. Shorten it."),
    ],
)
def test_what_cannot_stand_on_a_card(browser: TestClient, carded: str, field: str, text: str, fact: str) -> None:
    """Said beside the field, with what was typed still in it; the card is as it was."""
    answer = browser.post(f"{carded}/card", data={"field": field, "text": text})
    assert answer.status_code == 400
    assert fact in words(answer.text)
    assert f'value="{text}"' in answer.text
    assert "Quillfeather" in browser.get(f"{carded}/card").text


def test_card_of_another_page_is_refused(browser: TestClient, carded: str) -> None:
    """Neither written nor erased by a form of another site."""
    for path in ("card", "card/erase"):
        answer = browser.post(
            f"{carded}/{path}", data={"field": "owner", "text": "me"}, headers={"origin": "http://evil.example"}
        )
        assert answer.status_code == 403
    assert "Quillfeather" in browser.get(f"{carded}/card").text
