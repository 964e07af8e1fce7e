"""The cars that speed is measured on stay as they are: figures of two days can be compared."""

from __future__ import annotations

import pytest

from benchmarks.reference_cars import READINGS, SIZES, ReferenceCar

FAULTS = {2: 92, 4: 124, 6: 156, 8: 188, 12: 252}
CHECKS = {2: 72, 4: 110, 6: 148, 8: 186, 12: 262}
DIGESTS = {2: "77bccdb7", 4: "21879c15", 6: "37546b7b", 8: "89647a4d", 12: "d8176869"}


@pytest.mark.parametrize("cylinders", SIZES)
def test_reference_cars_are_frozen(cylinders: int) -> None:
    """So many faults, checks and readings as the figures say, and the very same ones."""
    car = ReferenceCar(cylinders)
    assert len(car.truth) == FAULTS[cylinders]
    assert len(car.every) == CHECKS[cylinders]
    assert len(car.readings) == READINGS
    assert len(car.remaining) == CHECKS[cylinders] - READINGS
    assert car.digest() == DIGESTS[cylinders]
    assert car.belief().exact
