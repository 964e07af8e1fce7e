"""5 V through a 1.0 kΩ pull-up: resistances and voltages as published (common practice), and as computed."""

import pytest

from knowngood.measure.divider import divider_resistance, divider_voltage

PUBLISHED = [
    (20000.0, 30000.0, 4.8, 4.81),
    (7000.0, 11400.0, 4.5, 4.51),
    (2100.0, 2900.0, 3.6, 3.57),
    (1000.0, 1300.0, 2.7, 2.67),
    (565.0, 670.0, 1.9, 1.91),
    (295.0, 365.0, 1.2, 1.24),
    (240.0, 260.0, 1.0, 1.00),
    (140.0, 160.0, 0.65, 0.65),
]


@pytest.mark.parametrize(
    ("low", "high", "published_v", "middle_v"), [pytest.param(*row, id=f"r5.05-{row[0]:.0f}") for row in PUBLISHED]
)
def test_pull_up(low: float, high: float, published_v: float, middle_v: float) -> None:
    """The middle of the span as computed; the published voltage lies inside the span of resistances."""
    assert divider_voltage(0.5 * (low + high), 1000.0)[0] == pytest.approx(middle_v, abs=0.006)
    ohms, se = divider_resistance(published_v, 1000.0)
    assert low - 2.0 * se <= ohms <= high + 2.0 * se
