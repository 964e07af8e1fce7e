"""Boiling and freezing: monotone in pressure, glycol and height."""

from hypothesis import given, settings
from hypothesis import strategies as st

from knowngood.measure.altitude import standard_pressure
from knowngood.measure.boiling import boiling_point, water_boiling, water_vapour_pressure
from knowngood.measure.cooling import boiling_margin
from knowngood.measure.freezing import freezing_point
from tests.unit.measure.scatter import scatter

KINDS = st.sampled_from(["ethylene", "propylene"])


@given(st.floats(10.0, 300.0))
def test_water_there_and_back(celsius: float) -> None:
    """Pressure from temperature and back."""
    assert abs(water_boiling(water_vapour_pressure(celsius)[0])[0] - celsius) < 1e-6


@given(st.floats(50.0, 300.0), st.floats(0.0, 80.0), KINDS)
def test_boiling_rises_with_pressure_and_glycol(kpa: float, glycol: float, kind: str) -> None:
    """Each a little more, and never under water."""
    celsius, _ = boiling_point(kpa, glycol, kind)
    assert boiling_point(kpa + 5.0, glycol, kind)[0] > celsius
    assert boiling_point(kpa, glycol + 5.0, kind)[0] > celsius
    assert celsius >= water_boiling(kpa)[0] - 1e-9


@given(st.floats(-500.0, 4900.0), st.floats(1.0, 100.0))
def test_air_thins_with_height(altitude: float, more: float) -> None:
    """Always."""
    assert standard_pressure(altitude + more)[0] < standard_pressure(altitude)[0]


@given(st.floats(60.0, 130.0), st.floats(0.0, 150.0), st.floats(0.0, 60.0), st.floats(0.0, 4000.0))
def test_margin_falls_with_height_and_heat(coolant: float, cap: float, glycol: float, altitude: float) -> None:
    """And the chance of boiling is one half where nothing is left."""
    margin = boiling_margin(coolant, cap, glycol, altitude)
    assert boiling_margin(coolant + 1.0, cap, glycol, altitude).margin_c < margin.margin_c
    assert boiling_margin(coolant, cap, glycol, altitude + 100.0).margin_c < margin.margin_c
    assert (margin.boils_chance > 0.5) == (margin.margin_c < 0.0)


@given(KINDS, st.floats(0.0, 49.0), st.floats(0.1, 1.0))
def test_more_glycol_freezes_lower(kind: str, glycol: float, more: float) -> None:
    """Inside the tables."""
    assert freezing_point(glycol + more, kind)[0] < freezing_point(glycol, kind)[0]


@settings(max_examples=6)
@given(st.floats(20.0, 60.0), st.floats(50.0, 150.0), KINDS)
def test_error_of_the_margin_is_what_throws_scatter(glycol: float, cap: float, kind: str) -> None:
    """Within 5 % over mixtures and caps; weather and model are left out of both."""
    read = boiling_margin(100.0, cap, glycol, 0.0, kind, coolant_se_c=1.0)
    still = boiling_margin(100.0, cap, glycol, 0.0, kind, coolant_se_c=0.0, cap_se_kpa=0.0, glycol_se_pct=0.0)
    thrown = scatter(lambda c, p, g: boiling_margin(c, p, g, 0.0, kind).margin_c, (100.0, cap, glycol), (1.0, 7.0, 3.0))
    assert abs((read.margin_se_c**2 - still.margin_se_c**2) ** 0.5 / thrown - 1.0) < 0.05
