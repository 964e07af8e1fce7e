"""Gates by one tap a look; what was left undone stays in sight until it is put right; a new car talked through."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from knowngood.library.load import load
from tests.browser.hand import begin, contents, kept, worked_out

pytestmark = pytest.mark.browser

Opened = Callable[[str], Any]


def test_gate_opens_look_by_look(opened: Opened, served: tuple[str, Path]) -> None:
    """Not yet, with the count of looks; one tap a look; a bad one shuts it; good again, and it says yes."""
    page = opened("phone")
    begin(page, served[0], "gated")
    contents(page, "Before you crank, start or drive", "Before you go on")
    looks = len(load().gates["crank"].looks)
    row = page.get_by_role("link", name="Crank the engine")
    assert f"not yet: {looks} looks to make" in row.inner_text()
    row.click()
    page.get_by_role("heading", name="Crank the engine", exact=True).wait_for()
    for left in range(looks, 0, -1):
        assert page.locator("section.look:not(.made)").count() == left
        with kept(page):
            page.locator("section.look").first.get_by_role("button", name="Good").click()
    assert "Yes, every look was made and is good" in page.locator(".big").inner_text()
    with kept(page):
        page.locator("section.look").first.get_by_role("button", name="Bad").click()
    assert "No, until what is wrong is put right" in page.locator(".big").inner_text()
    with kept(page):
        page.locator("section.look").first.get_by_role("button", name="Good").click()
    contents(page, "Before you crank, start or drive", "Before you go on")
    assert "yes, every look was made" in row.inner_text()


def test_left_undone_is_in_sight_until_put_right(opened: Opened, served: tuple[str, Path]) -> None:
    """On the first screen, in the list of cars and before every gate; gone by one tap."""
    page = opened("phone")
    begin(page, served[0], "left undone", "coil 3 left unplugged")
    worked_out(page)
    assert "coil 3 left unplugged" in page.locator(".undone").inner_text()
    page.get_by_role("link", name="Cars", exact=True).click()
    page.get_by_role("heading", name="Cars", exact=True).wait_for()
    assert "Waits to be put right: coil 3 left unplugged." in page.get_by_role("link", name="left undone").inner_text()
    page.get_by_role("link", name="left undone").click()
    page.locator(".undone").wait_for()
    contents(page, "Before you crank, start or drive", "Before you go on")
    assert "no, until" in page.get_by_role("link", name="Start the engine").inner_text()
    with kept(page):
        page.get_by_role("button", name="Put right").click()
    worked_out(page)
    assert page.locator(".undone").count() == 0


def test_new_car_is_talked_through(opened: Opened, served: tuple[str, Path]) -> None:
    """By tapping what is known; what was skipped is asked later; then what it does, by tapping, too."""
    page = opened("phone")
    begin(page, served[0], "talked through")
    worked_out(page)
    page.get_by_role("link", name="Talk the car through").click()
    page.get_by_role("heading", name="The car", exact=True).wait_for()
    for answer in ("petrol", "8", "V", "coil on plug", "signs of animals"):
        page.get_by_label(answer, exact=True).check()
    page.get_by_label("Kilometres on the odometer").fill("187000")
    with kept(page):
        page.locator("main").get_by_role("button", name="Save", exact=True).click()
    assert "petrol, 8 cylinders, V engine" in page.locator(".echo").inner_text()
    page.get_by_label("shakes, runs unevenly").check()
    page.get_by_label("cold idle").check()
    with kept(page):
        page.locator("main").get_by_role("button", name="Save", exact=True).first.click()
    assert "shakes: yes (cold idle)" in page.locator(".echo").inner_text()
    contents(page, "Journal", "Journal")
    assert page.locator("ol.said li > bdi").all_inner_texts()[0] == "shakes cold idle"


def test_codes_by_their_digits(opened: Opened, served: tuple[str, Path]) -> None:
    """On our own keys, with how they stand."""
    page = opened("phone")
    begin(page, served[0], "coded", "4 cylinders inline")
    contents(page, "Tell what it does, codes", "What it does")
    form = page.get_by_role("form", name="Codes")
    form.get_by_label("Four digits each").click()
    for key in ("0", "3", "0", "2", "space", "0", "1", "7", "1"):
        form.locator(".keypad").get_by_role("button", name=key, exact=True).click()
    form.get_by_label("stored").check()
    with kept(page):
        form.get_by_role("button", name="Save codes").click()
    assert "code P0302 stored; code P0171 stored" in page.locator(".echo").inner_text()


def test_car_is_put_away_and_taken_up(opened: Opened, served: tuple[str, Path]) -> None:
    """It leaves the list, is found again under what was put away, and comes back."""
    page = opened("phone")
    begin(page, served[0], "resting")
    contents(page, "Journal", "Journal")
    with kept(page):
        page.get_by_role("button", name="Put the car away for now").click()
    page.get_by_role("link", name="Cars", exact=True).click()
    page.get_by_role("heading", name="Cars", exact=True).wait_for()
    assert not page.get_by_role("link", name="resting").is_visible()
    page.get_by_text("Put away:").click()
    page.get_by_role("link", name="resting").click()
    with kept(page):
        page.get_by_role("button", name="Take it up again").click()
    page.get_by_role("link", name="Cars", exact=True).click()
    page.get_by_role("heading", name="Cars", exact=True).wait_for()
    assert page.get_by_role("link", name="resting").is_visible()
