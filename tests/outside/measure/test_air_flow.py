"""Air mass flow from the ideal gas."""

import pint
import pytest

from knowngood.measure.air_flow import expected_air_flow, meter_check, volumetric_efficiency


@pytest.mark.parametrize(
    ("litre", "rpm", "kpa", "celsius", "filling", "flow"),
    [
        pytest.param(2.0, 2000.0, 100.0, 25.0, 0.85, 33.11, id="r6.14-2000rpm"),
        pytest.param(2.0, 800.0, 35.0, 40.0, 0.80, 4.153, id="r6.14-idle"),
    ],
)
def test_worked_flows(litre: float, rpm: float, kpa: float, celsius: float, filling: float, flow: float) -> None:
    """m = VE p V n / (120 R T), R = 287.05 (ideal gas), and back."""
    assert expected_air_flow(litre, rpm, kpa, celsius, filling=filling)[0] == pytest.approx(flow, rel=2e-4)
    assert volumetric_efficiency(flow, litre, rpm, kpa, celsius)[0] == pytest.approx(filling, rel=2e-4)
    assert meter_check(flow, litre, rpm, kpa, celsius).verdict == "can be right"


def test_units_agree_with_a_units_library() -> None:
    """The same formula with units carried by pint gives the same grams a second."""
    unit = pint.UnitRegistry()
    air = 0.85 * 100 * unit.kPa * 2 * unit.litre * (2000 / 2 / unit.minute)
    flow = air / (287.05 * unit.joule / (unit.kg * unit.kelvin) * 298.15 * unit.kelvin)
    assert expected_air_flow(2.0, 2000.0, 100.0, 25.0)[0] == pytest.approx(flow.to("g/s").magnitude, rel=1e-12)
