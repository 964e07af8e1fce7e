"""Thermistors."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowngood.errors import NotMeasurable
from knowngood.measure.sensors_coolant import coolant_curve
from knowngood.measure.thermistor import (
    Curve,
    beta_of,
    beta_resistance,
    beta_temperature,
    fit_curve,
    resistance_of,
    temperature_of,
)
from tests.unit.measure.scatter import scatter

CURVE = coolant_curve()
DEGREES = st.floats(-40.0, 140.0)


@given(DEGREES, DEGREES)
def test_warmer_sensor_resists_less(one: float, other: float) -> None:
    """Everywhere on the curve."""
    cold, hot = sorted((one, other))
    assert resistance_of(CURVE, cold)[0] >= resistance_of(CURVE, hot)[0]


@given(DEGREES)
def test_there_and_back_is_the_same_temperature(degrees: float) -> None:
    """Cardano undoes the equation."""
    assert temperature_of(CURVE, resistance_of(CURVE, degrees)[0])[0] == pytest.approx(degrees, abs=1e-8)


@given(st.floats(2000.0, 5000.0), DEGREES)
def test_beta_there_and_back(beta: float, degrees: float) -> None:
    """Beta's own inverse, and beta found again from two points."""
    known = (25.0, 10000.0)
    ohms = beta_resistance(beta, known, degrees)[0]
    assert beta_temperature(beta, known, ohms)[0] == pytest.approx(degrees, abs=1e-8)
    if abs(degrees - 25.0) > 1.0:
        assert beta_of(known, (degrees, ohms))[0] == pytest.approx(beta, rel=1e-9)


@given(st.floats(2000.0, 5000.0))
def test_curve_of_a_pure_beta_sensor_has_no_bend(beta: float) -> None:
    """The third coefficient vanishes and the curve still turns round."""
    points = [(t, beta_resistance(beta, (25.0, 10000.0), t)[0]) for t in (-20.0, 25.0, 100.0)]
    curve = fit_curve(points)
    assert abs(curve.c) < 1e-13
    straight = Curve(curve.a, curve.b, 0.0)
    assert resistance_of(straight, 60.0)[0] == pytest.approx(beta_resistance(beta, (25.0, 10000.0), 60.0)[0], rel=1e-6)


@pytest.mark.parametrize("ohms", [9620.0, 2044.0, 231.2])
def test_error_is_what_throws_scatter(ohms: float) -> None:
    """Within 5 % of thrown readings."""
    _, se = temperature_of(CURVE, ohms, ohms_se=0.03 * ohms)

    def kelvin(r: float) -> float:
        log = math.log(r)
        return 1.0 / (CURVE.a + CURVE.b * log + CURVE.c * log**3)

    assert se == pytest.approx(scatter(kelvin, (ohms,), (0.03 * ohms,)), rel=0.05)


def test_error_by_beta_is_what_throws_scatter() -> None:
    """Within 5 % of thrown betas and readings."""
    _, se = beta_temperature(3640.1, (25.0, 2044.0), 231.2, ohms_se=7.0)

    def kelvin(beta: float, r: float) -> float:
        return 1.0 / (1.0 / 298.15 + math.log(r / 2044.0) / beta)

    assert se == pytest.approx(scatter(kelvin, (3640.1, 231.2), (40.0, 7.0)), rel=0.05)


def test_points_that_do_not_fall_are_refused() -> None:
    """Some sensors rise instead."""
    with pytest.raises(NotMeasurable) as refused:
        fit_curve([(-20.0, 100.0), (25.0, 2044.0), (100.0, 175.7)])
    assert str(refused.value) == (
        "The resistance does not fall from the coldest to the hottest point. "
        "Check which reading belongs to which temperature; some sensors rise instead."
    )


def test_two_points_are_no_curve() -> None:
    """Three, well apart."""
    with pytest.raises(NotMeasurable) as refused:
        fit_curve([(25.0, 2044.0), (100.0, 175.7)])
    assert str(refused.value) == "2 points. Give three: cold, middle and hot."


def test_resistance_off_the_curve_is_refused() -> None:
    """An open sensor is not minus a hundred degrees."""
    with pytest.raises(NotMeasurable, match=r"^5e\+06 Ω lies outside -80 to 400 °C on this sensor's curve"):
        temperature_of(CURVE, 5e6)


def test_beta_of_one_temperature_is_refused() -> None:
    """Two temperatures are needed."""
    with pytest.raises(NotMeasurable, match=r"^Both points are at 25 °C"):
        beta_of((25.0, 2000.0), (25.0, 2100.0))


def test_resistance_beyond_a_beta_is_refused() -> None:
    """A short is no temperature; the message names readings, not what is reckoned between."""
    with pytest.raises(NotMeasurable) as refused:
        beta_temperature(3640.0, (25.0, 2044.0), 0.001)
    assert str(refused.value) == (
        "0.001 Ω is no temperature with a beta of 3640 K and 2044 Ω at 25 °C. "
        "Take it for shorted, or check beta, the known point and the unit."
    )
