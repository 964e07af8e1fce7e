"""The example car from looking before buying to the proof by lines only, as they would be typed in the bay."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from knowngood.app.example import example_lines
from tests.browser.hand import PATIENCE_MS, all_told, begin, contents, say, worked_out

pytestmark = pytest.mark.browser

Opened = Callable[[str], Any]
REPAIRS = {"Reseated plug of the coil", "Replaced vacuum hose", "Cleaned engine ground strap"}


def test_example_by_lines_from_intake_to_proof(opened: Opened, served: tuple[str, Path]) -> None:
    """Every line counts; the next step changes with what is told; the three repairs have their verdicts in the end."""
    page = opened("phone")
    begin(page, served[0], "by lines to the proof", *example_lines("first start"))
    before = len(example_lines("first start"))
    worked_out(page)
    assert "Nothing is known to be wrong yet" in page.inner_text("main")
    found = example_lines("work")
    say(page, *found[before:])
    worked_out(page)
    step = page.locator(".next .big").inner_text()
    assert step
    contents(page, "Suspects", "Suspects")
    all_told(page)
    likely = page.locator("ol.suspects").inner_text()
    assert "ground" in likely
    assert "vacuum hose" in likely
    page.get_by_role("link", name="by lines to the proof", exact=True).click()
    say(page, *example_lines()[len(found) :])
    worked_out(page)
    assert step not in page.inner_text("main")
    assert "proved" in page.inner_text("main").lower()
    contents(page, "Journal", "Journal")
    assert page.locator("ol.said li > bdi").count() == 1 + len(example_lines())
    assert "a note" not in page.inner_text("ol.said")
    check_the_proof(page)


def check_the_proof(page: Any) -> None:
    """A verdict for each repair, the chance that is left, readings from both sides; nothing is still there."""
    contents(page, "Is it proved?", "Is it proved?")
    page.locator("main section .big").first.wait_for(timeout=PATIENCE_MS)
    proofs = page.locator("main section", has=page.locator(".big"))
    named = {one.split(" cylinder")[0].split(",")[0] for one in proofs.locator("h2").all_inner_texts()}
    assert named >= REPAIRS
    verdicts = proofs.locator(".big").all_inner_texts()
    assert "Proved" in verdicts
    assert set(verdicts) <= {"Proved", "Not proved yet"}
    assert all("1 in" in words for words in proofs.locator("p:nth-of-type(2)").all_inner_texts())
    assert "before" in page.inner_text("main")
