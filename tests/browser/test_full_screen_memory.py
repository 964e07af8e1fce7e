"""The browser's storage is full: pages kept for later go first; if that is not enough it is said."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.browser.hand import LINE, begin, contents, kept

pytestmark = pytest.mark.browser

Opened = Callable[[str], Any]
FILL = """place => {
  let text = 'x'.repeat(1 << 22), given = localStorage.getItem(place) || '';
  while (text.length) {
    try { localStorage.setItem(place, given + text); given += text; } catch { text = text.slice(0, text.length >> 1); }
  }
}"""
"""Fills whatever room is left, to the last letter (storage of 5 MiB an origin is common practice of browsers)."""


def test_pages_kept_for_later_make_room(opened: Opened, served: tuple[str, Path]) -> None:
    """An entry is kept on the screen and goes out; only pages that could be fetched again were thrown away."""
    page = opened("phone")
    begin(page, served[0], "room made")
    page.evaluate(FILL, "knowngood pages")
    with kept(page):
        page.get_by_label(LINE).fill("slow crank")
        page.get_by_role("button", name="Save", exact=True).click()
    contents(page, "Journal", "Journal")
    assert page.locator("ol.said li > bdi").all_inner_texts() == ["slow crank", "room made"]


def test_without_room_it_is_said_at_the_button(opened: Opened, served: tuple[str, Path]) -> None:
    """The line stays in its field, nothing is sent, and it is saved once there is room."""
    page = opened("phone")
    begin(page, served[0], "no room")
    page.evaluate("() => localStorage.removeItem('knowngood pages')")
    page.evaluate(FILL, "something else")
    page.get_by_label(LINE).fill("slow crank")
    page.get_by_role("button", name="Save", exact=True).click()
    said = page.locator(".bar .at-button")
    said.wait_for()
    assert said.inner_text() == (
        "Not saved: this screen has no room to keep it until the machine has it. It stands here as it was entered. "
        "Let what waits go out, put away what was not taken, then save it again."
    )
    assert page.get_by_label(LINE).input_value() == "slow crank"
    page.evaluate("() => localStorage.removeItem('something else')")
    with kept(page):
        page.get_by_role("button", name="Save", exact=True).click()
    assert said.count() == 0
    contents(page, "Journal", "Journal")
    assert page.locator("ol.said li > bdi").all_inner_texts() == ["slow crank", "no room"]


def test_reason_of_a_refusal_has_its_room(opened: Opened, served: tuple[str, Path]) -> None:
    """The storage was filled after the line began to wait: what is said of it finds room, and it is sent once."""
    page = opened("phone")
    begin(page, served[0], "room for a reason")
    held: list[Any] = []
    page.route("**/say", lambda route: held.append(route))
    page.get_by_label(LINE).fill("slow crank")
    page.get_by_role("button", name="Save", exact=True).click()
    page.wait_for_function("() => Outbox.busy")
    page.get_by_label(LINE).fill("x")
    page.evaluate("() => localStorage.removeItem('knowngood pages')")
    page.evaluate(FILL, "something else")
    held[0].fulfill(status=404, json={"problem": "There is no such page. " + "y" * 500})
    page.get_by_role("region", name="Not taken").wait_for()
    assert len(held) == 1


def test_without_room_digits_are_not_remembered_and_that_is_said(opened: Opened, served: tuple[str, Path]) -> None:
    """Keys go on working; the words stand under the form's own button."""
    page = opened("phone")
    begin(page, served[0], "no memory", "4 cylinders inline")
    page.goto(f"{page.url.split('?')[0]}/check/compression_row")
    page.locator(".keypad button").first.wait_for()
    page.evaluate("() => localStorage.removeItem('knowngood pages')")
    page.evaluate(FILL, "something else")
    for key in ("1", "7"):
        page.locator(".keypad").get_by_role("button", name=key, exact=True).click()
    assert page.locator(".cells input").first.input_value() == "17"
    assert page.locator(".at-button").all_inner_texts() == [
        "This screen has no room to remember what is typed here: save it before the page is loaded anew."
    ]
