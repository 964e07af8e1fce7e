"""Answering by tapping: judgements, numbers on our own keys, a missing tool, another step; digits outlive a reload."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.browser.hand import PATIENCE_MS, begin, contents, kept, open_step, say, worked_out

pytestmark = pytest.mark.browser

LINES = ("6 cylinders inline, coil on plug", "shakes at cold idle", "P0302 stored", "coil plug loose 2")
Opened = Callable[[str], Any]


@pytest.fixture(scope="module")
def sick(chromium: Any, served: tuple[str, Path]) -> str:
    """Address of a car with a few lines said, worked out."""
    context = chromium.new_context()
    page = context.new_page()
    begin(page, served[0], "to be tapped", *LINES)
    worked_out(page)
    address = str(page.url).split("?")[0]
    context.close()
    return address


def has_answers(page: Any) -> bool:
    return page.locator(".answers button").count() > 1


def journal(page: Any) -> list[str]:
    """The lines of the journal, the last first."""
    contents(page, "Journal", "Journal")
    return list(page.locator("ol.said li > bdi").all_inner_texts())


def test_answer_is_one_tap(opened: Opened, sick: str) -> None:
    """It is on disk and echoed; one more tap takes it back."""
    page = opened("phone")
    open_step(page, sick, has_answers)
    with kept(page):
        page.locator(".answers button").first.click()
    assert page.locator(".echo").inner_text().startswith("Saved: ")
    with kept(page):
        page.get_by_role("button", name="Undo").click()
    assert page.locator(".echo").inner_text().startswith("Struck: ")


def test_row_on_our_own_keys(opened: Opened, sick: str) -> None:
    """A value a cylinder, the next one by one tap, an empty one stays not measured; a reload keeps the digits."""
    page = opened("phone")
    page.goto(f"{sick}/check/compression_row")
    page.locator(".keypad button").first.wait_for()
    cells = page.locator(".cells input")
    for key in ("1", "2", "0", "Next", "1", "2", "Next", "Next", "1", "1", "5", ",", "5"):
        page.locator(".keypad").get_by_role("button", name=key, exact=True).click()
    page.wait_for_function("() => document.querySelector('.spread').textContent.includes('2 is')")
    assert [cell.input_value() for cell in cells.all()[:4]] == ["120", "12", "", "115,5"]
    page.reload()
    page.locator(".keypad button").first.wait_for()
    assert [cell.input_value() for cell in cells.all()[:4]] == ["120", "12", "", "115,5"]
    assert page.locator(".cell.here").inner_text() == "4", "where the last digits stand"
    with kept(page):
        page.get_by_role("button", name="Save").click()
    assert page.locator(".echo").inner_text().startswith("Saved: ")
    line = journal(page)[0]
    assert "1 120, 2 12, 4 115,5" in line


def test_minus_is_there_where_a_reading_may_be_under_zero(opened: Opened, sick: str) -> None:
    """Of a row of compressions none can be; of a fuel trim it can, and the key turns the sign and back."""
    page = opened("phone")
    page.goto(f"{sick}/check/compression_row")
    page.locator(".keypad button").first.wait_for()
    assert not page.locator(".keypad [data-key=minus]").is_visible()
    page.goto(f"{sick}/check/read_trims")
    minus = page.locator(".keypad [data-key=minus]")
    minus.wait_for()
    page.locator(".keypad").get_by_role("button", name="8", exact=True).click()
    minus.click()
    assert page.locator(".cell.here input").input_value() == "-8"
    minus.click()
    assert page.locator(".cell.here input").input_value() == "8"


def test_keys_stay_where_they_are(opened: Opened, sick: str) -> None:
    """What is said of the spread moves no key away from under a finger."""
    page = opened("phone")
    page.goto(f"{sick}/check/compression_row")
    key = page.locator(".keypad").get_by_role("button", name="7", exact=True)
    key.wait_for()
    before = key.bounding_box()
    for cell, value in zip(page.locator(".cells input").all()[:4], ("120", "12", "118", "119"), strict=True):
        cell.evaluate(
            "(cell, value) => { cell.value = value; cell.dispatchEvent(new Event('input', {bubbles: true})) }", value
        )
    page.wait_for_function("() => document.querySelector('.spread').textContent.includes('2 is')")
    assert key.bounding_box() == before


def test_nothing_moves_under_a_finger(opened: Opened, sick: str) -> None:
    """While it is down the page does not follow the other screen; the tap counts, and then the page follows."""
    page, other = opened("phone"), opened("bench")
    for screen in (page, other):
        screen.goto(sick)
        worked_out(screen)
    link = page.get_by_role("link", name="Contents")
    link.scroll_into_view_if_needed()
    box = link.bounding_box()
    page.mouse.move(box["x"] + 10, box["y"] + 10)
    page.mouse.down()
    page.evaluate("() => { document.querySelector('main').dataset.seen = 'yes' }")
    say(other, "coolant level low")
    page.wait_for_timeout(3000)  # three askings
    assert page.locator("main").get_attribute("data-seen") == "yes"
    page.mouse.up()
    page.wait_for_function("() => !document.querySelector('main').dataset.seen", timeout=PATIENCE_MS)


def test_missing_tool_gives_another_step(opened: Opened, served: tuple[str, Path]) -> None:
    """Said by one tap, kept as a line; the step that needs it says so or makes room."""
    page = opened("phone")
    begin(page, served[0], "lean", "V6, port injection, flow meter", "P0171 stored", "P0174 stored")
    worked_out(page)
    open_step(
        page, str(page.url).split("?")[0], lambda shown: shown.get_by_role("button", name="Don't have").count() >= 1
    )
    step = page.locator(".next .big").inner_text()
    with kept(page):
        page.get_by_role("button", name="Don't have").first.click()
    worked_out(page)
    assert ": missing." in page.locator(".echo").inner_text()
    assert page.locator(".next .big").inner_text() != step or "not at hand" in page.locator(".next .price").inner_text()


def test_skip_shows_another_step_and_says_nothing(opened: Opened, sick: str) -> None:
    """The journal is as it was."""
    page = opened("phone")
    page.goto(sick)
    worked_out(page)
    first = page.locator(".next .big").inner_text()
    page.get_by_role("link", name="Skip: show another step").click()
    page.get_by_role("heading", name="Instead", exact=True).wait_for()
    assert page.locator(".next .big").inner_text() != first
    assert all("skip" not in line for line in journal(page))
