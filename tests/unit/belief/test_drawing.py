"""Draws kept for all that is asked: what they are worth does not hang on what is asked first."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.belief import drawing, exact
from knowngood.belief.assemble import believe
from knowngood.belief.exact import ExactBelief
from tests.naive.small_car import small_car, small_entries, small_library


def partly_outside(patch: pytest.MonkeyPatch, seed: int = 11, works: int = 0) -> ExactBelief:
    """A small car's belief with one reading in the tables and the others outside."""
    rng = np.random.default_rng(seed)
    records = small_library(rng, 3, 3)
    car, layout = small_car(2)
    entries = small_entries(rng, records, layout, 6, works)
    patch.setattr(exact, "smaller_parts", lambda said, model: iter([said[:1]]))
    belief = believe(records, car, layout, entries)
    assert belief.weighing
    return belief


def test_worth_and_log_weight_are_known_before_the_draws_are_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    """They are the same numbers whether draws were looked at before or not."""
    first, second = partly_outside(monkeypatch), partly_outside(monkeypatch)
    assert len(first.draws.kept) > 0
    assert np.isfinite(second.draws.effective)
    assert second.draws.effective == first.draws.effective
    assert second.draws.log_mean_weight == first.draws.log_mean_weight


def test_draws_before_the_rest_was_let_in_stay_those_of_the_kept_ones(monkeypatch: pytest.MonkeyPatch) -> None:
    """Other draws, made for something else, are not taken for the beginning of the kept ones."""
    draws = partly_outside(monkeypatch).draws
    begun = draws.begun
    draws.draw(40, np.random.default_rng(3))
    assert draws.begun is begun
    assert len(begun) == exact.DRAWS


def test_worth_of_exact_chances_costs_no_draws() -> None:
    """Where everything is in the tables, how much draws are worth is said without making any."""
    rng = np.random.default_rng(11)
    records = small_library(rng, 3, 3)
    car, layout = small_car(2)
    belief = believe(records, car, layout, small_entries(rng, records, layout, 6, 0))
    assert belief.draws_worth == float("inf")
    assert "kept" not in vars(belief.draws) and "_made_to_keep" not in vars(belief.draws)


def test_chance_of_any_is_counted_in_the_draws_it_is_asked_of(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of one fault it is that fault's chance; of all, what the fault sets drawn from the same draws say."""
    belief = partly_outside(monkeypatch)
    for at, chance in zip(belief.faults, belief.chances(), strict=True):
        assert belief.chance_of_any([at]) == pytest.approx(float(chance), abs=1e-9)
    sets = belief.scenarios(exact.DRAWS, np.random.default_rng(3))
    assert sets.weight.sum() == pytest.approx(1.0)
    some = list(range(0, len(belief.faults), 2))
    met = float(sets.present[:, some].any(axis=1).mean())
    error = 5.0 * np.sqrt(0.25 / exact.DRAWS)
    assert belief.chance_of_any([belief.faults[one] for one in some]) == pytest.approx(met, abs=error)


@pytest.mark.parametrize("works", [0, 3])
def test_chances_draw_by_draw_come_to_the_chances(works: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Of every fault, worked on or not."""
    belief = partly_outside(monkeypatch, seed=24, works=works)
    columns = range(len(belief.faults))
    there = belief.there_in_draws(columns)
    assert there.shape == (len(columns), exact.DRAWS)
    assert there.mean(axis=1) == pytest.approx(belief.chances(), abs=1e-12)


def test_faces_come_out_alike_whether_ways_are_counted_through_or_looked_up(monkeypatch: pytest.MonkeyPatch) -> None:
    """A draw's faces hang on its dice, not on how many ways are few."""
    draws = partly_outside(monkeypatch, seed=24, works=3).draws
    crowd = draws.begun
    counted = draws._faces_of_several(crowd)
    assert counted.any() and draws._few == len(draws._outside) - draws._plain
    for name in ("_few", "_climbing", "_of_ways", "_many"):
        vars(draws).pop(name, None)
    monkeypatch.setattr(drawing, "FEW_WAYS", 0)
    assert not draws._few
    assert np.array_equal(draws._faces_of_several(crowd), counted)


@pytest.mark.parametrize("states", [1, 2])
def test_a_fault_may_have_more_ways_than_a_byte_can_count(states: int) -> None:
    """Each die tells the way that brute counting tells, also beyond the 256th."""
    rng = np.random.default_rng(5)
    climbing = np.sort(rng.random((700, states)), axis=0)
    dice = rng.random(400)
    cause = rng.integers(states, size=400) if states > 1 else None
    at = np.zeros(400, dtype=int) if cause is None else cause
    by_hand = [int((climbing[:, state] <= die).sum()) for die, state in zip(dice, at, strict=True)]
    assert max(by_hand) > 256
    assert drawing.ways_under(dice, climbing, cause).tolist() == by_hand
