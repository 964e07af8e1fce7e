"""Unmetered air."""

from collections.abc import Callable

import pytest

from knowngood.errors import NotMeasurable
from knowngood.measure.unmetered_air import hole_from_leak, intake_leak_flow, leak_from_trim, leak_trim
from tests.unit.measure.scatter import scatter


def test_error_is_what_throws_scatter() -> None:
    """Each error agrees with 4000 thrown readings within 5 %."""
    flow = intake_leak_flow(2.0, 75.0, hole_se_mm=0.05, manifold_se_kpa=1.5, discharge_se=0.05)
    assert flow[1] == pytest.approx(
        scatter(lambda mm, kpa, c: intake_leak_flow(mm, kpa, discharge=c)[0], (2.0, 75.0, 0.8), (0.05, 1.5, 0.05)),
        rel=0.05,
    )
    hole = hole_from_leak(0.6, 75.0, leak_se_g_s=0.04, manifold_se_kpa=1.5, discharge_se=0.05)
    assert hole[1] == pytest.approx(
        scatter(lambda leak, kpa, c: hole_from_leak(leak, kpa, discharge=c)[0], (0.6, 75.0, 0.8), (0.04, 1.5, 0.05)),
        rel=0.05,
    )
    assert leak_trim(0.6, 4.0, leak_se_g_s=0.05, metered_se_g_s=0.1)[1] == pytest.approx(
        scatter(lambda leak, metered: leak_trim(leak, metered)[0], (0.6, 4.0), (0.05, 0.1)), rel=0.05
    )
    assert leak_from_trim(15.0, 4.0, trim_se_pct=1.0, metered_se_g_s=0.1)[1] == pytest.approx(
        scatter(lambda trim, metered: trim * metered / 100.0, (15.0, 4.0), (1.0, 0.1)), rel=0.05
    )


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (
            lambda: intake_leak_flow(2.0, 101.4),
            "Manifold pressure of 101.4 kPa is not below the outside pressure of 101.325 kPa. "
            "No air is drawn in: read at idle, and give pressures above vacuum, not below the air.",
        ),
        (lambda: intake_leak_flow(0.0, 35.0), "Hole is 0 mm. Give a number above 0 in mm."),
        (lambda: leak_trim(-0.1, 3.0), "Leak is -0.1 g/s. Give 0 or more in g/s."),
        (
            lambda: leak_from_trim(4.0, 3.0),
            "Trim is 4 % with a standard error of 2.1 %: less than three of them. "
            "Measure again with a finer instrument or a larger value.",
        ),
    ],
)
def test_refusals(ask: Callable[[], object], words: str) -> None:
    """Word for word."""
    with pytest.raises(NotMeasurable) as refused:
        ask()
    assert str(refused.value) == words


def test_near_the_outside_pressure_the_error_does_not_fail() -> None:
    """A manifold within one standard error of the outside still has an answer."""
    flow, se = intake_leak_flow(2.0, 101.0, manifold_se_kpa=1.0)
    assert 0.0 < flow < se * 3.0
