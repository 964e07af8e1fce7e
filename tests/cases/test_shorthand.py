"""Lines as typed beside the car: a floor under how many are understood whole, and what may not count."""

from __future__ import annotations

import pytest

from knowngood.car import Place
from knowngood.evidence import CarFact, Note, Reading, Value
from knowngood.library import load
from knowngood.proving.blind import GOAL, facts, held_against
from knowngood.proving.shorthand import figures_of_shorthand, read_shorthand

FLOOR = 59
"""Of 60, as reached."""


def test_as_many_lines_are_understood_as_were_before() -> None:
    """The lines that are not are shown; the figure is their share, with its goal."""
    read = read_shorthand(load())
    understood = sum(line.understood for line in read)
    assert len(read) == 60
    assert understood >= FLOOR, [line for line in read if not line.understood]
    figure = figures_of_shorthand(load())["cases.shorthand_seen"]
    assert (figure.n, figure.goal, figure.value) == (60, GOAL, pytest.approx(understood / 60, abs=1e-4))


COMP = "compression @c1,2 =100,90 psi"
PSI_KPA = 6.894757293168361
"""NIST Special Publication 811, appendix B.8: 1 psi = 6.894757 kPa."""


def _compression(cylinder: str, psi: float, doubt: str = "") -> Reading:
    return Reading(
        kind="compression", place=Place("cylinder", cylinder), value=Value(psi * PSI_KPA, unit="psi"), doubt=doubt
    )


def test_numbers_count_only_at_their_places() -> None:
    """Turned round, left out, added at another cylinder or in a note, they do not count."""
    right, wanted = [_compression("1", 100), _compression("2", 90)], {"want": [COMP]}
    assert held_against(wanted, right, load()) == ([], [])
    assert held_against(wanted, [_compression("1", 90), _compression("2", 100)], load()) == (
        [COMP],
        ["compression"] * 2,
    )
    assert held_against(wanted, right[:1], load()) == ([COMP], [])
    assert held_against(wanted, [*right, _compression("3", 90)], load()) == ([], ["compression"])
    assert held_against(wanted, [Note("comp 100 90 psi")], load()) == ([COMP], [])


def test_other_unit_does_not_count() -> None:
    """A number read in another unit than the typed one is another number."""
    wanted = {"want": [COMP.replace("psi", "kPa")]}
    assert held_against(wanted, [_compression("1", 100), _compression("2", 90)], load())[0] == wanted["want"]


def test_what_is_doubtful_is_kept_and_does_not_count() -> None:
    """Counted it is one too many; not kept at all it is missing."""
    wanted = {"doubtful": ["compression @c1 =100 psi"]}
    assert held_against(wanted, [_compression("1", 100, doubt="which gauge?")], load()) == ([], [])
    assert held_against(wanted, [_compression("1", 100)], load()) == (wanted["doubtful"], ["compression"])
    assert held_against(wanted, [], load()) == (wanted["doubtful"], [])


def test_window_that_was_told_holds_its_ends_and_its_middle() -> None:
    """11 to 15 kohm by its ends; a bare 1.0 mm, kept as five in a hundred to either side, by its middle."""
    ends = CarFact("windows", '{"coil_secondary": {"low": 11000.0, "high": 15000.0}}')
    middle = CarFact("windows", '{"plug_gap": {"low": 0.95, "high": 1.05}}')
    assert held_against({"want": ["car.windows =11..15 kohm"]}, [ends], load()) == ([], [])
    assert held_against({"want": ["car.windows =1.0 mm"]}, [middle], load()) == ([], [])
    assert held_against({"want": ["car.windows =12..15 kohm"]}, [ends], load())[0]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("compression c1 180", "'compression c1 180' is no fact. Write it as: kind @place =number unit :word|or this"),
        ("compression @c1,2,3 =100,90 psi", "has 2 numbers for 3 places. Write one number a place."),
    ],
)
def test_fact_that_is_none_is_refused(text: str, said: str) -> None:
    """A slip in the file would be a fact that holds of any entry, or of none."""
    with pytest.raises(ValueError, match=r"is no fact|numbers for") as refused:
        facts(text)
    assert said in str(refused.value)
