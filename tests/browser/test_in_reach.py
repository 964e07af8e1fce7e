"""By taps only: what lies further down, what is found without typing, what comes before a step that runs the engine."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.browser.hand import begin, kept, worked_out

pytestmark = pytest.mark.browser

Opened = Callable[[str], Any]

IN_SIGHT = "one => { const at = one.getBoundingClientRect(); return at.top >= 0 && at.bottom <= innerHeight; }"

LINES = """one => {
  const words = document.createRange();
  words.selectNodeContents(one);
  return words.getClientRects().length;
}"""


def in_sight(one: Any) -> bool:
    """Whether the whole of it is on the screen."""
    return bool(one.evaluate(IN_SIGHT))


def test_contents_come_by_one_tap(opened: Opened, served: tuple[str, Path]) -> None:
    """From the top of a page, also a second time and after another page was shown in place."""
    page = opened("phone")
    begin(page, served[0], "far down", "4 cylinders inline", "P0303", "cranks slowly")
    worked_out(page)
    heading = page.get_by_role("heading", name="Contents", exact=True)
    for _ in range(2):
        page.evaluate("scrollTo({ top: 0, behavior: 'instant' })")
        page.locator("header").get_by_role("link", name="Contents").tap()
        page.wait_for_timeout(400)  # a page that is shown anew by the tap would spring back within this
        assert in_sight(heading)
    page.get_by_role("navigation", name="Contents").get_by_role("link", name="Journal").tap()
    page.get_by_role("heading", name="Journal", exact=True).wait_for()
    assert page.evaluate("scrollY") == 0
    page.locator("header").get_by_role("link", name="Contents").tap()
    page.wait_for_timeout(400)
    assert in_sight(heading)


def test_a_check_is_found_without_typing(opened: Opened, served: tuple[str, Path]) -> None:
    """A word is tapped, then the row of compressions; and every one of the whole list comes page by page."""
    page = opened("phone")
    begin(page, served[0], "found by taps")
    car = page.url.split("?")[0]
    page.goto(f"{car}/checks")
    for word in page.locator(".words a").all():  # on one line each: no word is broken
        assert word.evaluate(LINES) == 1
    page.get_by_role("link", name="compression", exact=True).tap()
    page.get_by_text("Another word").wait_for()
    page.locator("a[href$='/check/compression_row']").tap()
    page.locator(".cells input").first.wait_for()
    page.goto(f"{car}/checks")
    seen = page.locator("main > ul a.row").count()
    while page.get_by_role("link", name="More of them").count():
        page.get_by_role("link", name="More of them").tap()
        page.get_by_text(f", {seen + 1} to ").wait_for()
        seen += page.locator("main > ul a.row").count()
    assert page.locator("main > p").first.inner_text().startswith(f"{seen} found")


def test_codes_open_at_the_top(opened: Opened, served: tuple[str, Path]) -> None:
    """What was saved, its undo and how the codes stand are in sight; the keys wait for the first digit."""
    page = opened("phone")
    begin(page, served[0], "codes at the top")
    page.goto(f"{page.url.split('?')[0]}/tell")
    page.locator("label.pick", has_text="shakes, runs unevenly").tap()
    with kept(page):
        page.get_by_role("button", name="Save", exact=True).first.tap()
    assert in_sight(page.get_by_role("button", name="Undo"))
    assert in_sight(page.get_by_text("How they stand"))
    assert page.evaluate("scrollY") == 0


def test_looks_before_a_step_that_runs_the_engine(opened: Opened, served: tuple[str, Path]) -> None:
    """They stand over its answers, and lead to the gate by one tap."""
    page = opened("phone")
    begin(page, served[0], "runs first", "4 cylinders inline", "stood 3 years", "cranks slowly", "battery rested 12.6")
    worked_out(page)
    while not page.get_by_role("link", name="Before that").count():
        before = page.locator(".next .big").inner_text()
        page.get_by_role("link", name="Skip: show another step").tap()
        page.wait_for_function("was => document.querySelector('.next .big').innerText !== was", arg=before)
    row = page.get_by_role("link", name="Before that")
    assert "Not yet: " in row.inner_text()
    row.tap()
    page.locator("section.look").first.wait_for()
    assert page.locator("h1").inner_text() in ("Start the engine", "Crank the engine", "Drive it on the road")


def test_a_broken_winding_has_a_key(opened: Opened, served: tuple[str, Path]) -> None:
    """Its meter shows no end; the last full field sends by the long key; nothing stands there twice."""
    page = opened("phone")
    begin(page, served[0], "broken winding", "4 cylinders inline, coil on plug")
    page.goto(f"{page.url.split('?')[0]}/check/coils_measured")
    page.locator(".keypad button").first.wait_for()
    key = page.locator(".keypad [data-key=next]")
    cells = page.locator(".cells input").count()
    for at in range(cells):
        assert key.inner_text() == "Next"
        page.locator(".keypad").get_by_role("button", name="OL" if at == 2 else "1", exact=True).tap()
        if at < cells - 1:
            key.tap()
    assert key.inner_text() == "Save"
    with kept(page):
        key.tap()
    assert "coil primary 3: over 1 MΩ" in page.locator(".echo").inner_text()


def test_a_row_is_left_and_found_at_the_same_digits(opened: Opened, served: tuple[str, Path]) -> None:
    """The next key goes on where the hand was called away from, not in the cylinder after it."""
    page = opened("phone")
    begin(page, served[0], "called away", "4 cylinders inline")
    page.goto(f"{page.url.split('?')[0]}/check/compression_row")
    for key in ("1", "7", "5", "Next", "1", "7"):
        page.locator(".keypad").get_by_role("button", name=key, exact=True).tap()
    page.reload()
    page.locator(".keypad").get_by_role("button", name="2", exact=True).tap()
    assert [cell.input_value() for cell in page.locator(".cells input").all()] == ["175", "172", "", ""]


def test_parts_still_to_be_driven_come_first(opened: Opened, served: tuple[str, Path]) -> None:
    """After a tap the page is at its top, and there stands the next part; what was said of one stands below."""
    page = opened("phone")
    begin(page, served[0], "driven in order", "4 cylinders inline", "shakes at cold idle")
    worked_out(page)
    page.goto(f"{page.url.split('?')[0]}/road")
    parts = page.locator("section", has=page.get_by_role("button", name="As it should be"))
    assert parts.first.locator("h2").inner_text() == "Cold start"
    with kept(page):
        parts.first.get_by_role("button", name="As it should be").tap()
    worked_out(page)
    assert parts.first.locator("h2").inner_text() == "Idle"
    assert parts.last.locator("h2").inner_text() == "Cold start"
    assert "Said: as it should be." in parts.last.inner_text()


def test_one_number_has_one_save(opened: Opened, served: tuple[str, Path]) -> None:
    """The long key; the button under it comes back where the keys are not there."""
    page = opened("phone")
    begin(page, served[0], "one number")
    page.goto(f"{page.url.split('?')[0]}/check/battery_measured_rested")
    page.locator(".keypad button").first.wait_for()
    saves = page.locator("form.entry").get_by_role("button", name="Save", exact=True)
    assert saves.count() == 1
    page.evaluate("document.querySelector('.keypad').hidden = true")
    assert saves.count() == 1
    assert saves.get_attribute("data-key") is None


def test_a_tapped_link_is_seen_to_be(opened: Opened, served: tuple[str, Path]) -> None:
    """At once by its frame; where its page is long in coming, in words; nothing of it is on the page that comes."""
    page = opened("phone")
    begin(page, served[0], "long in coming")
    held: list[Any] = []
    page.route("**/todo", lambda route: held.append(route))
    link = page.get_by_role("navigation", name="Contents").get_by_role("link", name="Still to do")
    link.tap()
    assert link.get_attribute("class") == "row tapped"
    page.wait_for_function("link => link.dataset.waits === 'yes'", arg=link.element_handle())
    assert page.get_by_role("heading", name="Still to do", exact=True).count() == 0
    held[0].continue_()
    page.get_by_role("heading", name="Still to do", exact=True).wait_for()
    assert page.locator(".tapped, [data-waits]").count() == 0


CLEAR_OF_LINE = """one => [...one.querySelectorAll("button")].filter(key => {
  const at = key.getBoundingClientRect();
  return at.bottom > document.querySelector(".bar").getBoundingClientRect().top || at.top < 0;
}).map(key => key.textContent)"""


def test_every_key_for_codes_lies_above_the_line(opened: Opened, served: tuple[str, Path]) -> None:
    """No key hides under the line that stays at the foot of the screen, neither as it opens nor once the field of
    the codes is tapped.
    """
    page = opened("phone")
    begin(page, served[0], "codes by keys")
    car = page.url.split("?")[0]
    page.goto(f"{car}/tell?codes=first")
    pad = page.locator("form[aria-label=Codes] .keypad")
    pad.get_by_text("Save codes").wait_for()
    assert page.evaluate("scrollY") == 0
    assert pad.evaluate(CLEAR_OF_LINE) == []
    page.goto(f"{car}/tell")
    field = page.get_by_label("Four digits each: 0302 0171")
    field.tap()
    page.wait_for_timeout(200)
    assert pad.evaluate(CLEAR_OF_LINE) == []
    assert in_sight(field)
