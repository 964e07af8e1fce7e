"""The page in a real browser: what dirty hands do with it, and whether it is fit for them."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.browser.every_page import KINDS, LINES
from tests.browser.hand import LINE, all_told, begin, contents, kept, press, say, worked_out
from tests.browser.rules import MEASURE, broken_rules

pytestmark = pytest.mark.browser


Opened = Callable[[str], Any]


@pytest.mark.parametrize("size", ["phone", "bench"])
def test_example_by_lines(opened: Opened, served: tuple[str, Path], size: str) -> None:
    """Three lines are said; suspects and the next step are there; one line is taken back; a reload repeats nothing."""
    page = opened(size)
    begin(page, served[0], f"by lines, {size}")
    worked_out(page)
    assert "Nothing is known to be wrong yet" in page.inner_text("main")
    say(page, *LINES)
    assert page.locator(".echo").inner_text().startswith("Saved: ")
    worked_out(page)
    assert page.get_by_role("heading", name="Next", exact=True).is_visible()
    assert page.locator(".next .big").inner_text()
    assert "coil 3" in page.locator(".undone li").inner_text()
    contents(page, "Suspects", "Suspects")
    all_told(page)
    assert page.locator("ol.suspects > li").count() >= 10
    assert "cylinder 3" in page.locator("main section > p").first.inner_text()
    contents(page, "Journal", "Journal")
    journal = page.locator("ol.said li > bdi")
    assert journal.all_inner_texts()[:3] == list(reversed(LINES))
    page.reload()
    assert journal.count() == 4
    press(page, "Take back the last line")
    assert page.locator(".echo").inner_text() == f"Struck: {LINES[2]}."
    contents(page, "Journal", "Journal")
    assert journal.all_inner_texts()[:2] == [LINES[1], LINES[0]]
    page.reload()
    assert journal.count() == 3


def test_undo_beside_the_echo(opened: Opened, served: tuple[str, Path]) -> None:
    """One tap takes back what was just saved."""
    page = opened("phone")
    begin(page, served[0], "undone at once", LINES[0])
    press(page, "Undo")
    assert page.locator(".echo").inner_text() == f"Struck: {LINES[0]}."


def test_refused_line_stays_in_the_field(opened: Opened, served: tuple[str, Path]) -> None:
    """Typed words are still there, the reason stands beside them, and the keyboard's own key saves too."""
    page = opened("phone")
    begin(page, served[0], "refused")
    field = page.get_by_label(LINE)
    field.fill("y" * 4001)
    field.press("Enter")
    page.locator("#problem").wait_for()
    assert page.locator("#problem").inner_text().startswith("The line has 4001 characters")
    assert field.input_value() == "y" * 4001
    field.fill(LINES[0])
    with kept(page):
        field.press("Enter")
    assert field.input_value() == ""
    contents(page, "Journal", "Journal")
    assert page.locator("ol.said li > bdi").all_inner_texts() == [LINES[0], "refused"]


def test_longest_line_is_read_by_the_server(opened: Opened, served: tuple[str, Path]) -> None:
    """The echo of a long line in letters that take much room does not make an address nobody reads."""
    page = opened("phone")
    begin(page, served[0], "long", "ж" * 4000)
    assert page.locator(".echo").is_visible()
    contents(page, "Journal", "Journal")
    assert page.locator("ol.said li > bdi").first.inner_text() == "ж" * 4000


def test_keyboard_reaches_everything(opened: Opened, pages: dict[str, str]) -> None:
    """Every target of the page gets the focus by the tabulator alone, and whatever has it shows it."""
    page = opened("bench")
    page.goto(pages["told car"])
    wanted = page.locator(", ".join(f"{tag}:visible" for tag in ("a", "button", "input", "summary"))).count()
    reached = []
    for _ in range(wanted):
        page.keyboard.press("Tab")
        focus = page.evaluate(
            "() => { const at = document.activeElement; const style = getComputedStyle(at);"
            " return [at.textContent.trim() || at.name, style.outlineStyle, parseFloat(style.outlineWidth)]; }"
        )
        reached.append(focus[0])
        assert focus[1] == "solid", focus
        assert focus[2] >= 3, focus
    assert reached[0] == "Cars"
    assert reached[-2:] == ["line", "Save"]


@pytest.mark.parametrize("size", ["phone", "bench", "narrow"])
@pytest.mark.parametrize("kind", KINDS)
def test_fit_for_dirty_hands(opened: Opened, pages: dict[str, str], kind: str, size: str) -> None:
    """Targets, answers, distances, letters and contrast are as large as the interface rules want; no sideways scroll.

    Contrast after WCAG 2.2, "relative luminance" and "contrast ratio".
    """
    page = opened(size)
    page.goto(pages[kind])
    assert broken_rules(page.evaluate(MEASURE)) == []


@pytest.mark.parametrize("kind", ["cars", "told car", "gate", "engine", "row"])
def test_fit_for_a_dark_bay(opened: Opened, pages: dict[str, str], kind: str) -> None:
    """By night, one tap, kept for this screen: the same sizes and contrasts, light on dark."""
    page = opened("phone")
    page.goto(pages["told car"])
    page.get_by_role("button", name="Night: light on dark").click()
    page.goto(pages[kind])
    assert page.evaluate("getComputedStyle(document.documentElement).backgroundColor") == "rgb(20, 18, 15)"
    assert broken_rules(page.evaluate(MEASURE)) == []


def test_measuring_sees_what_is_too_small_and_too_pale(opened: Opened) -> None:
    """Black on white is 21:1 and #777777 on white 4.48:1 (WCAG 2.2, from memory); a link of 10 px is 10 px."""
    page = opened("phone")
    page.set_content(
        "<meta name=viewport content=width=device-width><body style='background:#fff;margin:0'>"
        "<p style='color:#000;font-size:16px'>dark</p><p style='color:#777777'>pale</p>"
        "<a href='#' style='display:block;width:10px;height:10px'></a><div style='width:500px'>.</div>"
    )
    met = page.evaluate(MEASURE)
    contrast = {text["says"]: text["contrast"] for text in met["texts"]}
    assert contrast["dark"] == pytest.approx(21.0)
    assert contrast["pale"] == pytest.approx(4.48, abs=0.005)
    assert met["texts"][0]["size"] == 16
    assert [(target["width"], target["height"]) for target in met["targets"]] == [(10, 10)]
    assert met["wide"] == 500


def test_readable_with_large_letters(opened: Opened, pages: dict[str, str]) -> None:
    """At twice the letter size on a narrow phone nothing has to be scrolled sideways."""
    page = opened("narrow")
    page.goto(pages["told car"])
    page.evaluate("document.documentElement.style.fontSize = '40px'")
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_works_without_scripts(chromium: Any, served: tuple[str, Path]) -> None:
    """Nothing that is said or looked up depends on a script."""
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    begin(page, served[0], "plain")
    page.get_by_label(LINE).fill(LINES[0])
    with page.expect_navigation():
        page.get_by_role("button", name="Save").click()
    assert page.locator(".echo").inner_text().startswith("Saved: ")
    with page.expect_navigation():
        page.get_by_role("link", name="Journal").click()
    assert page.locator("ol.said li > bdi").count() == 2
    context.close()
