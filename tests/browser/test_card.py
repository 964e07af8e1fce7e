"""The card by a hand: written, erased, and nothing of it left in the browser."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.browser.hand import begin, contents, worked_out

pytestmark = pytest.mark.browser

Opened = Callable[[str], Any]
OWNER = "Xaverius Quillfeather"


def test_card_leaves_nothing_in_the_browser(opened: Opened, served: tuple[str, Path]) -> None:
    """Neither while it is shown, nor after it was erased; the pages that are kept for the road are."""
    page = opened("phone")
    begin(page, served[0], "carded", "4 cylinders inline")
    worked_out(page)
    contents(page, "Card: owner, telephone, plate", "Card")
    page.get_by_label("Owner").fill(OWNER)
    with page.expect_navigation():
        page.get_by_role("button", name="Save owner").click()
    assert page.get_by_label("Owner").input_value() == OWNER
    contents(page, "What next", "carded: what next")
    contents(page, "Card: owner, telephone, plate", "Card")
    assert page.get_by_label("Owner").input_value() == OWNER
    stored = page.evaluate("() => JSON.stringify(localStorage)")
    assert "/road" in stored
    assert "Quillfeather" not in stored
    page.get_by_text("Erase the card").click()
    with page.expect_navigation():
        page.get_by_role("button", name="Erase the whole card").click()
    assert page.locator(".echo p").inner_text().startswith("Erased, here and in ")
    assert page.get_by_label("Owner").input_value() == ""
