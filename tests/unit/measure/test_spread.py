"""Errors carried from readings to results."""

import math

import pytest

from knowngood.measure.spread import spread


def test_lines_are_exact() -> None:
    """For a sum with factors the rule of quadrature is exact."""
    value, se = spread(lambda a, b: 3.0 * a - 2.0 * b, (5.0, 7.0), (0.3, 0.4))
    assert (value, se) == pytest.approx((1.0, math.hypot(0.9, 0.8)))


def test_without_error_there_is_none() -> None:
    """Exact readings give an exact result, and the formula is asked once only."""
    asked = []

    def product(a: float, b: float) -> float:
        asked.append((a, b))
        return a * b

    assert spread(product, (2.0, 3.0), (0.0, 0.0)) == (6.0, 0.0)
    assert asked == [(2.0, 3.0)]
