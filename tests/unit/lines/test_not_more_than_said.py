"""Lines of which more was once heard than they say."""

from __future__ import annotations

import pytest

from knowngood.car import Car
from knowngood.library import load
from knowngood.lines import read_line
from tests.unit.lines.said import text_of

SIX = Car(cylinders=6)


def said(line: str) -> list[str]:
    """The entries of a line."""
    return [text_of(body) for body in read_line(line, SIX, load()).bodies]


@pytest.mark.parametrize("line", ["battery is new", "plugs are new", "coil 3 seems new but misfires"])
def test_new_is_no_judgement(line: str) -> None:
    """A new part is a part that was renewed; nothing was measured."""
    assert all(text.startswith("replaced") for text in said(line))


@pytest.mark.parametrize(("line", "word"), [("about 8.5v at coil 3", "low"), ("~5v at injector 2", "low")])
def test_rough_voltage_is_a_voltage(line: str, word: str) -> None:
    """ "About" in front of it makes it no battery voltage."""
    (entry,) = said(line)
    assert f" {word}" in entry


@pytest.mark.parametrize(
    "line",
    [
        "boost 1.2 bar should be 0.9",
        "boost is back to 0.2 bar",
        "spark test r1-3: good",
        "2.5 grand",
    ],
)
def test_kept_as_a_note(line: str) -> None:
    """What is not sure counts for nothing, and raises nothing."""
    assert all(text.startswith("note") for text in said(line))


@pytest.mark.parametrize(
    ("line", "word"), [("boost 0.4 wants 0.9", "short"), ("boost peaks 0.85 bar, should be 0.9 bar", "reached")]
)
def test_boost_is_set_against_what_is_wanted(line: str, word: str) -> None:
    """Under four fifths of it is short."""
    (entry,) = said(line)
    assert word in entry


def test_numbers_and_parts_stay_what_they_are() -> None:
    """Tenths of thousands, oil with coolant in it, a reading nobody trusts."""
    assert said("idles at 2.5 grand") == ["idle_speed 2500 rpm"]
    assert "refilled" not in " ".join(said("new coolant in the oil"))
    assert said("comp 3 90 psi but i dont trust it") == ["compression c3 620.528 psi"]


@pytest.mark.parametrize(
    "line",
    ["it stood" + " under cover dry" * 35, "shakes: no" + ", misfires: no" * 14 + " tail"],
    ids=["where", "shown"],
)
def test_long_lines_are_read_at_all(line: str) -> None:
    """Each took twice as long for every word more."""
    assert said(line)
