"""Worst levels laid out below thresholds: the same chances as level after level, with a bound of what cancels."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import pytest

from knowngood.belief import building, exact
from knowngood.belief.assemble import believe
from knowngood.belief.building import Built
from knowngood.belief.clue import Clue
from knowngood.belief.exact import ExactBelief
from knowngood.belief.ordering import TooTangled
from knowngood.belief.protocol import Ask
from knowngood.belief.thresholds import steps
from knowngood.car import ENGINE, Car, Layout
from knowngood.evidence import Entry
from knowngood.library.records import Library
from tests.naive.small_car import in_sessions, small_car, small_entries, small_library, with_hidden

SEEDS = (*range(16), 104, 128)
"""Cars; right under a threshold of the last two stands a level that must not be looked through."""
Told = tuple[Library, Car, Layout, Sequence[Entry]]


def drawn(seed: int) -> Told:
    """A small car with several complaints and a history."""
    rng = np.random.default_rng(seed)
    records = with_hidden(small_library(rng, 3, 3), rng, come_and_go=1, graded=1)
    car, layout = small_car(2 + seed % 4)
    entries = in_sessions(small_entries(rng, records, layout, 9, int(rng.integers(0, 3))), rng, 2)
    return records, car, layout, entries


def below(told: Told, patch: pytest.MonkeyPatch) -> ExactBelief:
    """The belief when nothing fits level after level."""

    def only_below(*given: object, thresholds: tuple[bool, ...] = (False,), **more: object) -> Built:
        if True not in thresholds:
            raise TooTangled(1)
        return Built(*given, thresholds=(True,), **more)  # type: ignore[arg-type]

    with patch.context() as only:
        only.setattr(exact, "Built", only_below)
        return believe(*told)


@pytest.mark.parametrize("seed", SEEDS)
def test_everything_that_is_asked_is_the_same(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """Chances, with any line left out, any fault of some, the size of a surprise: inside the bound that is told."""
    told = drawn(seed)
    plain, other = believe(*told), below(told, monkeypatch)
    assert plain.exact
    assert other.exact
    assert other.error_bound <= 1e-9
    assert other.chances() == pytest.approx(plain.chances(), abs=max(other.error_bound, 1e-13))
    assert other.log_chance == pytest.approx(plain.log_chance, abs=1e-9)
    entries = sorted(plain.entries_in())
    assert other.chances_by_entry(entries) == pytest.approx(plain.chances_by_entry(entries), abs=1e-10)
    for entry in entries:
        assert other.chances_without(entry) == pytest.approx(plain.chances_without(entry), abs=1e-10)
        assert other.surprise(entry) == pytest.approx(plain.surprise(entry), rel=1e-8)
    some = plain.faults[::2]
    assert other.chance_of_any(some) == pytest.approx(plain.chance_of_any(some), abs=1e-10)
    assert other.anew().chances() == pytest.approx(plain.chances(), abs=1e-10)


def test_some_of_the_cars_have_thresholds(monkeypatch: pytest.MonkeyPatch) -> None:
    """Three in four of them, and half look through another level: else this file would compare a thing with itself."""
    networks = [below(drawn(seed), monkeypatch).network for seed in SEEDS]
    assert sum(bool(network.below) for network in networks) >= 13
    assert sum(bool(network.through) for network in networks) >= 9
    for network in networks[-2:]:
        under = {source for at in network.below for source, _ in network.nodes[at].inputs}
        assert under - network.through


def test_draws_have_the_chances(monkeypatch: pytest.MonkeyPatch) -> None:
    """What stands below thresholds weighs the draws: they agree with the chances, and so do outcomes of a check."""
    told = drawn(next(seed for seed in SEEDS if below(drawn(seed), monkeypatch).network.below))
    plain, other = believe(*told), below(told, monkeypatch)
    drawn_sets = other.scenarios(2000, np.random.default_rng(5))
    assert drawn_sets.present.mean(axis=0) == pytest.approx(plain.chances(), abs=0.06)
    ask = Ask("see_rough", ENGINE)
    (outcome, there), (exact_outcome, exact_there) = other.outcome_chances(ask), plain.outcome_chances(ask)
    assert outcome == pytest.approx(exact_outcome, abs=0.06)
    assert there == pytest.approx(exact_there, abs=0.15)
    assert other.draws_worth > 200.0


def test_digits_that_would_be_lost_are_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where more cancels than a chance may err, the tables count as too large."""
    told = drawn(next(seed for seed in SEEDS if below(drawn(seed), monkeypatch).network.below))
    monkeypatch.setattr(building, "LARGEST_ERROR", 0.0)
    assert not below_or_draws(told, monkeypatch).network.below


def below_or_draws(told: Told, patch: pytest.MonkeyPatch) -> ExactBelief:
    """The belief when all evidence does not fit level after level; parts of it do."""

    def not_all_at_once(*given: object, thresholds: tuple[bool, ...] = (False,), **more: object) -> Built:
        return Built(*given, thresholds=thresholds[-1:], **more)  # type: ignore[arg-type]

    with patch.context() as only:
        only.setattr(exact, "Built", not_all_at_once)
        return believe(*told)


def test_steps_by_hand() -> None:
    """Said with 0.1, 0.5, 0.9 at three levels: -0.4 below the first threshold, -0.4 below the second, 0.9 below none.

    At the lowest level all three count: 0.9 - 0.4 - 0.4 = 0.1.
    """
    clue = Clue(0, np.array([0.1, 0.5, 0.9]), node=3)
    assert steps([clue], 3, 3) == pytest.approx([-0.4, -0.4, 0.9])
    assert steps([clue, clue], 3, 3) == pytest.approx([0.01 - 0.25, 0.25 - 0.81, 0.81])
    assert steps([], 3, 3) == pytest.approx([0.0, 0.0, 1.0])
