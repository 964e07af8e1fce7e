"""Cars wired by a table of branches: the chances equal those of a general-purpose library of Bayesian networks.

Judge: pyAgrum (LGPL-3 or MIT), exact lazy propagation, from the ladders of the library, place by place.
"""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.belief.assemble import believe
from tests.naive.agrum_belief import by_ladders
from tests.naive.small_car import small_car
from tests.naive.wired_car import wired_entries, wired_library


@pytest.mark.parametrize("seed", range(20))
def test_chances_equal_the_judges(seed: int) -> None:
    """Five to nine branches on 2 to 8 cylinders, twelve readings."""
    rng = np.random.default_rng(1000 + seed)
    wired = wired_library(rng, int(rng.integers(5, 10)))
    car, layout = small_car(int(rng.integers(2, 9)))
    belief = believe(wired.library, car, layout, wired_entries(rng, wired, layout, 12))
    assert belief.exact
    assert belief.chances() == pytest.approx(by_ladders(belief).chances(belief.faults), abs=1e-9)
