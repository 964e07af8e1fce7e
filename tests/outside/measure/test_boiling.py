"""Boiling of water and of glycol mixtures: IAPWS tables, CoolProp, published coolant figures."""

import pytest
from CoolProp.CoolProp import PropsSI

from knowngood.measure.altitude import standard_pressure
from knowngood.measure.boiling import boiling_point, glycol_molecules, water_boiling, water_vapour_pressure

SEA_KPA, PSI_KPA = 101.325, 6.894757
CAPS_KPA = (0.0, 90.0, 110.0, 140.0)


@pytest.mark.parametrize(
    ("altitude", "boiling"),
    [
        pytest.param(0, (100.0, 118.8, 122.0, 126.3), id="r9.01-0m"),
        pytest.param(500, (98.3, 117.8, 121.1, 125.4), id="r9.02-500m"),
        pytest.param(1000, (96.6, 116.9, 120.2, 124.7), id="r9.03-1000m"),
        pytest.param(1500, (95.0, 116.0, 119.3, 123.9), id="r9.04-1500m"),
        pytest.param(2000, (93.3, 115.1, 118.5, 123.2), id="r9.05-2000m"),
        pytest.param(3000, (90.0, 113.3, 116.9, 121.8), id="r9.06-3000m"),
    ],
)
def test_water_by_altitude(altitude: float, boiling: tuple[float, ...]) -> None:
    """Open and under 0.9, 1.1 and 1.4 bar caps (IAPWS-95 by CoolProp; ISO 2533 air)."""
    air_kpa = standard_pressure(altitude)[0]
    assert [boiling_point(air_kpa + cap)[0] for cap in CAPS_KPA] == pytest.approx(boiling, abs=0.06)


@pytest.mark.parametrize(("kpa", "celsius"), [(SEA_KPA, 99.974), (SEA_KPA + 90.0, 118.815)])
def test_water_by_the_industrial_formulation(kpa: float, celsius: float) -> None:
    """The same two points by an independent copy of IAPWS-IF97."""
    assert water_boiling(kpa)[0] == pytest.approx(celsius, abs=0.001)


@pytest.mark.parametrize(("kelvin", "mpa"), [(300.0, 0.353658941e-2), (500.0, 0.263889776e1), (600.0, 0.123443146e2)])
def test_saturation_line_verification_values(kelvin: float, mpa: float) -> None:
    """IAPWS R7-97(2012), table 35."""
    assert water_vapour_pressure(kelvin - 273.15)[0] == pytest.approx(1000.0 * mpa, rel=1e-8)


@pytest.mark.parametrize(("mpa", "kelvin"), [(0.1, 0.372755919e3), (1.0, 0.453035632e3), (10.0, 0.584149488e3)])
def test_backward_verification_values(mpa: float, kelvin: float) -> None:
    """IAPWS R7-97(2012), table 36."""
    assert water_boiling(1000.0 * mpa)[0] == pytest.approx(kelvin - 273.15, abs=1e-6)


@pytest.mark.parametrize("celsius", [20.0, 60.0, 90.0, 100.0, 120.0, 150.0])
def test_water_against_coolprop(celsius: float) -> None:
    """Within 0.05 % of the reference equation (IAPWS-95) of a general-purpose library."""
    assert water_vapour_pressure(celsius)[0] == pytest.approx(
        PropsSI("P", "T", celsius + 273.15, "Q", 0, "Water") / 1e3, rel=5e-4
    )


PRESSURES = (0.0, 90.0, 15.0 * PSI_KPA, 110.0, 140.0)


@pytest.mark.parametrize(
    ("glycol", "kind", "boiling", "within"),
    [
        pytest.param(30, "ethylene", (103.6, 122.8, 125.0, 126.0, 130.4), 0.06, id="r9.07-EG30"),
        pytest.param(50, "ethylene", (107.8, 127.5, 129.7, 130.8, 135.3), 0.06, id="r9.08-EG50"),
        pytest.param(60, "ethylene", (111.1, 131.2, 133.4, 134.5, 139.1), 0.06, id="r9.09-EG60"),
        pytest.param(70, "ethylene", (115.9, 136.5, 138.8, 139.9, 144.6), 0.06, id="r9.09-EG70"),
        pytest.param(50, "propylene", (106.0, 125.5, 127.7, 128.7, 133.2), 0.1, id="r9.10-PG50-from-memory"),
    ],
)
def test_mixtures(glycol: float, kind: str, boiling: tuple[float, ...], within: float) -> None:
    """Raoult's law with handbook vapour pressures, open, +0.9 bar, +15 psi, +1.1 and +1.4 bar (computed elsewhere)."""
    assert [boiling_point(SEA_KPA + cap, glycol, kind)[0] for cap in PRESSURES] == pytest.approx(boiling, abs=within)


@pytest.mark.parametrize(
    ("cap", "fahrenheit"),
    [pytest.param(0.0, 226.0, id="r9.08-226F-open"), pytest.param(15.0 * PSI_KPA, 265.0, id="r9.08-265F-15psi")],
)
def test_published_coolant_figures(cap: float, fahrenheit: float) -> None:
    """50 % ethylene glycol: 226 °F open, 265 °F under 15 psi (common practice)."""
    boiling_c, se = boiling_point(SEA_KPA + cap, 50)
    assert boiling_c == pytest.approx((fahrenheit - 32.0) / 1.8, abs=0.4)
    assert se == 0.4


@pytest.mark.parametrize(
    ("cap", "boiling"),
    [pytest.param(0.0, 102.6, id="r9.08-1500m-open"), pytest.param(110.0, 128.1, id="r9.08-1500m-cap")],
)
def test_mixture_at_1500_m(cap: float, boiling: float) -> None:
    """50 % ethylene glycol high up (computed elsewhere)."""
    assert boiling_point(standard_pressure(1500)[0] + cap, 50)[0] == pytest.approx(boiling, abs=0.06)


@pytest.mark.parametrize(("fahrenheit",), [pytest.param(222.0, id="r9.10-222F-from-memory")])
def test_propylene_open(fahrenheit: float) -> None:
    """50 % propylene glycol boils at 222 °F open (from memory; the computed row stands beside it)."""
    assert boiling_point(SEA_KPA, 50, "propylene")[0] == pytest.approx((fahrenheit - 32.0) / 1.8, abs=0.6)


@pytest.mark.parametrize(("kind", "share"), [("ethylene", 0.245), ("propylene", 0.197)])
def test_share_of_molecules(kind: str, share: float) -> None:
    """50 % by volume (computed from densities and molar masses)."""
    assert glycol_molecules(kind, 50)[0] == pytest.approx(share, abs=0.0006)


@pytest.mark.parametrize(("glycol", "slope"), [(0.0, 2.52), (50.0, 2.63)])
def test_three_degrees_a_psi_is_too_much(glycol: float, slope: float) -> None:
    """Finding 0.3 of the references: 2.52 °F a psi for water, 2.63 for 50 % glycol over 0 to 15 psi."""
    rise = boiling_point(SEA_KPA + 15.0 * PSI_KPA, glycol)[0] - boiling_point(SEA_KPA, glycol)[0]
    assert rise * 1.8 / 15.0 == pytest.approx(slope, abs=0.006)
