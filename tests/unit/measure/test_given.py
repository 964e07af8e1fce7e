"""Refusals of numbers, word for word."""

import math
from collections.abc import Callable

import pytest

from knowngood.errors import NotMeasurable
from knowngood.measure import given


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (lambda: given.finite("Air flow", math.nan, "g/s"), "Air flow is nan: not a number. Give a number in g/s."),
        (lambda: given.finite("Share", math.inf, ""), "Share is inf: not a number. Give a number."),
        (lambda: given.above_zero("Air flow", -3.0, "g/s"), "Air flow is -3 g/s. Give a number above 0 in g/s."),
        (lambda: given.above_zero("Order", 0, ""), "Order is 0. Give a number above 0."),
        (lambda: given.not_below_zero("Leak", -0.5, "g/s"), "Leak is -0.5 g/s. Give 0 or more in g/s."),
        (
            lambda: given.between("Cap pressure", 1100, 0, 300, "kPa"),
            "Cap pressure is 1100 kPa: outside 0 to 300 kPa. Check the reading and its unit.",
        ),
        (lambda: given.whole("Count", 2.5, 0), "Count is 2.5. Give a whole number, 0 or more."),
        (lambda: given.whole("Count", -1, 0), "Count is -1. Give a whole number, 0 or more."),
        (
            lambda: given.resolved("Pressure", 5.0, 3.0, "kPa"),
            "Pressure is 5 kPa with a standard error of 3 kPa: less than three of them. "
            "Measure again with a finer instrument or a larger value.",
        ),
        (lambda: given.row("Trim", [1.0], "%", least=2), "Trim: 1 given. At least 2 are needed."),
        (
            lambda: given.row("Trim", [1.0, math.nan], "%", least=2),
            "Trim, number 2, is nan: not a number. Give a number in %.",
        ),
    ],
)
def test_refusal(ask: Callable[[], object], words: str) -> None:
    """The value met is shown, then what to do."""
    with pytest.raises(NotMeasurable) as refused:
        ask()
    assert str(refused.value) == words


def test_good_numbers_pass_unchanged() -> None:
    """What can be used comes back as it was."""
    assert given.finite("x", 1.5, "V") == 1.5
    assert given.above_zero("x", 1e-9, "V") == 1e-9
    assert given.not_below_zero("x", 0, "V") == 0.0
    assert given.between("x", 3.0, 3.0, 4.0, "V") == 3.0
    assert given.whole("x", 4.0, 4) == 4
    assert given.resolved("x", 9.0, 3.0, "V") == 9.0
    assert given.row("x", [1, 2], "V", least=2) == (1.0, 2.0)
