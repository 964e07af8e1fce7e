"""The exact belief equals the enumeration of every set of faults, on small invented cars."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.belief.acting import Regime
from knowngood.belief.assemble import believe
from knowngood.belief.clues import outcome_table
from knowngood.belief.protocol import Ask
from knowngood.car import ENGINE, Place
from tests.naive.brute_belief import BruteBelief
from tests.naive.small_car import small_car, small_entries, small_library


@pytest.mark.parametrize("seed", range(40))
def test_chances_equal_enumeration(seed: int) -> None:
    """With several faults, signed mixture, unknown healthy levels, swaps, replacements and cleaning."""
    rng = np.random.default_rng(seed)
    cylinders = int(rng.integers(1, 3))
    library = small_library(rng, 2, 3)
    car, layout = small_car(cylinders)
    entries = small_entries(rng, library, layout, 6, int(rng.integers(0, 3)))
    belief = believe(library, car, layout, entries)
    brute = BruteBelief(belief)
    assert belief.chances() == pytest.approx(brute.chances(belief.faults), abs=1e-9)


@pytest.mark.parametrize("seed", range(100, 108))
def test_draws_follow_the_chances(seed: int) -> None:
    """Drawn fault sets show each fault, and each pair of faults, as often as the enumeration says."""
    rng = np.random.default_rng(seed)
    library = small_library(rng, 2, 3)
    car, layout = small_car(2)
    belief = believe(library, car, layout, small_entries(rng, library, layout, 5, 1))
    drawn = belief.scenarios(40_000, rng)
    assert drawn.weight.sum() == pytest.approx(1.0)
    brute = BruteBelief(belief)
    assert drawn.present.mean(axis=0) == pytest.approx(brute.chances(belief.faults), abs=0.015)
    first, second = belief.faults[0], belief.faults[-1]
    both = brute.chance_of_both(belief.instance_now(first), belief.instance_now(second))
    assert (drawn.present[:, 0] & drawn.present[:, -1]).mean() == pytest.approx(both, abs=0.015)


@pytest.mark.parametrize("seed", range(200, 212))
def test_likelihood_of_fault_sets_is_that_of_the_ladders(seed: int) -> None:
    """Working out many fault sets at once gives the levels that one set worked out step by step gives."""
    rng = np.random.default_rng(seed)
    library = small_library(rng, 2, 3)
    car, layout = small_car(int(rng.integers(1, 5)))
    belief = believe(library, car, layout, [])
    present = rng.random((30, len(belief.faults))) < 0.4
    for kind in library.readings.values():
        ladder = belief.model.ladders.of(kind)
        place = {"engine": ENGINE, "bank": Place("bank", "1")}.get(ladder.place, Place("cylinder", "1"))
        ask = Ask(kind.id, place, "cold idle")
        table = outcome_table(kind, ladder)
        like = belief.likelihood(ask, present)
        assert like.sum(axis=0) == pytest.approx(1.0)
        for row in range(0, 30, 6):
            chosen = frozenset(
                belief.instance_now(at) for at, there in zip(belief.faults, present[row], strict=True) if there
            )
            level = BruteBelief.level_of(belief, ladder.id, place, Regime("cold idle"), 0, chosen)
            assert like[:, row] == pytest.approx(table[level])


@pytest.mark.parametrize("seed", range(300, 306))
def test_outcome_chances_average_to_the_present(seed: int) -> None:
    """What is expected after a check is what is believed before it."""
    rng = np.random.default_rng(seed)
    library = small_library(rng, 2, 3)
    car, layout = small_car(3)
    belief = believe(library, car, layout, small_entries(rng, library, layout, 4, 1))
    for kind in library.readings.values():
        place = {"engine": ENGINE, "bank": Place("bank", "1")}.get(kind.place, Place("cylinder", "2"))
        chance, after = belief.outcome_chances(Ask(kind.id, place))
        assert chance @ after == pytest.approx(belief.chances(), abs=1e-9)


@pytest.mark.parametrize("seed", range(400, 412))
def test_chance_of_any_equals_enumeration(seed: int) -> None:
    """The chance that a kind of fault is at one of its places at least, with a history behind it."""
    rng = np.random.default_rng(seed)
    library = small_library(rng, 2, 2)
    car, layout = small_car(2)
    belief = believe(library, car, layout, small_entries(rng, library, layout, 5, 1))
    brute = BruteBelief(belief)
    for fault in library.faults:
        wanted = [at for at in belief.faults if at.fault == fault]
        instances = {belief.instance_now(at) for at in wanted}
        expected = sum(weight for present, weight in brute.weights if present & instances) / brute.total
        assert belief.chance_of_any(wanted) == pytest.approx(expected, abs=1e-9)
