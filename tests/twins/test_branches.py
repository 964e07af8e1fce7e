"""Faults of branches: the chances are those of every set of faults and the table of what hangs on what."""

from __future__ import annotations

import numpy as np
import pytest
from msgspec.structs import replace

from knowngood.belief.assemble import believe
from knowngood.belief.exact import ExactBelief
from knowngood.belief.protocol import Ask
from knowngood.car import Place
from knowngood.library.branch_records import Branch
from knowngood.library.own_branches import library_of
from tests.naive.brute_belief import BruteBelief
from tests.naive.small_car import small_car
from tests.naive.wired_car import TableBelief, Wired, wired_entries, wired_library

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


def told_over(wired: Wired, feeds: tuple[str, ...]) -> tuple[Branch, ...]:
    """The table with a fuse that was told to feed some consumers, by the words of it."""
    fuses = [one for one in wired.branches if one.kind == "fuse" and set(one.feeds) & set(feeds)]
    place = next((one.id for one in fuses if one.place == "engine"), "")
    table = []
    for one in wired.branches:
        left = tuple(feed for feed in one.feeds if feed not in feeds) if one in fuses else one.feeds
        table.append(replace(one, feeds=feeds if one.id == place else left))
    own = Branch(id="fuse_9", name="fuse 9", kind="fuse", source="memory", feeds=feeds)
    return tuple(table) if place else (*table, own)


@pytest.mark.parametrize("seed", range(80, 100))
def test_branches_of_the_car_itself(seed: int) -> None:
    """A fuse the car's diagram names takes the place of the usual one, or stands beside what is there."""
    rng = np.random.default_rng(seed)
    car, layout = small_car(int(rng.integers(1, 5)))
    wired = wired_library(rng, 2)
    feeds = tuple(str(name) for name in rng.permutation(["one", "two", "three", "four"])[:2])
    own = library_of(wired.library, replace(car, branches={"fuse 9": feeds}))
    table = Wired(own, told_over(wired, feeds), wired.written)
    entries = wired_entries(rng, table, layout, 6)
    belief = believe(own, car, layout, entries)
    assert len(belief.faults) <= MOST_FAULTS + 2
    assert belief.chances() == pytest.approx(TableBelief(table, layout, belief.faults, entries).chances(), abs=1e-9)


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
