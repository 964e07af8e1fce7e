"""What a line would be understood as stands above it before it counts, and nothing is kept by it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.browser.hand import LINE, begin, kept

pytestmark = pytest.mark.browser

Opened = Callable[[str], Any]


def test_echo_before_it_counts(opened: Opened, served: tuple[str, Path]) -> None:
    """While it is typed; gone when it is said or rubbed out."""
    page = opened("phone")
    begin(page, served[0], "heard", "6 cylinders inline")
    before = page.locator("main").inner_text()
    line = page.get_by_label(LINE)
    line.press_sequentially("comp 172 170 60")
    heard = page.locator("#heard")
    heard.get_by_text("Heard: compression 1..3: 172 170 60 psi").wait_for()
    assert page.locator("main").inner_text() == before
    line.fill("wibble the frobnicator")
    heard.get_by_text("Not understood").or_(heard.get_by_text("would not count whole")).wait_for()
    line.fill("")
    heard.wait_for(state="detached")
    line.press_sequentially("P0302")
    heard.get_by_text("Heard: code P0302.").wait_for()
    with kept(page):
        page.get_by_role("button", name="Save", exact=True).click()
    assert heard.count() == 0
    assert page.locator(".echo").inner_text().startswith("Saved: code P0302.")
