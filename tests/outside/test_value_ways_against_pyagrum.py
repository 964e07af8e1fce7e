"""Values on their way to an instrument: the chances equal those of a general-purpose library of Bayesian networks.

Judge: pyAgrum (LGPL-3 or MIT), exact lazy propagation, from the ladders of the library.
"""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.belief.assemble import believe
from tests.naive.agrum_belief import by_ladders
from tests.naive.small_car import small_car
from tests.naive.value_way import way_entries, way_library


@pytest.mark.parametrize("seed", range(12))
def test_chances_equal_the_judges(seed: int) -> None:
    """Four to eight steps, eight to fourteen faults, ten readings."""
    rng = np.random.default_rng(2000 + seed)
    library = way_library(rng, int(rng.integers(4, 9)), int(rng.integers(8, 15)))
    car, layout = small_car(1)
    belief = believe(library, car, layout, way_entries(rng, library, 10))
    assert belief.exact
    assert belief.chances() == pytest.approx(by_ladders(belief).chances(belief.faults), abs=1e-9)
