"""What happens to a car between readings, told as a mechanic tells it: equal to every set of faults counted out.

Each story runs on two cylinders and, where it needs more, on four; the counting looks at parts and moments only, not at
the tables of the belief (``tests/naive/brute_belief.py``).
"""

from __future__ import annotations

import pytest

from knowngood.belief.exact import ExactBelief
from knowngood.car import Car, Place
from knowngood.evidence import Reading, Work
from knowngood.library.records import Act, Ladder, Library, Part, ReadingKind
from tests.naive.brute_belief import BruteBelief
from tests.unit.belief.tiny import ONE, TWO, after, chance, fault, library, word

THREE = Place("cylinder", "3")
SHAKES = Reading(kind="shakes", word="yes")
SMOOTH = Reading(kind="shakes", word="no")


def miss(place: Place, said: str = "yes") -> Reading:
    """One cylinder misses, or does not."""
    return Reading(kind="miss", place=place, word=said)


def swap(a: Place, b: Place, effect: str = "", at: Place | None = None) -> Work:
    """Two coils change places."""
    return Work(do="swapped", part="coil", places=(a,), to=b, effect=effect, effect_at=at)


def new_coil(place: Place, effect: str = "") -> Work:
    """A new coil in one place."""
    return Work(do="replaced", part="coil", places=(place,), effect=effect)


def small() -> Library:
    """Coils die, plugs wear, fuel is low for all; a miss is seen at one cylinder, shaking on the whole."""
    burn = Ladder(id="burn", name="burn", place="cylinder", levels=("steady", "poor", "dead"))
    rough = Ladder(
        id="rough", name="rough", place="engine", levels=("smooth", "shaking"),
        inputs={"burn": {"poor": "shaking", "dead": "shaking"}},
    )  # fmt: skip
    bench = ReadingKind(
        id="coil_bench", name="coil bench", place="cylinder", source="memory", levels=("good", "dead"),
        direct={"coil_dead": "dead"}, words=("good", "dead"),
        chance={"good": {"good": 0.97, "dead": 0.03}, "dead": {"good": 0.05, "dead": 0.95}},
    )  # fmt: skip
    return library(
        [burn, rough],
        [
            fault("coil_dead", 60.0, part="coil", place="cylinder", acts=[Act(on="burn", level="dead")]),
            fault("plug_worn", 200.0, part="plug", place="cylinder", acts=[Act(on="burn", level="poor")]),
            fault("fuel_low", 30.0, part="pump", acts=[Act(on="burn", level="poor")]),
        ],
        [
            word("shakes", "rough", {"smooth": 0.05, "shaking": 0.9}, complaint=True),
            word("miss", "burn", {"steady": 0.01, "poor": 0.6, "dead": 0.95}, place="cylinder"),
            bench,
        ],
        parts=[Part(id="coil", name="coil", price=40.0, source="memory", swaps=True, new_bad_per_1000=15.0)],
    )


def told(*bodies: Reading | Work, cylinders: int = 2) -> ExactBelief:
    """The belief after a story, held against counting out."""
    belief = after(small(), *bodies, car=Car(cylinders=cylinders, form="inline"))
    assert belief.exact
    assert belief.chances() == pytest.approx(BruteBelief(belief).chances(belief.faults), abs=1e-12)
    return belief


def test_the_miss_moved_with_the_coil() -> None:
    """The coil that came from 1 is bad, and the plug of 1 is cleared."""
    before, belief = told(miss(ONE)), told(miss(ONE), swap(ONE, TWO, "moved", TWO))
    assert chance(belief, "coil_dead", TWO) > 0.8
    assert chance(belief, "plug_worn", ONE) < chance(before, "plug_worn", ONE)


def test_the_miss_stayed() -> None:
    """The coil that came from 1 is less suspect, the plug of 1 more."""
    before, belief = told(miss(ONE)), told(miss(ONE), swap(ONE, TWO, "stayed", ONE))
    assert chance(belief, "coil_dead", TWO) < 0.5 * chance(before, "coil_dead", ONE)
    assert chance(belief, "plug_worn", ONE) > chance(before, "plug_worn", ONE)


def test_swapped_twice() -> None:
    """Moved along and back again: the same coil, at home again; the same words of the same parts count once."""
    once = told(miss(ONE), swap(ONE, TWO, "moved", TWO))
    twice = told(miss(ONE), swap(ONE, TWO, "moved", TWO), swap(ONE, TWO, "moved", ONE))
    assert chance(twice, "coil_dead", ONE) == pytest.approx(chance(once, "coil_dead", TWO), abs=1e-12)
    assert chance(twice, "coil_dead", TWO) < 0.01
    silent = told(miss(ONE), swap(ONE, TWO), swap(ONE, TWO))
    assert silent.chances() == pytest.approx(told(miss(ONE)).chances(), abs=1e-12)


def test_replaced_all_no_change() -> None:
    """Both coils new and it still shakes: new coils are as good as new ones are, the rest is more suspect."""
    new = Work(do="replaced", part="coil", places=(ONE, TWO), effect="no change")
    before, belief = told(SHAKES), told(SHAKES, new)
    assert all(0.015 < chance(belief, "coil_dead", place) < 0.05 for place in (ONE, TWO))
    for name, place in (("plug_worn", ONE), ("plug_worn", TWO)):
        assert chance(belief, name, place) > chance(before, name, place)


def test_good_for_a_week_then_back() -> None:
    """A new coil, smooth for a while, then a miss again: the new coil is suspect once more, and what stayed, too."""
    cured = (SHAKES, miss(ONE), new_coil(ONE), SMOOTH, miss(ONE, "no"))
    week, back = told(*cured), told(*cured, SHAKES, miss(ONE))
    assert chance(week, "coil_dead", ONE) < 0.002
    assert chance(back, "coil_dead", ONE) > chance(week, "coil_dead", ONE)
    assert chance(back, "plug_worn", ONE) > chance(week, "plug_worn", ONE)


@pytest.mark.parametrize(("found", "sign"), [("good", 1.0), ("dead", -1.0)])
def test_bench_test_of_a_removed_part_still_moves_the_rest(found: str, sign: float) -> None:
    """The old coil, tested after it came out, stands at the moment it was in: good on the bench accuses the plug."""
    bench = Reading(kind="coil_bench", place=ONE, word=found)
    silent, belief = told(miss(ONE), new_coil(ONE)), told(miss(ONE), bench, new_coil(ONE))
    assert sign * (chance(belief, "plug_worn", ONE) - chance(silent, "plug_worn", ONE)) > 0.02
    assert chance(belief, "coil_dead", ONE) == pytest.approx(0.015, abs=1e-9)


def test_three_coils_change_places() -> None:
    """Round from 1 to 2, 2 to 3, 3 to 1, and the miss came along to 2: the coil that was on 1."""
    belief = told(miss(ONE), swap(ONE, TWO), swap(ONE, THREE), miss(TWO), miss(ONE, "no"), cylinders=3)
    assert chance(belief, "coil_dead", TWO) > 0.7
    assert max(chance(belief, "coil_dead", place) for place in (ONE, THREE)) < 0.1


def test_a_story_on_four_cylinders() -> None:
    """A swap that says nothing, a new coil that does not help, a swap that tells."""
    belief = told(
        SHAKES,
        swap(ONE, THREE),
        new_coil(TWO, "no change"),
        miss(THREE),
        swap(THREE, TWO, "stayed", THREE),
        cylinders=4,
    )
    assert chance(belief, "plug_worn", THREE) > 0.8
