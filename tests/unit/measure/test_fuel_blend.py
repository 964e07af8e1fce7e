"""Fuel blends."""

from collections.abc import Callable

import pytest

from knowngood.errors import NotMeasurable
from knowngood.measure.fuel_blend import air_for_blend, air_for_formula, ethanol_from_trim
from tests.unit.measure.scatter import scatter


def test_error_is_what_throws_scatter() -> None:
    """The ethanol found from a trim, within 5 %."""
    assert ethanol_from_trim(30.0)[1] == pytest.approx(
        scatter(lambda trim: ethanol_from_trim(trim, trim_se_pct=0.0)[0], (30.0,), (2.1,)), rel=0.05
    )


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (lambda: air_for_blend(110.0), "Ethanol is 110 %: outside 0 to 100 %. Check the reading and its unit."),
        (
            lambda: ethanol_from_trim(5.0),
            "Trim is 5 % with a standard error of 2.1 %: less than three of them. "
            "Measure again with a finer instrument or a larger value.",
        ),
        (lambda: ethanol_from_trim(70.0), "Trim is 70 %: outside 0 to 63.3333 %. Check the reading and its unit."),
        (
            lambda: air_for_formula(1.0, 0.0, 2.0),
            "C 1, H 0, O 2 takes up no more oxygen. Give the formula of a fuel.",
        ),
    ],
)
def test_refusals(ask: Callable[[], object], words: str) -> None:
    """Word for word."""
    with pytest.raises(NotMeasurable) as refused:
        ask()
    assert str(refused.value) == words
