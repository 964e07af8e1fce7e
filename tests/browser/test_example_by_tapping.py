"""The example car from coming in to the proof by tapping only: three faults, told, measured, found, put right."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from knowngood.app.workshop import Workshop
from knowngood.evidence import Finding, Note, Reading, Work
from knowngood.library.load import load
from tests.browser.hand import PATIENCE_MS, begin, contents, kept, worked_out
from tests.browser.test_example_by_lines import check_the_proof

pytestmark = pytest.mark.browser

Opened = Callable[[str], Any]
COMPRESSION = ("172", "170", "175", "171", "168", "173")
FAULTS = (  # fault, place, words it is found by, what is done
    ("coil_plug_not_on", "Cylinder 2", "coil clicked", "reseated"),
    ("vacuum_hose_chewed", "Engine", "hose chewed", "replaced"),
    ("engine_ground_poor", "Engine", "engine ground", "cleaned"),
)


def choose(page: Any, *labels: str) -> None:
    """Tap answers of the page's own form."""
    for label in labels:
        page.locator("main").get_by_label(label, exact=True).first.check()


def save(page: Any, button: str = "Save") -> str:
    """Save the page's own form; the words that confirm it."""
    with kept(page):
        page.locator("main").get_by_role("button", name=button, exact=True).first.click()
    return str(page.locator(".echo").inner_text())


def keys(page: Any, *pressed: str) -> None:
    """Our own keys, one after the other."""
    for key in pressed:
        page.locator(".keypad").first.get_by_role("button", name=key, exact=True).click()


def look_up(page: Any, link: str, heading: str, words: str, leads_to: str) -> None:
    """Find a check or a fault by some words of it, and open it."""
    contents(page, link, heading)
    page.get_by_label("Words of it").fill(words)
    with page.expect_navigation():
        page.get_by_role("button", name="Find").click()
    page.locator(f'a[href$="/{leads_to}"]').click()
    page.wait_for_url(f"**/{leads_to}")


def open_check(page: Any, check: str, words: str) -> None:
    """A check from the list."""
    look_up(page, "Measure or look at something", "Measure or look", words, f"check/{check}")
    page.locator("form.entry").wait_for()


def tap_at(page: Any, fault: tuple[str, str, str, str], button: Callable[[Any], Any]) -> str:
    """A button at the place of a fault that was looked up; the words that confirm it."""
    name, place, words, _ = fault
    look_up(page, "Found something wrong", "Found something wrong", words, f"suspect/{name}")
    section = page.locator("section", has=page.get_by_role("heading", name=place))
    section.wait_for(timeout=PATIENCE_MS)
    with kept(page):
        button(section).click()
    return str(page.locator(".echo").inner_text())


def done(section: Any, do: str) -> Any:
    """The button of a work that was done and not tried yet, its question opened."""
    section.locator("details", has=section.page.locator(f'button[name^="work|{do}|"]')).first.locator("summary").click()
    return section.locator(f'button[name^="work|{do}|"]').first


def test_example_by_tapping(opened: Opened, served: tuple[str, Path]) -> None:
    """Told, measured, found, put right, gates passed, driven; then nothing that was found is likely any more."""
    page = opened("phone")
    begin(page, served[0], "tapped six")
    worked_out(page)
    page.get_by_role("link", name="Talk the car through").click()
    page.get_by_role("heading", name="The car", exact=True).wait_for()
    choose(page, "petrol", "6", "inline", "coil on plug", "port injection", "flow meter", "signs of animals")
    assert "6 cylinders, inline engine" in save(page)
    choose(page, "shakes, runs unevenly", "cold idle")
    assert "shakes: yes (cold idle)" in save(page)
    page.get_by_role("link", name="What next").first.click()
    worked_out(page)
    assert page.locator(".next .big").inner_text()
    contents(page, "Tell what it does, codes", "What it does")
    choose(page, "hesitates, stumbles on the throttle", "cranks slowly")
    save(page)
    contents(page, "Tell what it does, codes", "What it does")
    codes = page.get_by_role("form", name="Codes")
    codes.get_by_label("Four digits each").click()
    keys(page, "0", "3", "0", "2", "space", "0", "1", "7", "1")
    codes.get_by_label("stored").check()
    assert "P0302" in save(page, "Save codes")

    open_check(page, "compression_row", "compression")
    for value in COMPRESSION[:-1]:
        keys(page, *value, "Next")
    keys(page, *COMPRESSION[-1])
    assert "compression 1..6: 172 170 175 171 168 173" in save(page)
    open_check(page, "drop_ground_measured", "engine battery minus cranking")
    keys(page, "0", ",", "9")
    assert "0.9 V" in save(page)

    for fault in FAULTS:
        assert "seen: " in tap_at(page, fault, lambda at: at.get_by_role("button", name="Seen: it is so"))
        did = tap_at(page, fault, lambda at, do=fault[3]: done(at, do))
        assert f"Saved: {fault[3]}" in did

    contents(page, "Before you crank, start or drive", "Before you go on")
    page.get_by_role("link", name="Start the engine").click()
    page.get_by_role("heading", name="Start the engine", exact=True).wait_for()
    while page.locator("section.look:not(.made)").count():
        with kept(page):
            page.locator("section.look").first.get_by_role("button", name="Good").click()
    assert "Yes, every look" in page.locator(".big").inner_text()

    open_check(page, "drop_ground_measured", "engine battery minus cranking")
    keys(page, "0", ",", "1")
    save(page)
    open_check(page, "road_drive", "uphill steady fast")
    assert "as it should be" in page.inner_text("main")
    save(page, "Save; all the rest is as it should be")
    drive_by_taps(page)
    read_again_by_taps(page)
    check_the_journal(served[1])
    check_the_proof(page)


def drive_by_taps(page: Any) -> None:
    """Every part of the drive as it should be, one tap each."""
    contents(page, "Road test", "Road test")
    for part in ("Cold start", "Idle", "Town, stop and go", "Steady 60 to 80 km/h", "Hills, hard pull", "Hot restart"):
        section = page.locator("section", has=page.get_by_role("heading", name=part, exact=True))
        section.first.wait_for(timeout=PATIENCE_MS)
        with kept(page):
            section.get_by_role("button", name="As it should be").click()
        assert page.locator(".echo").inner_text().startswith("Saved: ")


def read_again_by_taps(page: Any) -> None:
    """Everything that was wrong before the repairs is not so any more, codes are cleared and do not come back."""
    contents(page, "Is it proved?", "Is it proved?")
    worked_out(page)
    codes = page.get_by_role("form", name="Codes")
    for button in ("Cleared now", "None came back"):
        with kept(page):
            codes.get_by_role("button", name=button).click()
        worked_out(page)
    while page.get_by_role("button", name="Not any more").count():
        with kept(page):
            page.get_by_role("button", name="Not any more").first.click()
        worked_out(page)


def check_the_journal(folder: Path) -> None:
    """Three findings, three repairs, readings before and after, no note; none of the three is likely now."""
    with Workshop(folder, load()) as workshop:
        job = workshop.job("tapped six").code
        bodies = [entry.body for entry in workshop.entries(job)]
        assert [body.fault for body in bodies if isinstance(body, Finding)] == [fault for fault, *_ in FAULTS]
        assert [body.do for body in bodies if isinstance(body, Work)] == [*(do for *_, do in FAULTS), "cleared"]
        assert sum(isinstance(body, Reading) for body in bodies) >= 30
        assert not any(isinstance(body, Note) for body in bodies)
        belief = workshop.state(job).belief
        for fault, place, *_ in FAULTS:
            at = next(at for at in belief.faults if at.fault == fault and str(at.place) == place.lower())
            assert belief.chance_of_any([at]) < 0.1, fault
