"""Chances of forty reference cars equal those of a general-purpose library, with many faults and many readings, too.

Judge: pyAgrum (LGPL-3 or MIT), exact lazy propagation, one thread; see ``tests/naive/agrum_belief.py``.
"""

from __future__ import annotations

import numpy as np
import pytest

from benchmarks.reference_cars import ReferenceCar
from tests.naive.agrum_belief import by_nodes

SIZES = (2, 4, 6, 8, 12)
KINDS = ((1.0, 30), (2.0, 30), (3.0, 30), (1.0, 45), (2.0, 45), (3.0, 45))
# our own tables hold twelve cylinders with a cured mixture between the readings only now and then: eight at most there
HISTORIES = ((1.0, 30), (3.0, 45))
CARS = [(size, times, readings, False, 2000) for size in SIZES for times, readings in KINDS]
CARS += [(size, times, readings, True, 2000) for size in SIZES[:-1] for times, readings in HISTORIES]
CARS += [(12, times, readings, False, 3000) for times, readings in HISTORIES]


def test_forty_cars() -> None:
    """As many as are promised."""
    assert len(set(CARS)) == 40


@pytest.mark.parametrize(("size", "times", "readings", "history", "seed"), CARS)
def test_chances_of_reference_cars(size: int, times: float, readings: int, history: bool, seed: int) -> None:
    """Counts once, twice, three times over; 30 and 45 readings; with and without a swap, a new part and a cure."""
    car = ReferenceCar(size, times=times, readings=readings, history=history, seed=seed)
    belief = car.belief()
    assert belief.exact
    assert float(np.abs(belief.chances() - by_nodes(belief).chances(belief.faults)).max()) <= 1e-9


def test_tripled_counts_make_neglected_cars() -> None:
    """Five to eleven faults at once are what these cars are about."""
    faults = [int(ReferenceCar(size, times=3.0, seed=2000).truth.sum()) for size in SIZES]
    assert sum(count >= 5 for count in faults) >= 4
    assert max(faults) >= 11
