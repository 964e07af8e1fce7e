"""What the mechanic did of his own accord, by taps alone: which part, and what it changed."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.browser.hand import PATIENCE_MS, begin, contents, kept, worked_out

pytestmark = pytest.mark.browser

Opened = Callable[[str], Any]


def test_new_cap_that_changed_nothing(opened: Opened, served: tuple[str, Path]) -> None:
    """From the work page to the fault it would have put right, the part once, and "no change"."""
    page = opened("phone")
    begin(page, served[0], "own work", "5 cylinders inline, distributor, port injection", "shakes at idle")
    worked_out(page)
    contents(page, "Work, time and money", "Work")
    page.get_by_role("link", name="Did something of your own accord?").click()
    page.get_by_role("heading", name="Found something wrong").wait_for()
    page.goto(f"{page.url.split('/found')[0]}/suspect/cap_contact_burnt")
    cures = page.locator("summary", has_text="Replaced: distributor cap")
    cures.first.wait_for(timeout=PATIENCE_MS)
    assert cures.count() == 1
    cures.click()
    with kept(page):
        page.get_by_role("button", name="Done: no change").first.click()
    contents(page, "Journal", "Journal")
    assert "replaced distributor cap, no change" in page.locator("ol.said").inner_text()
