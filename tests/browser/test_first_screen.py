"""What a phone shows before anything is moved: the step, its first caution, and an answer within reach."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from knowngood.jobs.photos import MOST_BYTES
from tests.browser.hand import begin, contents, open_step, worked_out

pytestmark = pytest.mark.browser

Opened = Callable[[str], Any]
LINES = ("4 cylinders inline, coil on plug", "shakes at cold idle", "P0302 stored", "engine bay seen dirty")


def folded(page: Any) -> bool:
    return page.locator(".next .caution details").count() > 0


def lines_of(page: Any, what: str) -> int:
    """Lines that the first such paragraph takes."""
    size = "one => one.getBoundingClientRect().height / parseFloat(getComputedStyle(one).lineHeight)"
    return round(page.locator(what).first.evaluate(size))


def test_answer_is_in_sight_beside_long_cautions(opened: Opened, served: tuple[str, Path]) -> None:
    """The first caution is whole, the rest one tap away, and the first answer is over the line's bar.

    Of a step whose tools and covers take two lines; where they take three below a title of three, it is a swipe away.
    """
    page = opened("phone")
    begin(page, served[0], "careful", *LINES)
    worked_out(page)
    open_step(page, str(page.url).split("?")[0], lambda page: folded(page) and lines_of(page, ".next .price") < 3)
    caution = page.locator(".next .caution")
    assert caution.locator("> p").is_visible()
    more = caution.locator("details > p").first
    assert not more.is_visible()
    answer = page.locator(".next .answer, .next .answers button").first.bounding_box()
    bar = page.locator(".bar").bounding_box()
    assert answer["y"] + answer["height"] <= bar["y"]
    caution.locator("summary").click()
    assert more.is_visible()


def test_no_caution_is_folded_where_readings_are_entered(opened: Opened, served: tuple[str, Path]) -> None:
    """Nor is anything that was left undone, which stands before the step."""
    page = opened("phone")
    begin(page, served[0], "all of them", *LINES, "left the fuel line off")
    worked_out(page)
    assert page.locator(".undone").first.is_visible()
    page.goto(f"{str(page.url).split('?')[0]}/check/compression_row")
    cautions = page.locator(".caution > p")
    assert cautions.count() > 1
    assert all(one.is_visible() for one in cautions.all())


def test_photo_that_is_too_large_is_said_before_it_is_sent(
    opened: Opened, served: tuple[str, Path], tmp_path: Path
) -> None:
    """In words beside the field; what it shows stays typed, and a smaller one is then taken."""
    large, small = tmp_path / "large.jpg", tmp_path / "small.jpg"
    large.write_bytes(b"\xff" * (MOST_BYTES + 10_000))
    small.write_bytes(b"\xff" * 1000)
    page = opened("phone")
    begin(page, served[0], "photos", "P0302 stored")
    contents(page, "Journal", "Journal")
    page.get_by_text("Add a photo").click()
    page.get_by_label("What it shows").fill("nest on the manifold")
    page.get_by_label("The photo").set_input_files(large)
    page.get_by_role("button", name="Save the photo").click()
    said = page.locator("form .problem")
    assert said.inner_text() == "The photo has 20.1 MB; 20 MB are the most. Take it smaller."
    assert page.get_by_label("What it shows").input_value() == "nest on the manifold"
    page.get_by_label("The photo").set_input_files(small)
    with page.expect_navigation():
        page.get_by_role("button", name="Save the photo").click()
    contents(page, "Journal", "Journal")
    assert "nest on the manifold" in page.locator("ol.said").inner_text()


def test_server_refuses_too_large_a_photo_by_itself(opened: Opened, served: tuple[str, Path]) -> None:
    """A form that says nothing beforehand is answered in words, not with a broken connection."""
    page = opened("phone")
    begin(page, served[0], "sent by force", "P0302 stored")
    car = str(page.url).split("?")[0]
    sent = page.evaluate(
        """async ([path, bytes]) => {
            const form = new FormData();
            form.append("photo", new Blob([new Uint8Array(bytes)]), "large.jpg");
            const answer = await fetch(path, { method: "POST", body: form, headers: { Accept: "text/html" } });
            return [answer.status, await answer.text()];
        }""",
        [f"{car}/photo", MOST_BYTES + 1_000_000],
    )
    assert sent[0] == 413
    assert "The photo is too large. Take it smaller." in sent[1]
