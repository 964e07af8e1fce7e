"""A widespread coolant sensor."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowngood.errors import NotMeasurable
from knowngood.measure.sensors_coolant import coolant_curve, coolant_range, coolant_verdict
from knowngood.measure.thermistor import resistance_of


@given(st.floats(-40.0, 140.0))
def test_nominal_sensor_is_inside(degrees: float) -> None:
    """Everywhere."""
    low, high = coolant_range(degrees)
    assert low < resistance_of(coolant_curve(), degrees)[0] < high
    assert coolant_verdict(resistance_of(coolant_curve(), degrees)[0], degrees).word == "inside"


@pytest.mark.parametrize(
    ("ohms", "word"), [(2500.0, "inside"), (9600.0, "high"), (300.0, "low"), (math.inf, "open"), (3.0, "shorted")]
)
def test_reading_at_20_degrees(ohms: float, word: str) -> None:
    """High reads colder than it is, low warmer."""
    verdict = coolant_verdict(ohms, 20.0)
    assert verdict.word == word
    assert math.isnan(verdict.off_k) == (word in ("open", "shorted"))


def test_doubtful_thermometer_widens_the_span() -> None:
    """3.0 kΩ is over at 20 °C sharp, and inside when it may be 15."""
    assert coolant_verdict(3000.0, 20.0, temperature_se_c=0.0).word == "high"
    assert coolant_verdict(3000.0, 20.0, temperature_se_c=3.0).word == "inside"


def test_offset_is_in_kelvin() -> None:
    """A reading of -10 °C at 20 °C is 30 K low."""
    assert coolant_verdict(9620.0, 20.0).off_k == pytest.approx(-30.0, abs=0.1)


def test_nan_is_refused() -> None:
    """Dirty readings are named."""
    with pytest.raises(NotMeasurable, match=r"^Resistance of the sensor is nan"):
        coolant_verdict(float("nan"), 20.0)


@pytest.mark.parametrize(("ohms", "word"), [(math.inf, "open"), (2e6, "open"), (5.0, "shorted")])
def test_open_and_shorted_have_no_temperature(ohms: float, word: str) -> None:
    """No number is read off the curve for them; the span is still told."""
    found = coolant_verdict(ohms, 20.0)
    assert found.word == word
    assert math.isnan(found.off_k) and math.isnan(found.off_se_k)
    assert found.low_ohm < found.high_ohm
