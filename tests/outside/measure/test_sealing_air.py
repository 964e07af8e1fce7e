"""Standard atmosphere (ISO 2533:1975 / US 1976), table and the ambiance library (geometric height)."""

import pytest
from ambiance import Atmosphere

from knowngood.measure.sealing_air import standard_air

TABLE = [
    (0, 101.325, 15.00, 1.2250),
    (500, 95.461, 11.75, 1.1673),
    (1000, 89.876, 8.50, 1.1117),
    (1500, 84.560, 5.25, 1.0581),
    (2000, 79.501, 2.00, 1.0066),
    (2500, 74.692, -1.24, 0.9570),
    (3000, 70.121, -4.49, 0.9093),
]


@pytest.mark.parametrize(("h", "kpa", "c", "rho"), [pytest.param(*row, id=f"r2.16-{row[0]}m") for row in TABLE])
def test_table(h: float, kpa: float, c: float, rho: float) -> None:
    """Ours takes height as geopotential: within 0.02 % of pressure, 0.02 K and 0.0002 kg/m³ up to 3000 m."""
    air = standard_air(h)
    assert air.pressure_kpa == pytest.approx(kpa, rel=2e-4)
    assert air.temperature_c == pytest.approx(c, abs=0.02)
    assert air.density_kg_m3 == pytest.approx(rho, abs=2e-4)


@pytest.mark.parametrize("h", [-400, 0, 750, 1600, 3500, 5000])
def test_library(h: float) -> None:
    """The library at the geometric height of the same geopotential."""
    geometric = 6356766.0 * h / (6356766.0 - h)
    there = Atmosphere(geometric)
    air = standard_air(h)
    assert air.pressure_kpa == pytest.approx(float(there.pressure[0]) / 1000.0, rel=1e-5)
    assert air.density_kg_m3 == pytest.approx(float(there.density[0]), rel=1e-4)
