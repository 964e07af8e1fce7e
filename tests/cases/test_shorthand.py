"""Lines as typed beside the car: a floor under how many are understood whole, and what may not count."""

from __future__ import annotations

import pytest

from knowngood.car import Car, Place
from knowngood.evidence import Note, Reading, Value
from knowngood.library import load
from knowngood.lines import read_line
from knowngood.proving.shorthand import GOAL, figures_of_shorthand, heard, missed, shorthand_figure

FLOOR = 60
"""Of 60, as reached."""


def test_as_many_lines_are_understood_as_were_before() -> None:
    """The lines that are not are shown."""
    understood, n = shorthand_figure(load())
    assert n == 60
    assert understood >= FLOOR, [line for line in heard(load()) if line.missed]


def test_figure_has_its_goal() -> None:
    """The share, its count and the goal go into the figures."""
    figure = figures_of_shorthand(load())["cases.shorthand_seen"]
    assert (figure.n, figure.goal) == (60, GOAL)
    assert figure.value == pytest.approx(shorthand_figure(load())[0] / 60, abs=1e-4)


COMP = {
    "numbers": [100, 90],
    "unit": "psi",
    "places": ["cylinder 1", "cylinder 2"],
    "about": "compression",
}
PSI_KPA = 6.894757293168361
"""NIST Special Publication 811, appendix B.8: 1 psi = 6.894757 kPa."""


def _compression(cylinder: str, psi: float) -> Reading:
    return Reading(kind="compression", place=Place("cylinder", cylinder), value=Value(psi * PSI_KPA, unit="psi"))


def test_numbers_count_only_at_their_places() -> None:
    """Turned round, left out, added at another cylinder or in a note, they do not count."""
    right = [_compression("1", 100), _compression("2", 90)]
    assert missed(COMP, right, load()) == ()
    assert "numbers" in missed(COMP, [_compression("1", 90), _compression("2", 100)], load())
    assert "numbers" in missed(COMP, right[:1], load())
    assert "numbers" in missed(COMP, [*right, _compression("3", 90)], load())
    assert missed(COMP, [Note("comp 100 90 psi")], load()) == ("numbers", "places", "about")


def test_other_unit_does_not_count() -> None:
    """A number read in another unit than the typed one is another number."""
    assert "numbers" in missed({**COMP, "unit": "kPa"}, [_compression("1", 100), _compression("2", 90)], load())


def test_word_outside_the_table_is_refused() -> None:
    """A plain word nobody gave a meaning cannot be found by chance."""
    bodies = read_line("comp 175 170 168 172", Car(cylinders=4), load()).bodies
    with pytest.raises(KeyError):
        missed({"about": "a word of no meaning"}, bodies, load())
