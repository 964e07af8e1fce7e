"""The plan of the engine, the story of a cylinder, a suspect in full, the journal by place, a line struck."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.browser.hand import begin, contents, kept, worked_out

pytestmark = pytest.mark.browser

LINES = ("V6, coil on plug", "comp 175 172 60 175 174 173 psi", "P0303 stored")
Opened = Callable[[str], Any]


def test_plan_shows_banks_readings_and_suspicion(opened: Opened, served: tuple[str, Path]) -> None:
    """Two banks from the pulley end; the low cylinder stands out by strokes and a word; a tap tells its story."""
    page = opened("phone")
    begin(page, served[0], "planned", *LINES)
    contents(page, "The engine, cylinder by cylinder", "The engine")
    worked_out(page)
    banks = page.locator("ol.bank")
    assert [bank.get_attribute("aria-label") for bank in banks.all()] == ["bank 1, left", "bank 2, right"]
    assert page.locator("a.cylinder").count() == 6
    assert "front: pulley end" in page.inner_text(".engine")
    low = page.get_by_role("link", name="Cylinder 3:")
    assert "60 psi" in low.inner_text()
    assert "most likely here" in low.inner_text()
    low.click()
    page.get_by_role("heading", name="Cylinder 3", exact=True).wait_for()
    assert "compression: 60 psi" in page.inner_text("main")
    assert LINES[1] in page.inner_text("main")
    page.locator("section[aria-labelledby=here] a").first.click()
    page.get_by_role("heading", name="What would show it").wait_for()
    assert "without this line" in page.inner_text("main")


def test_journal_of_one_place_and_a_line_struck(opened: Opened, served: tuple[str, Path]) -> None:
    """What speaks of the cylinder only; struck with its reason, the line is gone; an undo brings it back."""
    page = opened("phone")
    begin(page, served[0], "struck", *LINES, "coolant low")
    contents(page, "Journal", "Journal")
    page.get_by_text("Show one place only").click()
    page.get_by_role("link", name="cylinder 3", exact=True).click()
    page.get_by_text("Only what speaks of cylinder 3").wait_for()
    assert [line.inner_text() for line in page.locator("ol.said li > bdi").all()] == [LINES[2], LINES[1]]
    page.locator("ol.said summary").first.click()
    with kept(page):
        page.get_by_role("button", name="Strike: read wrong").first.click()
    assert page.locator(".echo p").inner_text() == f"Struck: {LINES[2]} (read wrong)"
    assert LINES[2] not in page.inner_text("ol.said")
    with kept(page):
        page.get_by_role("button", name="Take back the last line").click()
    contents(page, "Journal", "Journal")
    assert LINES[2] in page.inner_text("ol.said")
