"""What is known is not asked twice: the car's questions are filled in, complaints told before are marked."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.browser.hand import PATIENCE_MS, begin, contents, kept, say

pytestmark = pytest.mark.browser

Opened = Callable[[str], Any]


def test_car_and_complaint_that_are_known(opened: Opened, served: tuple[str, Path]) -> None:
    """Only what was changed is said; codes come after what it does, and lead to what is next."""
    page = opened("phone")
    begin(page, served[0], "known", "5 cylinders inline, distributor, 187000 km", "shakes at cold idle")
    contents(page, "What the car is", "The car")
    assert page.locator("input[name=cylinders]:checked").input_value() == "5"
    assert page.locator("input[name=ignition]:checked").input_value() == "distributor"
    km = page.get_by_label("Kilometres on the odometer")
    assert km.input_value() == "187000"
    km.fill("188000")
    with kept(page):
        page.locator("main form.entry > button").click()
    assert page.locator(".echo").inner_text().startswith("Saved: 188000 km.")
    form = page.get_by_role("form", name="What it does")
    assert form.locator("label", has_text="told before").all_inner_texts() == ["shakes, runs unevenly\ntold before"]
    form.locator("label", has_text="cranks slowly").click()
    with kept(page):
        form.get_by_role("button", name="Save", exact=True).first.click()
    codes = page.get_by_role("form", name="Codes")
    assert codes.bounding_box()["y"] < form.bounding_box()["y"]
    assert codes.get_by_role("button", name="Save codes").count() == 1
    for key in "0303":
        codes.locator(".keypad").get_by_role("button", name=key, exact=True).click()
    with kept(page):
        codes.get_by_role("button", name="Save codes").click()
    page.get_by_role("heading", name="known: what next").wait_for()
    assert page.locator(".echo").inner_text().startswith("Saved: code P0303.")


def test_list_of_cars_follows_by_itself(opened: Opened, served: tuple[str, Path]) -> None:
    """What a car waits for comes into an open list as soon as it is worked out, without a hand on it."""
    page, other = opened("phone"), opened("bench")
    begin(page, served[0], "watched from the list")
    other.goto(served[0])
    row = other.get_by_role("link", name="watched from the list")
    row.get_by_text("Nothing said yet.").wait_for()
    say(page, "shakes at cold idle", "P0302 stored")
    row.get_by_text("Waits for: ").wait_for(timeout=PATIENCE_MS)
