"""The page in a real browser: what dirty hands do with it, and whether it is fit for them."""

from __future__ import annotations

import itertools
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

pytestmark = pytest.mark.browser

MEASURE = (Path(__file__).parent / "measured.js").read_text(encoding="utf-8").strip().rstrip(";")
LINES = ("4 cylinders inline, coil on plug", "comp 175 172 60 175 psi", "left off: coil 3")
LONG_WORD = "x" * 200

LEAST_TARGET_PX = 44
LEAST_ANSWER_PX = 72
LEAST_SMALL_PX = 56
LEAST_BETWEEN_PX = 16
LEAST_TEXT_PX = 18
LEAST_CONTRAST = 7.0

Opened = Callable[[str], Any]


def begin(page: Any, address: str, name: str, *lines: str) -> None:
    """A new car through the page's own fields."""
    page.goto(address)
    page.get_by_label("A new car: what do you call it?").fill(name)
    press(page, "Begin")
    say(page, *lines)


def say(page: Any, *lines: str) -> None:
    """Lines through the field of the car's page."""
    for line in lines:
        page.get_by_label("Say what you saw, measured or did").fill(line)
        press(page, "Save")


def press(page: Any, name: str) -> None:
    """Press a button and wait until the page it leads to has loaded, however busy the machine is."""
    with page.expect_navigation():
        page.get_by_role("button", name=name).click()


def enter(page: Any, field: Any) -> None:
    """The keyboard's own key in a field, and the page it leads to."""
    with page.expect_navigation():
        field.press("Enter")


@pytest.fixture(scope="module")
def pages(chromium: Any, served: tuple[str, Path]) -> dict[str, str]:
    """Addresses of every kind of page there is."""
    address, _ = served
    context = chromium.new_context()
    page = context.new_page()
    begin(page, address, "empty")
    empty = page.url
    begin(page, address, f"told {LONG_WORD}", *LINES, LONG_WORD)
    told = page.url
    context.close()
    return {
        "cars": address,
        "empty car": empty,
        "told car": told.split("?")[0],
        "just saved": told,
        "trouble": f"{address}car/nosuch",
        "nothing there": f"{address}nosuch",
    }


KINDS = ("cars", "empty car", "told car", "just saved", "trouble", "nothing there")


@pytest.mark.parametrize("size", ["phone", "bench"])
def test_example_by_lines(opened: Opened, served: tuple[str, Path], size: str) -> None:
    """Three lines are said; suspects and the next step are there; one line is taken back; a reload repeats nothing."""
    page = opened(size)
    begin(page, served[0], f"by lines, {size}")
    assert "Nothing is known to be wrong yet" in page.inner_text("main")
    say(page, *LINES)
    assert page.get_by_role("status").inner_text().startswith("Saved: ")
    assert page.get_by_role("heading", name="Next", exact=True).is_visible()
    assert page.locator(".next .big").inner_text()
    assert page.locator("section[aria-labelledby=suspects] ol > li").count() >= 10
    assert "cylinder 3" in page.locator("section[aria-labelledby=suspects] > p").first.inner_text()
    journal = page.locator("ol.said li")
    assert journal.all_inner_texts()[:3] == list(reversed(LINES))
    page.reload()
    assert journal.count() == 4
    press(page, "Undo")
    assert page.get_by_role("status").inner_text() == f"Struck: {LINES[2]}"
    assert journal.all_inner_texts()[:2] == [LINES[1], LINES[0]]
    page.reload()
    assert journal.count() == 3


def test_refused_line_stays_in_the_field(opened: Opened, served: tuple[str, Path]) -> None:
    """Typed words are still there, the reason stands beside them, and the keyboard's own key saves too."""
    page = opened("phone")
    begin(page, served[0], "refused")
    field = page.get_by_label("Say what you saw, measured or did")
    field.fill("y" * 4001)
    enter(page, field)
    assert page.locator("#problem").inner_text().startswith("The line has 4001 characters")
    assert field.input_value() == "y" * 4001
    field.fill(LINES[0])
    enter(page, field)
    assert page.locator("ol.said li").all_inner_texts() == [LINES[0], "refused"]


def test_longest_line_is_read_by_the_server(opened: Opened, served: tuple[str, Path]) -> None:
    """The echo of a long line in letters that take much room does not make an address nobody reads."""
    page = opened("phone")
    begin(page, served[0], "long", "ж" * 4000)
    assert page.get_by_role("status").is_visible()
    assert page.locator("ol.said li").first.inner_text() == "ж" * 4000


def test_keyboard_reaches_everything(opened: Opened, pages: dict[str, str]) -> None:
    """The field comes before the last line's undo, and whatever has the focus shows it."""
    page = opened("bench")
    page.goto(pages["told car"])
    reached = []
    for _ in range(4):
        page.keyboard.press("Tab")
        focus = page.evaluate(
            "() => { const at = document.activeElement; const style = getComputedStyle(at);"
            " return [at.textContent.trim() || at.name, style.outlineStyle, parseFloat(style.outlineWidth)]; }"
        )
        reached.append(focus[0])
        assert focus[1] == "solid"
        assert focus[2] >= 3
    assert reached == ["knowngood", "line", "Save", "Take back the last line"]


@pytest.mark.parametrize("size", ["phone", "bench", "narrow"])
@pytest.mark.parametrize("kind", KINDS)
def test_fit_for_dirty_hands(opened: Opened, pages: dict[str, str], kind: str, size: str) -> None:
    """Targets, answers, distances, letters and contrast are as large as the interface rules want; no sideways scroll.

    Contrast after WCAG 2.2, "relative luminance" and "contrast ratio".
    """
    page = opened(size)
    page.goto(pages[kind])
    met = page.evaluate(MEASURE)
    assert met["texts"], "there is something to read"
    assert met["targets"], "there is something to press"
    assert met["wide"] <= met["screen"], f"scrolls sideways: {met['wide']} px on {met['screen']} px"
    for target in met["targets"]:
        assert min(target["width"], target["height"]) >= LEAST_TARGET_PX, target
        if target["tag"] in ("button", "input"):
            least = LEAST_SMALL_PX if target["small"] else LEAST_ANSWER_PX
            assert target["height"] >= least, target
    for text in met["texts"]:
        assert text["contrast"] >= LEAST_CONTRAST, text
        assert text["size"] >= LEAST_TEXT_PX, text
    presses = sorted((one for one in met["targets"] if one["tag"] in ("button", "input")), key=lambda one: one["top"])
    for above, below in itertools.pairwise(presses):
        assert below["top"] - (above["top"] + above["height"]) >= LEAST_BETWEEN_PX, (above, below)


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
    """Nothing depends on a script, and none is sent."""
    context = chromium.new_context(java_script_enabled=False)
    page = context.new_page()
    begin(page, served[0], "plain", LINES[0])
    assert page.locator("script").count() == 0
    assert page.locator("ol.said li").count() == 2
    context.close()
