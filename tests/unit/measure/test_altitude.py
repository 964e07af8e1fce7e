"""Standard air pressure."""

import pytest

from knowngood.errors import NotMeasurable
from knowngood.measure.altitude import standard_pressure


def test_weather_is_the_error() -> None:
    """1.5 % either way; feet typed for metres are refused over 5000."""
    pressure_kpa, se = standard_pressure(0, altitude_se_m=0.0)
    assert se == pytest.approx(0.015 * pressure_kpa)
    with pytest.raises(NotMeasurable, match="Altitude is 5280 m: outside -500 to 5000 m"):
        standard_pressure(5280)
