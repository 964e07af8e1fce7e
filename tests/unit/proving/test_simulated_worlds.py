"""Worlds with other numbers, and one with faults that the library does not know."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from knowngood.library.fitted_on import can_have
from knowngood.library.load import load
from knowngood.library.reach import reach_of
from knowngood.library.records import Library
from knowngood.proving.simulated import SimulatedCar
from knowngood.proving.simulated_arrivals import arrival
from knowngood.proving.simulated_evidence import bearing_checks
from knowngood.proving.simulated_worlds import (
    DISTURBED_ONE,
    HIDDEN,
    OWN,
    STRUCTURE,
    dice,
    library_of,
    moved,
    with_common_causes,
)


@pytest.fixture(scope="module")
def ours() -> Library:
    """The library as it is."""
    return load()


def test_moved_chance_has_the_log_odds_asked_for() -> None:
    """Even odds and one natural log unit more: e to 1, by hand; certainty stays certain."""
    assert moved(0.5, 1.0) == pytest.approx(np.e / (1.0 + np.e))
    assert moved(0.2, -0.7) == pytest.approx(1.0 / (1.0 + 4.0 * np.exp(0.7)))
    assert (moved(0.0, 3.0), moved(1.0, -3.0)) == (0.0, 1.0)
    several = moved(np.array([0.5, 0.0, 1.0]), np.array([1.0, 1.0, -1.0]))
    assert several == pytest.approx([np.e / (1.0 + np.e), 0.0, 1.0])


def test_own_world_is_the_library_itself(ours: Library) -> None:
    """Nothing is copied, nothing changed."""
    assert library_of(OWN, ours, 7) is ours


def test_disturbed_log_odds_have_the_spread_asked_for(ours: Library) -> None:
    """Over all faults of the library: mean 0, standard deviation 1 within what so many can tell."""
    there = library_of(DISTURBED_ONE, ours, 7)

    def log_odds(library: Library) -> np.ndarray:
        chance = np.array([fault.chance.per_1000 / 1000.0 for fault in library.faults.values()])
        return np.log(chance / (1.0 - chance))

    change = log_odds(there) - log_odds(ours)
    allowed = 4.0 / np.sqrt(len(change))
    assert abs(change.mean()) < allowed
    assert abs(change.std() - 1.0) < allowed


def test_disturbed_words_still_sum_to_one(ours: Library) -> None:
    """At every level something is shown; and no two seeds have the same numbers."""
    there, other = library_of(DISTURBED_ONE, ours, 7), library_of(DISTURBED_ONE, ours, 8)
    sums = [sum(words.values()) for kind in there.readings.values() for words in kind.chance.values()]
    assert sums == pytest.approx(np.ones(len(sums)))
    assert there.readings["shakes"].chance != other.readings["shakes"].chance


def test_hidden_faults_are_in_that_world_only(ours: Library) -> None:
    """Our library has no record of them."""
    there = library_of(STRUCTURE, ours, 7)
    hidden = set(there.faults) - set(ours.faults)
    assert hidden and all(name.startswith(HIDDEN) for name in hidden)


def test_checks_are_chosen_by_what_our_library_sees_whichever_library_came_first(ours: Library) -> None:
    """A car with hidden faults gets the checks of a car without; what its readings hang on knows the hidden ones."""
    there = library_of(STRUCTURE, ours, 7)
    assert there.hash == ours.hash
    hidden = set(there.faults) - set(ours.faults)
    for library in (there, ours, there):
        seen = frozenset().union(*reach_of(library).readings.values())
        assert hidden & seen == (hidden if library is there else set())
    came = replace(arrival(7, STRUCTURE, ours), complaint="shakes")
    sees = reach_of(ours).readings
    assert {one.id for one in bearing_checks(SimulatedCar(came), ours)} == {
        check.id
        for check in ours.checks.values()
        if any(sees.get(name, frozenset()) & sees["shakes"] for name in check.reads) and can_have(check, came.car, ours)
    }


def test_common_causes_keep_each_fault_as_frequent(ours: Library) -> None:
    """Over many cars the mean chance is the old one; within a car the faults of an area go together."""
    faults = [ours.faults[name] for name in ("plug_worn", "plug_gap_closed")]
    priors = np.array([0.02, 0.01])
    many = np.array([with_common_causes(ours, priors, faults, dice(seed)) for seed in range(3000)])
    assert many.mean(axis=0) == pytest.approx(priors, rel=0.06)
    assert np.corrcoef(many.T)[0, 1] > 0.99
