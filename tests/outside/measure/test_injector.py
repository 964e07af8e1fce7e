"""Injector flow against pressure."""

import pytest

from knowngood.measure.injector import flow_at_pressure


@pytest.mark.parametrize(
    ("factor", "change"),
    [
        pytest.param(1.5, 22.5, id="r6.09-1.5"),
        pytest.param(0.7, -16.3, id="r6.09-0.7"),
        pytest.param(4.0 / 3.0, 15.5, id="r6.09-4-against-3-bar"),
    ],
)
def test_root_of_pressure(factor: float, change: float) -> None:
    """Q2 = Q1 sqrt(p2 / p1) (common practice: 'roughly 16 %' for x 0.7)."""
    flow = flow_at_pressure(100.0, 300.0, 300.0 * factor)[0]
    assert flow - 100.0 == pytest.approx(change, abs=0.06)
