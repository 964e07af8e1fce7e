"""Measurements worked out by tapping: a row, a joint under load, an open lead; kept, taken back, not lost."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from knowngood.app.workshop import Workshop
from knowngood.evidence import Reading
from knowngood.library.load import load
from tests.browser.hand import begin, contents, press

pytestmark = pytest.mark.browser

Opened = Callable[[str], Any]
PLAN = "4 cylinders inline, distributor, port injection, flow meter"


def keys(page: Any, *pressed: str) -> None:
    """Our own keys, one after the other."""
    for key in pressed:
        page.locator(".keypad").get_by_role("button", name=key, exact=True).click()


def open_topic(page: Any, head: str, says: str) -> None:
    """A topic from the contents of the car, by the heading it stands under."""
    contents(page, "Work a measurement out", "Work a measurement out")
    page.locator("summary", has_text=head).click()
    page.get_by_role("link", name=says).click()
    page.get_by_role("heading", name=says, exact=True).wait_for()


def work_out(page: Any) -> str:
    """The long key at the end of the form; what the page then says."""
    with page.expect_navigation():
        keys(page, "Work it out")
    return " ".join(page.locator("section.next").inner_text().split())


def readings(folder: Path, car: str) -> list[tuple[str, str, float]]:
    """Kind, place and value of everything measured that stands in a car's journal."""
    with Workshop(folder, load()) as workshop:
        bodies = [entry.body for entry in workshop.entries(workshop.job(car).code)]
    return [
        (body.kind, body.place.name, body.value.number) for body in bodies if isinstance(body, Reading) and body.value
    ]


@pytest.mark.parametrize("size", ["phone", "bench"])
def test_compression_by_tapping(opened: Opened, served: tuple[str, Path], size: str) -> None:
    """Four cells by number keys and Next; the verdict against the row; kept as four readings; undone by one tap."""
    page = opened(size)
    begin(page, served[0], f"measured {size}", PLAN)
    open_topic(page, "Sealing", "A row of cylinders against the best one")
    for value in ("172", "170", "60"):
        keys(page, *value, "Next")
    keys(page, *"175")
    said = work_out(page)
    assert "Lowest of highest: 34.3 ± 1.8 %" in said
    assert "Not as it should be: cylinder 3 low: under 131 psi" in said
    assert page.evaluate("scrollY") == 0
    press(page, "Keep it in the journal")
    assert "Saved: compression 1..4: 172 170 60 175 psi" in page.locator(".echo").inner_text()
    kept_now = readings(served[1], f"measured {size}")
    assert [(kind, place) for kind, place, _ in kept_now] == [("compression", str(place)) for place in (1, 2, 3, 4)]
    assert kept_now[2][2] == pytest.approx(413.685, abs=0.001)
    press(page, "Undo")
    assert readings(served[1], f"measured {size}") == []


def test_joint_by_tapping(opened: Opened, served: tuple[str, Path]) -> None:
    """Voltage lost and current, a unit chosen, the place tapped; the drop is kept for that place."""
    page = opened("phone")
    begin(page, served[0], "joint", PLAN)
    open_topic(page, "Wiring", "Resistance of a joint, strap or cable under load")
    keys(page, *"420", "Next", *"30")
    page.get_by_label("Unit: Drop").select_option("mV")
    page.locator("summary", has_text="What may be left out").click()
    page.get_by_label("alternator output line", exact=True).check()
    page.locator('input[name="at"]').click()
    with page.expect_navigation():
        page.get_by_role("button", name="Work it out", exact=True).last.click()
    said = page.locator("section.next").inner_text()
    assert "14.0 ± 0.3 mΩ" in " ".join(said.split())
    press(page, "Keep it in the journal")
    assert readings(served[1], "joint") == [("charge_line_drop", "", 0.42)]


def test_open_lead_has_a_key(opened: Opened, served: tuple[str, Path]) -> None:
    """What the meter shows as OL; a lead left empty was not measured."""
    page = opened("phone")
    begin(page, served[0], "leads", PLAN)
    open_topic(page, "Ignition", "Resistance of spark plug leads, by the metre and in their row")
    keys(page, "5", ",", "1", "Next", "OL", "Next", "Next", "5", ",", "4")
    said = work_out(page)
    assert "lead 2 open; lead 3 not measured" in said
    press(page, "Keep it in the journal")
    assert [(place, value) for _, place, value in readings(served[1], "leads")] == [
        ("1", 5100),
        ("2", 1e6),
        ("4", 5400),
    ]


def test_interrupted_typing_stands_again(opened: Opened, served: tuple[str, Path]) -> None:
    """The same digits at the same question after the page was left; once worked out they are not kept twice."""
    page = opened("phone")
    begin(page, served[0], "called away", PLAN)
    open_topic(page, "Wiring", "Resistance of a joint, strap or cable under load")
    address = page.url
    keys(page, *"0,42")
    page.goto(served[0])
    page.goto(address)
    field = page.locator('input[name="drop"]')
    assert field.input_value() == "0,42"
    keys(page, "Next", *"105")
    assert "4.00 ± 0.10 mΩ" in work_out(page)
    page.goto(address)
    assert field.input_value() == ""


def test_what_cannot_be_read_stays_in_its_field(opened: Opened, served: tuple[str, Path]) -> None:
    """The reason beside it, the rest as it was typed, no script needed to type on."""
    page = opened("phone")
    page.goto(f"{served[0]}measure/joint")
    keys(page, *"0,4,2", "Next", *"105")
    with page.expect_navigation():
        keys(page, "Work it out")
    reason = page.locator("fieldset", has=page.locator('input[name="drop"]')).locator(".problem")
    assert reason.inner_text() == (
        "no number in '0,4,2'. Type one such as 175, 12.4, ~165, 500+ or 1.5-2, then its unit."
    )
    assert page.locator('input[name="drop"]').input_value() == "0,4,2"
    assert page.locator('input[name="current"]').input_value() == "105"


def test_words_to_choose_are_not_under_the_keys(opened: Opened, served: tuple[str, Path]) -> None:
    """After the number the long key leads to the words, and the keys make room; a number field brings them back."""
    page = opened("phone")
    page.goto(f"{served[0]}measure/drop")
    keys(page, *"0,3", "Next")
    pad = page.locator(".keypad")
    assert not pad.is_visible()
    page.get_by_label("frame to ground post", exact=True).tap()
    page.locator('input[name="drop"]').tap()
    assert pad.is_visible()
    assert "0.300 ± 0.010 V" in work_out(page)
