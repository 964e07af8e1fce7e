"""Errors carried from readings to results."""

import math
from collections.abc import Callable

import pytest

from knowngood.errors import NotMeasurable
from knowngood.measure.carried import with_error


def test_lines_are_exact() -> None:
    """For a sum with factors the rule of quadrature is exact."""
    value, se = with_error(lambda a, b: 3.0 * a - 2.0 * b, (5.0, 7.0), (0.3, 0.4))
    assert (value, se) == pytest.approx((1.0, math.hypot(0.9, 0.8)))


def test_without_error_there_is_none() -> None:
    """Exact readings give an exact result, and the formula is asked once only."""
    asked = []

    def product(a: float, b: float) -> float:
        asked.append((a, b))
        return a * b

    assert with_error(product, (2.0, 3.0), (0.0, 0.0)) == (6.0, 0.0)
    assert asked == [(2.0, 3.0)]


@pytest.mark.parametrize(
    "formula",
    [
        math.sqrt,
        math.log,
        lambda value: value**0.5,
        lambda value: math.sqrt(value**0.5),
        lambda value: 1.0 / (1.0 + value),
    ],
)
def test_error_that_leaves_the_formula_is_refused(formula: Callable[[float], float]) -> None:
    """A root of less than nothing, a broken power, a division by zero: none of them is a standard error."""
    with pytest.raises(NotMeasurable) as refused:
        with_error(formula, (4.0,), (5.0,))
    assert str(refused.value) == (
        "Standard error of the reading 4 is 5: too large to carry. "
        "Measure again with a finer instrument, or check the error and its unit."
    )
