"""Accepted spans of a coolant sensor and the voltages published with them (common practice, one maker's tables)."""

import pytest

from knowngood.measure.divider import divider_voltage
from knowngood.measure.sensors_coolant import coolant_range, coolant_verdict

SPANS = [
    (-10.0, 7000.0, 11400.0, 4.29, 4.50),
    (20.0, 2370.0, 2630.0, 3.48, 3.58),
    (50.0, 680.0, 1000.0, 2.03, 2.49),
    (90.0, 236.0, 260.0, 0.97, 1.04),
]


@pytest.mark.parametrize(
    ("degrees", "low", "high", "low_v", "high_v"), [pytest.param(*row, id=f"r5.04-{row[0]:.0f}C") for row in SPANS]
)
def test_span_and_its_voltages(degrees: float, low: float, high: float, low_v: float, high_v: float) -> None:
    """Ends of the span are accepted; the voltages printed with it lie in those of the ends behind a 1.0 kΩ pull-up.

    At 90 °C the span is wider downward here: the nominal of the other table lies under it.
    """
    ours = coolant_range(degrees)
    assert ours[1] == pytest.approx(high, rel=1e-9)
    assert ours[0] == pytest.approx(low, rel=1e-9) or (degrees == 90.0 and ours[0] < low)
    for ohms in (1.001 * low, 0.999 * high):
        assert coolant_verdict(ohms, degrees, temperature_se_c=0.0).word == "inside"
    ends = [divider_voltage(ohms, 1000.0)[0] for ohms in (low, high)]
    assert ends[0] - 0.09 <= low_v <= high_v <= ends[1] + 0.11
