"""What feeds what, and how strongly a fault acts: by places of an engine of two banks, worked out by hand."""

from __future__ import annotations

import pytest

from knowngood.belief.acting import Acting, Regime, level_map
from knowngood.car import ENGINE, Car, Place, layout_of
from knowngood.library.records import Act, Ladder
from tests.unit.belief.tiny import fault, library

SPARK = Ladder(id="spark", name="spark", place="cylinder", levels=("good", "weak", "none"))
BURN = Ladder(
    id="burn",
    name="burn",
    place="cylinder",
    levels=("steady", "poor", "dead"),
    inputs={"spark": {"weak": "poor", "none": "dead"}},
)
MIXTURE = Ladder(id="mixture", name="mixture", place="bank", combine="sum", low=-2, high=2)
SIX = layout_of(Car(cylinders=6, form="v"))


def cylinder(number: int) -> Place:
    return Place("cylinder", str(number))


def acting(*faults: object) -> Acting:
    return Acting(library([SPARK, BURN, MIXTURE], faults), SIX)  # type: ignore[arg-type]


def test_sources_of_a_place_are_those_that_reach_it() -> None:
    """All cylinders reach the engine, its own a bank; a cylinder is reached by itself, its bank and the engine."""
    known = acting()
    assert known.sources("cylinder", ENGINE) == tuple(map(cylinder, SIX.numbers()))
    for index, bank in enumerate(SIX.banks, start=1):
        at = Place("bank", str(index))
        assert known.sources("cylinder", at) == tuple(cylinder(number) for number in SIX.numbers() if number in bank)
        assert known.sources("bank", at) == (at,)
        for number in bank:
            assert known.sources("bank", cylinder(number)) == (at,)
    assert known.sources("cylinder", cylinder(2)) == (cylinder(2),)
    assert known.sources("engine", cylinder(2)) == (ENGINE,)


def test_pair_is_reached_by_its_two() -> None:
    """Neighbours, and companions that share a coil."""
    known = acting()
    for kind, pairs in (("pair", SIX.pairs()), ("companions", SIX.companions())):
        for a, b in pairs:
            assert set(known.sources("cylinder", Place(kind, f"{a}-{b}"))) == {cylinder(a), cylinder(b)}


@pytest.mark.parametrize(
    ("name", "modifiers", "act", "admitted"),
    [
        ("idle", (), Act(on="spark", level="none"), True),
        ("idle", (), Act(on="spark", level="none", when=("pull",)), False),
        ("pull", (), Act(on="spark", level="none", when=("pull",)), True),
        ("any", (), Act(on="spark", level="none", when=("pull",)), True),
        ("idle", (), Act(on="spark", level="none", only=("wet",)), False),
        ("idle", ("wet",), Act(on="spark", level="none", only=("wet",)), True),
        ("idle", ("wet",), Act(on="spark", level="none"), True),
    ],
)
def test_a_fault_acts_where_its_conditions_hold(
    name: str, modifiers: tuple[str, ...], act: Act, admitted: bool
) -> None:
    """A regime that is not its own hides it; "any" shows every one; a modifier it needs must be there."""
    assert Regime(name, frozenset(modifiers)).admits(act) is admitted


def test_strongest_act_counts() -> None:
    """Of two acts of one fault on one ladder, whichever order they stand in; to either side of a sum."""
    for acts in (("weak", "none"), ("none", "weak")):
        known = acting(fault("coil", 10, place="cylinder", acts=[Act(on="spark", level=level) for level in acts]))
        assert [one.size for one in known.strengths("spark", Regime("idle"))] == [2]
    for shifts in ((1, -2), (-2, 1)):
        known = acting(fault("leak", 10, acts=[Act(on="mixture", shift=shift) for shift in shifts]))
        assert [one.size for one in known.strengths("mixture", Regime("idle"))] == [-2]


def test_grades_that_do_the_same_are_one() -> None:
    """Mild and severe that both end the spark are one fault; where they differ, each is told."""
    same = fault(
        "coil", 10, place="cylinder", acts=[Act(on="spark", level="none")], grades={"mild": 0.7, "severe": 0.3}
    )
    apart = fault(
        "coil",
        10,
        place="cylinder",
        acts=[Act(on="spark", level="weak", grade="mild"), Act(on="spark", level="none", grade="severe")],
        grades={"mild": 0.7, "severe": 0.3},
    )
    assert [(one.grade, one.size) for one in acting(same).strengths("spark", Regime())] == [("", 2)]
    assert [(one.grade, one.size) for one in acting(apart).strengths("spark", Regime())] == [
        ("mild", 1),
        ("severe", 2),
    ]


def test_what_one_ladder_hands_on() -> None:
    """By level where the worst wins, by step where shifts add; what is not named hands on nothing."""
    assert level_map(SPARK, BURN, {"weak": "poor", "none": "dead"}) == (0, 1, 2)
    assert level_map(SPARK, BURN, {"none": "poor"}) == (0, 0, 1)
    assert level_map(MIXTURE, BURN, {"-2..-1": "poor", "2..2": "dead"}) == (1, 1, 0, 0, 2)
    assert acting().through("spark", "burn") == (0, 1, 2)
