"""What is typed and not saved yet outlives whatever else is saved or taken back in between."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.browser.hand import LINE, begin, kept, say

pytestmark = pytest.mark.browser

Opened = Callable[[str], Any]


@pytest.fixture
def page(opened: Opened, served: tuple[str, Path]) -> Any:
    """A car of four cylinders on a phone."""
    one = opened("phone")
    begin(one, served[0], "remembered", "4 cylinders inline")
    return one


def row(page: Any) -> list[str]:
    """What stands in the cells of the row, opened within the page as a hand does."""
    page.evaluate("() => Pages.show(`/car/${location.pathname.split('/')[2]}/check/compression_row`)")
    page.locator(".keypad button").first.wait_for()
    return [cell.input_value() for cell in page.locator(".cells input").all()]


def type_row(page: Any, *keys: str) -> None:
    """Press our own keys."""
    for key in keys:
        page.locator(".keypad").get_by_role("button", name=key, exact=True).click()


def test_undo_of_another_line_brings_no_digits_back(page: Any) -> None:
    """The row stays saved, so its fields stay empty; its own undo fills them."""
    assert row(page) == ["", "", "", ""]
    type_row(page, "1", "2", "0", "Next", "9")
    with kept(page):
        page.locator("form.entry > button").first.click()
    undo_row = page.locator(".echo form")
    page.evaluate("form => { window.undoRow = form }", undo_row.element_handle())
    say(page, "slow crank")
    with kept(page):
        page.locator(".echo").get_by_role("button", name="Undo").click()
    assert row(page) == ["", "", "", ""]
    with kept(page):  # the button beside the row's own echo, as it stood there before
        page.evaluate("() => { document.querySelector('main').prepend(undoRow); undoRow.requestSubmit() }")
    assert row(page) == ["120", "9", "", ""]


def test_row_that_was_taken_back_is_one_tap_away(page: Any) -> None:
    """Typed in the wrong unit, say: its digits stand in its fields, and the way there stands beside the undo."""
    row(page)
    type_row(page, "1", "2", "0", "Next", "9")
    with kept(page):
        page.locator("form.entry > button").first.click()
    with kept(page):
        page.locator(".echo").get_by_role("button", name="Undo").click()
    page.get_by_role("link", name="Enter it again").click()
    page.locator(".keypad button").first.wait_for()
    assert [cell.input_value() for cell in page.locator(".cells input").all()] == ["120", "9", "", ""]
    assert page.get_by_role("link", name="Enter it again").count() == 0


def test_digits_typed_while_a_form_is_on_its_way_stay(page: Any) -> None:
    """The first row is kept late; what was typed into the same fields since is still there after a reload."""
    row(page)
    type_row(page, "1", "2", "0", "Next", "9")
    held: list[Any] = []
    page.route("**/tap", lambda route: held.append(route))
    page.locator("form.entry > button").first.click()
    page.wait_for_function("() => Outbox.busy")
    type_row(page, "rub out", "8", "8")
    with kept(page):
        page.unroute("**/tap")  # lets what was held go on
    assert row(page) == ["120", "88", "", ""]
    page.reload()
    page.locator(".keypad button").first.wait_for()
    assert row(page) == ["120", "88", "", ""]


def test_line_typed_while_another_is_on_its_way_stays(page: Any) -> None:
    """It stands in the field after a reload, and was not saved."""
    held: list[Any] = []
    page.route("**/say", lambda route: held.append(route))
    field = page.get_by_label(LINE)
    field.fill("slow crank")
    page.get_by_role("button", name="Save", exact=True).click()
    page.wait_for_function("() => Outbox.busy")
    field.fill("hard start")
    with kept(page):
        page.unroute("**/say")  # lets what was held go on
    page.reload()
    assert page.get_by_label(LINE).input_value() == "hard start"
