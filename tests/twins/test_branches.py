"""Faults of branches: the chances are those of every set of faults and the table of what hangs on what."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.belief.assemble import believe
from knowngood.belief.exact import ExactBelief
from knowngood.belief.protocol import Ask
from knowngood.car import Place
from tests.naive.brute_belief import BruteBelief
from tests.naive.small_car import small_car
from tests.naive.wired_car import TableBelief, wired_entries, wired_library

MOST_FAULTS = 12


def counted_out(seed: int) -> tuple[ExactBelief, TableBelief]:
    """A car with few enough faults to count out every set, on 1 to 6 cylinders, with six readings."""
    rng = np.random.default_rng(seed)
    car, layout = small_car(int(rng.integers(1, 7)))
    for count in range(int(rng.integers(2, 5)), 0, -1):
        wired = wired_library(rng, count)
        entries = wired_entries(rng, wired, layout, 6)
        belief = believe(wired.library, car, layout, entries)
        if len(belief.faults) <= MOST_FAULTS:
            return belief, TableBelief(wired, layout, belief.faults, entries)
    raise AssertionError(f"seed {seed}: not even one branch can be counted out")


@pytest.mark.parametrize("seed", range(40))
def test_chances_are_those_of_the_table(seed: int) -> None:
    """Fuses, relays, splices and grounds in any order, of the whole engine and of a bank."""
    belief, table = counted_out(seed)
    naive = table.chances()
    assert belief.chances() == pytest.approx(naive, abs=1e-9)
    assert naive == pytest.approx(BruteBelief(belief).chances(belief.faults), abs=1e-9)


def test_cars_counted_out_are_of_every_sort() -> None:
    """Among the 40 are three branches and more behind each other, and faults of one of two banks."""
    tables = [counted_out(seed)[1] for seed in range(40)]
    assert sum(len(table.by_id) >= 3 for table in tables) >= 15
    assert sum(at.place == Place("bank", "2") for table in tables for at in table.faults) >= 3


@pytest.mark.parametrize("seed", range(60, 66))
def test_outcomes_at_a_branch_are_the_beliefs_after_each(seed: int) -> None:
    """What a reading at a branch would show, and what is believed then, is what is believed when it is read."""
    rng = np.random.default_rng(seed)
    wired = wired_library(rng, 4)
    car, layout = small_car(2)
    belief = believe(wired.library, car, layout, wired_entries(rng, wired, layout, 3))
    kind = wired.library.readings["behind_b0"]
    ask = Ask(kind.id, belief.model.acting.ladder_places(kind.place)[0])
    chance, under = belief.outcome_chances(ask)
    assert chance.sum() == pytest.approx(1.0)
    for index, outcome in enumerate(belief.outcomes(ask)):
        assert under[index] == pytest.approx(belief.given(ask, outcome).chances(), abs=1e-9)
