"""Flow through holes against gas dynamics as a general-purpose library and published figures have it.

Sources: FAA AC 43.13-1B, chapter 8, p. 8-15; isentropic flow of a perfect gas (textbook); the fluids and CoolProp
libraries.
"""

import math

import pytest
from CoolProp.CoolProp import PropsSI
from fluids import P_critical_flow

from knowngood.measure.sealing_flow import critical_ratio, flow_coefficient, hole_area, hole_flow

PSI = 6.894757293168361
AIR = 101.325


@pytest.mark.parametrize("gamma", [pytest.param(1.4, id="r1.11-air"), 1.3, 1.667])
def test_critical_ratio(gamma: float) -> None:
    """fluids.P_critical_flow, and 0.528282 for air."""
    assert critical_ratio(gamma) == pytest.approx(P_critical_flow(1.0, gamma), rel=1e-12)
    assert critical_ratio() == pytest.approx(0.528282, abs=5e-7)


@pytest.mark.parametrize("behind_kpa", [pytest.param(AIR, id="r1.12")])
def test_choked_coefficient(behind_kpa: float) -> None:
    """sqrt(g) (2/(g+1))^((g+1)/(2(g-1))) = 0.684731 (textbook)."""
    assert flow_coefficient(700.0, behind_kpa)[0] == pytest.approx(0.684731, abs=5e-7)


@pytest.mark.parametrize(
    "ratio", [pytest.param(0.6, id="r1.13-0.6"), pytest.param(0.9, id="r1.13-0.9"), pytest.param(0.99, id="r1.13-0.99")]
)
def test_subsonic_coefficient(ratio: float) -> None:
    """Energy balance of the textbook, written from the velocity: sqrt(2 cp (T0 - T)) rho."""
    cp = 1.4 / 0.4
    velocity = math.sqrt(2.0 * cp * (1.0 - ratio ** (0.4 / 1.4)))
    density = ratio ** (1.0 / 1.4)
    assert flow_coefficient(500.0, 500.0 * ratio)[0] == pytest.approx(velocity * density, rel=1e-12)


@pytest.mark.parametrize(
    ("inch", "mm2"), [pytest.param(0.040, 0.81073, id="r1.14-040"), pytest.param(0.060, 1.82415, id="r1.14-060")]
)
def test_orifice_area(inch: float, mm2: float) -> None:
    """Geometry."""
    assert hole_area(25.4 * inch)[0] == pytest.approx(mm2, abs=6e-6)


@pytest.mark.parametrize(
    ("psi", "g_s", "l_min"),
    [
        pytest.param(80, 1.2495, 62.3, id="r1.15-80psi"),
        pytest.param(90, 1.3814, 68.8, id="r1.15-90psi"),
        pytest.param(100, 1.5134, 75.4, id="r1.15-100psi"),
    ],
)
def test_free_flow(psi: float, g_s: float, l_min: float) -> None:
    """Choked formula, 0.040 in, 20 °C; litres with the density of dry air there from CoolProp."""
    flow = hole_flow(1.016, psi * PSI + AIR, AIR)[0]
    assert flow == pytest.approx(g_s, abs=6e-5)
    density_g_l = PropsSI("D", "T", 293.15, "P", 101325.0, "Air")
    assert 60.0 * flow / density_g_l == pytest.approx(l_min, abs=0.1)


@pytest.mark.parametrize("psi", [80, 100])
def test_choked_flow_against_real_air(psi: float) -> None:
    """CoolProp's air, expanded at constant entropy to where it is fastest by area: within 1 % of the perfect gas."""
    p0, t0 = (psi * PSI + AIR) * 1000.0, 293.15
    s, h0 = PropsSI("S", "T", t0, "P", p0, "Air"), PropsSI("H", "T", t0, "P", p0, "Air")
    fluxes = []
    for step in range(400, 700):
        p = p0 * step / 1000.0
        velocity = math.sqrt(2.0 * (h0 - PropsSI("H", "S", s, "P", p, "Air")))
        fluxes.append(PropsSI("D", "S", s, "P", p, "Air") * velocity)
    real_g_s = 1000.0 * max(fluxes) * hole_area(1.016)[0] * 1e-6
    assert hole_flow(1.016, p0 / 1000.0, AIR)[0] == pytest.approx(real_g_s, rel=0.01)
