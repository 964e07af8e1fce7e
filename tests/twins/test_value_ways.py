"""Values on their way to an instrument: the chances are those of every set of faults, followed step by step."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.belief.assemble import believe
from knowngood.car import ENGINE
from knowngood.evidence import Reading
from tests.in_turn import in_turn
from tests.naive import value_way
from tests.naive.brute_belief import BruteBelief
from tests.naive.small_car import small_car


@pytest.mark.parametrize("seed", range(40))
def test_chances_are_those_of_the_value_followed(seed: int) -> None:
    """Two to five steps in a row or branching off, faults of the truth and of any step, readings anywhere."""
    rng = np.random.default_rng(seed)
    library = value_way.way_library(rng, int(rng.integers(2, 6)), int(rng.integers(3, 9)))
    car, layout = small_car(1)
    entries = value_way.way_entries(rng, library, int(rng.integers(1, 7)))
    belief = believe(library, car, layout, entries)
    naive = value_way.chances(library, belief.faults, entries)
    assert belief.chances() == pytest.approx(naive, abs=1e-9)
    assert naive == pytest.approx(BruteBelief(belief).chances(belief.faults), abs=1e-9)


@pytest.mark.parametrize("seed", range(20))
def test_two_readings_that_disagree_accuse_what_lies_between(seed: int) -> None:
    """Usual at one step and gone at a later one: a fault at or before the first falls, one between rises."""
    rng = np.random.default_rng(seed)
    library = value_way.way_library(rng, 3, 0)
    way = library.ways["value"]
    in_a_row = tuple(value_way.Step(id=step.id, name=step.name) for step in way.steps)
    library = value_way.with_a_fault_each(library, in_a_row, rng)
    car, layout = small_car(1)
    first, last = sorted(rng.permutation(3)[:2])
    said = [Reading(kind=f"at_s{first}", place=ENGINE, word="a"), Reading(kind=f"at_s{last}", place=ENGINE, word="b")]
    before, then = believe(library, car, layout, []), believe(library, car, layout, in_turn(said))
    for at, was, now in zip(before.faults, before.chances(), then.chances(), strict=True):
        step = -1 if at.fault == "of_truth" else int(at.fault.removeprefix("of_s"))
        if step <= first:
            assert now < was, at
        elif step <= last:
            assert now > was, at
        else:
            assert now == pytest.approx(was), at
