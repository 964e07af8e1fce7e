"""Air pressure over altitude: ISO 2533 / US 1976."""

import pytest
from ambiance import Atmosphere

from knowngood.measure.altitude import standard_pressure


@pytest.mark.parametrize("altitude", [0.0, 500.0, 1000.0, 1500.0, 2000.0, 2500.0, 3000.0])
def test_against_a_standard_atmosphere_library(altitude: float) -> None:
    """Within 0.02 % of the standard atmosphere (geometric height there, geopotential here)."""
    assert standard_pressure(altitude)[0] == pytest.approx(Atmosphere(altitude).pressure[0] / 1000.0, rel=2e-4)
