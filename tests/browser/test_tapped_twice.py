"""A tap is seen at once and counts once; a page left open can still be answered; a slip of the unit is asked about."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.browser.hand import PATIENCE_MS, begin, contents, kept, worked_out

pytestmark = pytest.mark.browser

Opened = Callable[[str], Any]


@pytest.fixture
def gate(opened: Opened, served: tuple[str, Path]) -> Any:
    """The looks before a drive, on a phone."""
    page = opened("phone")
    begin(page, served[0], "tapped twice", "4 cylinders inline", "shakes at cold idle")
    page.goto(f"{page.url.split('?')[0]}/gates/road")
    page.get_by_role("button", name="Good", exact=True).first.wait_for()
    return page


def said(page: Any, words: str) -> int:
    """How often a line stands in the journal."""
    contents(page, "Journal", "Journal")
    return int(page.locator("ol.said li > bdi").all_inner_texts().count(words))


def test_impatient_taps_count_once(gate: Any) -> None:
    """Three taps on one answer while the machine is busy are one look; the tapped answer is marked at once."""
    held: list[Any] = []
    gate.route("**/gates/road", lambda route: held.append(route))
    good = gate.get_by_role("button", name="Good", exact=True).first
    with kept(gate):
        for _ in range(3):
            good.click()
        assert "tapped" in (good.get_attribute("class") or "")
        gate.unroute("**/gates/road")  # lets what was held go on
    assert len(held) == 1
    assert said(gate, "brake pedal: good") == 1


def test_refused_tap_may_be_tapped_again(gate: Any) -> None:
    """What was kept out leaves no button looking tapped, and the next tap on it is sent."""
    answers = iter((400, 200))
    sent: list[int] = []

    def once_refused(route: Any) -> None:
        if route.request.method != "POST":
            return route.continue_()
        sent.append(next(answers, 200))
        if sent[-1] == 400:
            return route.fulfill(status=400, json={"problem": "The disk is full. Make room."})
        return route.continue_()

    gate.route("**/gates/road", once_refused)
    good = gate.get_by_role("button", name="Good", exact=True).first
    good.click()
    gate.get_by_text("The disk is full.").wait_for()
    refused = gate.get_by_role("region", name="Not taken")
    assert "Brake pedal held 30 s, every wheel brakes: Good" in refused.inner_text()
    assert "tapped" not in (good.get_attribute("class") or "")
    with kept(gate):
        good.click()
    assert sent == [400, 200]
    assert refused.count() == 0, "what was tapped again stands for it"


def test_step_that_is_advised_no_more_can_be_entered(gate: Any) -> None:
    """Its readings are asked for as before: what was found is worth no less."""
    car = gate.url.split("/gates")[0]
    gate.goto(f"{car}/enter?step=look%20injector_cut%20engine")
    missing = gate.get_by_text("This step is not among the next ones any more.")
    assert missing.count() == 1  # no such check
    gate.goto(f"{car}/enter?step=measure%20compression_row%20engine")
    gate.locator(".keypad button").first.wait_for()
    assert gate.locator(".cells input").count() == 4


def test_answered_step_is_not_shown_as_the_next(opened: Opened, served: tuple[str, Path]) -> None:
    """While the answer is being worked out the page says so, and offers nothing that was just done."""
    page = opened("phone")
    begin(page, served[0], "answered", "6 cylinders inline, coil on plug", "shakes at cold idle", "P0302 stored")
    worked_out(page)
    step = page.locator(".next .big").inner_text()
    car = page.url.split("?")[0]
    entry = page.locator(".next a.answer", has_text="Enter")
    if entry.count():
        entry.first.click()
        page.locator("form.entry").wait_for()
        for one in page.locator("form.entry fieldset.choice").all():
            one.locator("label").first.click()
        for cell in page.locator(".cells input").all():
            cell.evaluate("(cell) => { cell.value = '1'; cell.dispatchEvent(new Event('input', {bubbles: true})) }")
        with kept(page):
            page.locator("form.entry > button").first.click()
    else:
        with kept(page):
            page.locator(".next .answers button").first.click()
    shown = page.locator(".next .big")
    assert page.url.startswith(car)
    assert not shown.count() or shown.inner_text() != step or page.locator("main[data-fresh]").count()


def test_wrong_unit_is_asked_about_before_it_is_saved(gate: Any) -> None:
    """Ohms typed with kilohms left standing: beside the fields, in sight above the keys."""
    car = gate.url.split("/gates")[0]
    gate.goto(f"{car}/check/compression_row")
    cell = gate.locator(".cells input").first
    cell.wait_for()
    cell.evaluate("(cell) => { cell.value = '1720'; cell.dispatchEvent(new Event('input', {bubbles: true})) }")
    words = "kPa meant? Save it if it is really so."
    gate.wait_for_function(
        "words => document.querySelector('.spread').textContent.includes(words)", arg=words, timeout=PATIENCE_MS
    )


def test_road_is_one_tap_from_the_step_that_wants_it(gate: Any) -> None:
    """And from the end of the drive it is one tap to what it proves."""
    contents(gate, "Road test", "Road test")
    gate.get_by_role("link", name="After the drive: is it proved?").click()
    gate.get_by_role("heading", name="Is it proved?", exact=True).wait_for()


def test_undone_row_stands_in_its_fields_again(gate: Any) -> None:
    """One wrong number of four: the others are not typed once more."""
    check = f"{gate.url.split('/gates')[0]}/check/compression_row"
    gate.goto(check)
    gate.locator(".keypad button").first.wait_for()
    for key in ("1", "2", "0", "Next", "9"):
        gate.locator(".keypad").get_by_role("button", name=key, exact=True).click()
    with kept(gate):
        gate.locator("form.entry > button").first.click()
    with kept(gate):
        gate.get_by_role("button", name="Undo").click()
    gate.goto(check)
    gate.locator(".keypad button").first.wait_for()
    assert [cell.input_value() for cell in gate.locator(".cells input").all()] == ["120", "9", "", ""]


def test_what_is_gone_leads_to_proof_and_hand_over(opened: Opened, served: tuple[str, Path]) -> None:
    """On the first screen before anything else to look for, and in the list of cars."""
    page = opened("phone")
    told = ("4 cylinders inline, coil on plug", "shakes at cold idle", "P0303", "replaced coil 3")
    begin(page, served[0], "all gone", *told, "cleared codes", "runs well, no shake", "no codes")
    worked_out(page)
    page.get_by_role("heading", name="All that was told to be wrong is told to be gone.").wait_for()
    page.get_by_text("Every repair is proved.").wait_for(timeout=PATIENCE_MS)
    page.get_by_role("link", name="How it is proved").click()
    page.get_by_role("heading", name="Every repair is proved", exact=True).wait_for()
    page.get_by_role("link", name="Hand it over: record and copy").click()
    page.get_by_role("heading", name="Sheets to print", exact=True).wait_for()
    with page.expect_download(timeout=PATIENCE_MS) as record:
        page.locator('a[href$="/sheet/record"]').click()
    assert Path(record.value.path()).read_bytes().startswith(b"%PDF")
    page.get_by_role("link", name="Cars").click()
    page.get_by_text("Waits to be handed over.").first.wait_for()
