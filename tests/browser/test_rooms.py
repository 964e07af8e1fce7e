"""Suspects with what speaks for them, photos, parts and money, sheets, settings: each by a hand in a real browser."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from tests.browser.hand import PATIENCE_MS, all_told, begin, contents, kept, worked_out

pytestmark = pytest.mark.browser

Opened = Callable[[str], Any]
SICK = (
    "6 cylinders inline, coil on plug, port injection",
    "P0302 stored",
    "comp 172 170 175 171 168 173 psi",
    "shakes",
)
SIDEWAYS = {"width": 844, "height": 390}


def test_suspects_say_why(opened: Opened, served: tuple[str, Path]) -> None:
    """Strokes and words, the lines that moved it; its own page: without each line, and what would show it."""
    page = opened("phone")
    begin(page, served[0], "suspected", *SICK)
    worked_out(page)
    contents(page, "Suspects", "Suspects")
    all_told(page)
    first = page.locator("ol.suspects > li").first
    assert first.locator(".strokes").inner_text().strip("| ") == ""
    assert " in " in first.inner_text()
    assert "from “" in first.inner_text()
    assert page.locator("a", has_text="To tell ").count() == 1
    first.get_by_role("link").click()
    page.get_by_role("heading", name="Why", exact=True).wait_for(timeout=PATIENCE_MS)
    assert "without this line" in page.inner_text("main")
    assert page.get_by_role("heading", name="What would show it").count() == 1
    assert page.get_by_role("button", name="Seen: it is so").count() >= 1


def test_photo_is_taken_in_and_shown(opened: Opened, served: tuple[str, Path], tmp_path: Path) -> None:
    """Chosen as a phone would, with a word; it stands in the journal as a picture of this machine."""
    taken = tmp_path / "IMG_0001.jpg"
    Image.new("RGB", (640, 480), "brown").save(taken)
    page = opened("phone")
    begin(page, served[0], "photographed", "mouse droppings under the bonnet")
    contents(page, "Journal", "Journal")
    page.get_by_text("Add a photo").click()
    page.get_by_label("The photo").set_input_files(taken)
    page.get_by_label("What it shows").fill("nest on the manifold")
    with page.expect_navigation():
        page.get_by_role("button", name="Save the photo").click()
    contents(page, "Journal", "Journal")
    picture = page.locator("ol.said img").first
    assert "nest on the manifold" in picture.get_attribute("alt")
    assert "IMG_0001" not in picture.get_attribute("src")
    page.wait_for_function("() => document.querySelector('ol.said img').naturalWidth > 0")


def test_part_goes_on_by_taps_and_money_follows(opened: Opened, served: tuple[str, Path]) -> None:
    """Wanted, ordered at a price, here, fitted: one tap each, and the sum says so."""
    page = opened("phone")
    begin(page, served[0], "parts", *SICK, "fuel pump wanted")
    worked_out(page)
    contents(page, "Work, time and money", "Work")
    part = page.locator(".part").first
    part.get_by_label("Price").fill("120")
    with kept(page):
        part.get_by_role("button").last.click()
    for words in ("It has come", "Fitted"):
        contents(page, "Work, time and money", "Work")
        worked_out(page)
        button = page.locator(".part").first.get_by_role("button", name=words)
        with kept(page):
            button.first.click()
    contents(page, "Work, time and money", "Work")
    worked_out(page)
    assert "Spent 120 on parts" in page.inner_text("main")
    assert "fuel pump" in page.locator("section[aria-labelledby=did]").inner_text()


def test_sheets_and_hand_over_come_from_this_machine(opened: Opened, served: tuple[str, Path]) -> None:
    """A sheet is a PDF, the hand-over copy an archive; both under this address."""
    page = opened("phone")
    begin(page, served[0], "printed", *SICK)
    worked_out(page)
    contents(page, "Sheets to print", "Sheets to print")
    for link, begins in (("The next steps", b"%PDF"), ("Hand-over copy", b"PK")):
        address = page.locator("main").get_by_role("link", name=link).first.get_attribute("href")
        answer = page.request.get(f"{served[0].rstrip('/')}{address}", timeout=PATIENCE_MS)
        assert answer.body().startswith(begins)


def test_settings_hold_for_every_screen(opened: Opened, served: tuple[str, Path]) -> None:
    """The word behind money, set by tapping on the phone, stands on the laptop."""
    phone, laptop = opened("phone"), opened("bench")
    begin(phone, served[0], "settled", "fuel pump ordered 55")
    phone.goto(f"{served[0]}settings")
    phone.get_by_label("The word behind money").fill("francs")
    with kept(phone):
        phone.locator("form", has=phone.get_by_label("The word behind money")).get_by_role("button").click()
    laptop.goto(served[0])
    laptop.get_by_role("link", name="settled").click()
    contents(laptop, "Work, time and money", "Work")
    worked_out(laptop)
    assert "francs" in laptop.inner_text("main")


def test_sideways_nothing_is_lost(opened: Opened, pages: dict[str, str]) -> None:
    """Held sideways no page scrolls across, and the line stays within reach."""
    page = opened("phone")
    page.set_viewport_size(SIDEWAYS)
    for kind, address in pages.items():
        page.goto(address)
        assert page.evaluate("document.documentElement.scrollWidth") <= SIDEWAYS["width"], kind
        if page.locator(".bar").count():
            box = page.locator(".bar").bounding_box()
            assert box["y"] + box["height"] <= SIDEWAYS["height"], kind
