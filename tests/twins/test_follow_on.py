"""A fault that was seen for sure raises what it brings about, and what may have brought it about."""

from __future__ import annotations

import msgspec
import numpy as np
import pytest

from knowngood.belief.exact import ExactBelief
from knowngood.belief.follow_on import BROUGHT_ABOUT, MOST_OF_COUNT, stem_of
from knowngood.belief.timeline import Instance
from knowngood.car import ENGINE, Car
from knowngood.evidence import Finding, Reading, Work
from knowngood.library.records import Act, Ladder, Library, Part
from tests.naive.agrum_belief import by_nodes
from tests.naive.brute_belief import BruteBelief
from tests.unit.belief.tiny import ONE, TWO, after, chance, fault, library, word

MISS = Reading(kind="miss", place=ONE, word="yes")
COIL_SEEN = Finding(fault="coil_dead", place=ONE)
DRIVER_SEEN = Finding(fault="driver_dead", place=ENGINE)


def small() -> Library:
    """A worn plug kills its coil in time, a dead coil the driver in the computer."""
    burn = Ladder(id="burn", name="burn", place="cylinder", levels=("steady", "poor", "dead"))
    faults = {
        "plug_worn": fault("plug_worn", 200.0, part="plug", place="cylinder", acts=[Act(on="burn", level="poor")]),
        "coil_dead": fault("coil_dead", 60.0, part="coil", place="cylinder", acts=[Act(on="burn", level="dead")]),
        "driver_dead": fault("driver_dead", 10.0, part="computer", acts=[Act(on="burn", level="dead")]),
    }
    for cause, follow_on in (("plug_worn", "coil_dead"), ("coil_dead", "driver_dead")):
        faults[cause] = msgspec.structs.replace(faults[cause], leads_to=(follow_on,))
    return library(
        [burn],
        faults.values(),
        [word("miss", "burn", {"steady": 0.01, "poor": 0.6, "dead": 0.95}, place="cylinder")],
        parts=[Part(id="coil", name="coil", price=40.0, source="memory", swaps=True, new_bad_per_1000=15.0)],
    )


def told(*bodies: Reading | Work | Finding, cylinders: int = 2) -> ExactBelief:
    """The belief after these, held against counting out and against a general-purpose library."""
    belief = after(small(), *bodies, car=Car(cylinders=cylinders, form="inline"))
    assert belief.chances() == pytest.approx(BruteBelief(belief).chances(belief.faults), abs=1e-12)
    assert belief.chances() == pytest.approx(by_nodes(belief).chances(belief.faults), abs=1e-9)
    return belief


@pytest.mark.parametrize("cylinders", [1, 2, 4])
def test_what_was_seen_raises_both_ways(cylinders: int) -> None:
    """A dead coil that was seen: the driver it may have killed, and the plug that may have killed it."""
    belief = told(COIL_SEEN, cylinders=cylinders)
    assert chance(belief, "driver_dead") > 2.0 * 0.010
    assert chance(belief, "plug_worn", ONE) > 1.3 * 0.200
    if cylinders > 1:
        assert chance(belief, "plug_worn", TWO) == pytest.approx(0.200, abs=1e-9)


def test_a_dead_driver_asks_which_coil() -> None:
    """Both coils are raised, and the one of the cylinder that was seen to miss no less than the other."""
    belief = told(DRIVER_SEEN)
    assert chance(belief, "coil_dead", ONE) == pytest.approx(chance(belief, "coil_dead", TWO), abs=1e-12)
    assert chance(belief, "coil_dead", ONE) > 2.0 * 0.060


def test_looked_for_and_not_seen_lowers() -> None:
    """A coil that was looked at and found good cannot have killed the driver."""
    belief = told(Finding(fault="coil_dead", place=ONE, seen=False), MISS)
    assert chance(belief, "driver_dead") < chance(told(MISS), "driver_dead")


def test_before_any_reading_every_chance_is_its_count() -> None:
    """The count holds the cars in which another fault brought it about: linked, nothing moves yet."""
    belief = told(COIL_SEEN, MISS)
    before = dict(zip(belief.faults, belief.chances_by_entry([0, 1])[0], strict=True))
    assert before == pytest.approx({at: belief.model.priors[at] for at in belief.faults}, abs=1e-12)


def test_a_new_part_has_had_no_time() -> None:
    """A new coil found dead killed nothing yet, and no worn plug killed it."""
    new = Work(do="replaced", part="coil", places=(ONE,))
    belief = told(new, COIL_SEEN)
    assert chance(belief, "driver_dead") == pytest.approx(0.010, abs=1e-9)
    assert chance(belief, "plug_worn", ONE) == pytest.approx(0.200, abs=1e-9)


@pytest.mark.parametrize(("count", "cause"), [(0.05, 0.10), (0.01, 0.40), (0.9, 0.001)])
def test_causes_explain_part_of_the_count(count: float, cause: float) -> None:
    """By hand: by itself or brought about, in all the count; causes explain no more than nine tenths of it."""
    causes = {Instance("a", ONE): cause, Instance("b", TWO): cause / 2}
    stem = stem_of(count, causes)
    spared = np.prod([1.0 - share * causes[parent] for parent, share in stem.parents])
    assert 1.0 - (1.0 - stem.base) * spared == pytest.approx(count, abs=1e-12)
    assert 1.0 - spared <= MOST_OF_COUNT * count + 1e-12
    assert all(0.0 < share <= BROUGHT_ABOUT for _, share in stem.parents)
