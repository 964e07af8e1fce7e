"""Every outcome of every check worked out in one go equals the belief after each outcome, one by one."""

from __future__ import annotations

import numpy as np
import pytest

from benchmarks.reference_cars import ReferenceCar
from knowngood.belief.assemble import believe
from knowngood.belief.protocol import Ask
from knowngood.car import Place
from tests.naive.small_car import small_car, small_entries, small_library

NEAR = 1e-11


@pytest.mark.parametrize("seed", range(24))
def test_outcomes_equal_beliefs_after_each(seed: int) -> None:
    """With swaps, cures, findings and rows of unknown level: chance of each outcome, and of each fault after it."""
    rng = np.random.default_rng(seed)
    library = small_library(rng, 3, 3)
    car, layout = small_car(1 + seed % 5)
    belief = believe(library, car, layout, small_entries(rng, library, layout, 5, seed % 4))
    places = {"cylinder": Place("cylinder", "1"), "bank": Place("bank", "1"), "engine": Place("engine")}
    asks = [Ask(kind.id, places[kind.place]) for kind in library.readings.values()]
    asks += [Ask("see_burn", Place("cylinder", str(layout.cylinders)), "cold idle")]
    together = belief.outcome_chances_of(asks)
    prepared = belief.prepared(asks)
    for ask, (chance, there) in zip(asks, together, strict=True):
        alone, there_alone = belief.outcome_chances(ask)
        assert chance == pytest.approx(alone, abs=NEAR)
        assert there == pytest.approx(there_alone, abs=NEAR)
        for index, outcome in enumerate(belief.outcomes(ask)):
            after = belief.given(ask, outcome)
            assert np.exp(after.log_chance - belief.log_chance) == pytest.approx(chance[index], abs=NEAR)
            assert there[index] == pytest.approx(after.chances(), abs=NEAR)
            assert prepared.given(ask, outcome).chances() == pytest.approx(after.chances(), abs=NEAR)


def test_one_outcome_after_another() -> None:
    """A belief with checks laid out takes outcome after outcome, and a check it does not hold."""
    car = ReferenceCar(4)
    belief = car.belief()
    first, second, third = car.remaining[3], car.remaining[40], car.remaining[60]
    quick, slow = belief.prepared([first, second]), belief
    for ask in (first, second, third):
        outcome = belief.outcomes(ask)[-1]
        quick, slow = quick.given(ask, outcome), slow.given(ask, outcome)
        assert quick.chances() == pytest.approx(slow.chances(), abs=NEAR)
        assert quick.log_chance == pytest.approx(slow.log_chance, abs=NEAR)


def test_same_check_twice() -> None:
    """The same outcome twice counts twice, laid out or not."""
    car = ReferenceCar(2)
    belief, ask = car.belief(), car.remaining[5]
    outcome = belief.outcomes(ask)[0]
    quick = belief.prepared([ask]).given(ask, outcome).given(ask, outcome)
    assert quick.chances() == pytest.approx(belief.given(ask, outcome).given(ask, outcome).chances(), abs=NEAR)
