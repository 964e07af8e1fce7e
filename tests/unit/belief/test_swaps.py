"""What a swap, a change that changed nothing and a cure say of the miss: the same as the readings they stand for."""

from __future__ import annotations

import pytest

from knowngood.belief.exact import ExactBelief
from knowngood.car import Car, Place
from knowngood.evidence import Reading, Work
from knowngood.library.records import Act, Ladder, Part
from tests.unit.belief.tiny import after, chance, fault, library, word

ONE, TWO = Place("cylinder", "1"), Place("cylinder", "2")
PAIR = Car(cylinders=2, form="inline")
LIBRARY = library(
    [
        Ladder(id="spark", name="spark", place="cylinder", combine="worst", levels=("good", "none")),
    ],
    [
        fault("coil", 20.0, part="coil", place="cylinder", acts=[Act(on="spark", level="none")]),
        fault("lead", 20.0, part="lead", place="cylinder", acts=[Act(on="spark", level="none")]),
    ],
    [word("miss", "spark", {"good": 0.02, "none": 0.95}, place="cylinder", complaint=True)],
    parts=[
        Part(id=name, name=name, price=40.0, source="memory", place="cylinder", swaps=True) for name in ("coil", "lead")
    ],
)


def miss(place: Place, word: str = "yes") -> Reading:
    """It misses there, or it does not."""
    return Reading(kind="miss", place=place, word=word)


def swapped(effect: str, at: Place | None = None) -> Work:
    """The coil of 1 into 2 and that of 2 into 1."""
    return Work(do="swapped", part="coil", places=(ONE,), to=TWO, effect=effect, effect_at=at)


def told(*bodies: Reading | Work) -> ExactBelief:
    """The belief of a car with two cylinders."""
    return after(LIBRARY, *bodies, car=PAIR)


def all_chances(belief: ExactBelief) -> list[float]:
    """Every fault at every place."""
    return [float(one) for one in belief.chances()]


def test_moved_says_where_it_was_and_where_it_is() -> None:
    """Moved with the coil: missing at 1 and not at 2 before, at 2 and not at 1 after. The coil, now in 2, is dead."""
    short = told(swapped("moved"))
    long = told(miss(ONE), miss(TWO, "no"), swapped(""), miss(TWO), miss(ONE, "no"))
    assert all_chances(short) == pytest.approx(all_chances(long))
    assert chance(short, "coil", TWO) > 0.95
    assert chance(short, "lead", ONE) < 0.05


def test_moved_with_its_place_says_the_same() -> None:
    """Where it misses now may be said, too."""
    assert all_chances(told(swapped("moved", TWO))) == pytest.approx(all_chances(told(swapped("moved"))))


def test_stayed_clears_the_coil() -> None:
    """Missing at 1 before and after another coil is in it, and not at 2 with the coil of 1: what stays behind is it."""
    short = told(swapped("stayed", ONE))
    long = told(miss(ONE), swapped(""), miss(ONE), miss(TWO, "no"))
    assert all_chances(short) == pytest.approx(all_chances(long))
    assert chance(short, "lead", ONE) > 0.9
    assert chance(short, "coil", TWO) < chance(told(miss(ONE), swapped(""), miss(ONE)), "coil", TWO) / 10


def test_swap_typed_the_other_way_round() -> None:
    """It missed at 2, and the coils were swapped, "moved 1>2, now at 2" cannot be: it moved away, to 1."""
    turned = told(miss(TWO), miss(ONE, "no"), swapped("moved", TWO))
    assert chance(turned, "coil", ONE) > 0.9
    assert chance(turned, "coil", TWO) < 0.05


@pytest.mark.parametrize(("effect", "word"), [("stayed", "yes"), ("cured", "no")])
def test_work_answers_each_complaint_again(effect: str, word: str) -> None:
    """No change is the complaint once more; cured is the complaint gone."""
    replaced = Work(do="replaced", part="coil", places=(ONE,), effect=effect)
    long = Work(do="replaced", part="coil", places=(ONE,))
    assert all_chances(told(miss(ONE), replaced)) == pytest.approx(all_chances(told(miss(ONE), long, miss(ONE, word))))


def test_place_the_engine_does_not_have_says_nothing() -> None:
    """The line asked about it already."""
    assert all_chances(told(miss(Place("cylinder", "7")))) == pytest.approx(all_chances(told()))
