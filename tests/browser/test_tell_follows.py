"""What the car does, told on two screens: each follows the other, and nothing that is ticked or typed is lost by it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.browser.hand import begin, contents, say

pytestmark = pytest.mark.browser

Opened = Callable[[str], Any]
AGREE_MS = 20_000  # two seconds on a machine that has nothing else to do


def test_page_of_what_it_does_follows_another_hand(opened: Opened, served: tuple[str, Path]) -> None:
    """What the other screen said stands there as told; what is ticked here and not saved stays ticked."""
    bench, phone = opened("bench"), opened("phone")
    begin(bench, served[0], "two screens")
    phone.goto(str(bench.url).split("?")[0])
    contents(phone, "Tell what it does, codes", "What it does")
    phone.locator("main").get_by_label("stalls", exact=True).check()
    codes = phone.get_by_label("Four digits each")
    codes.click()
    for key in "0302":
        phone.locator(".keypad").get_by_role("button", name=key, exact=True).click()
    say(bench, "lacks power")
    phone.get_by_text("told before").wait_for(timeout=AGREE_MS)
    assert phone.locator("label", has_text="told before").inner_text().startswith("lacks power")
    assert phone.locator("main").get_by_label("stalls", exact=True).is_checked()
    assert phone.get_by_label("Four digits each").input_value() == "0302"


def test_line_being_typed_goes_on_while_the_page_follows(opened: Opened, served: tuple[str, Path]) -> None:
    """The field keeps its letters and the hand's place in it."""
    bench, phone = opened("bench"), opened("phone")
    begin(bench, served[0], "typed meanwhile")
    phone.goto(str(bench.url).split("?")[0])
    contents(phone, "Tell what it does, codes", "What it does")
    phone.locator("#line").click()
    phone.keyboard.type("idle hu")
    say(bench, "lacks power")
    phone.get_by_text("told before").wait_for(timeout=AGREE_MS)
    phone.keyboard.type("nts")
    assert phone.locator("#line").input_value() == "idle hunts"
