"""State of charge as a band."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowngood.errors import NotMeasurable
from knowngood.measure.battery import charge_by_gravity, charge_by_voltage, gravity_at_reference

VOLTS = st.floats(11.0, 13.2)


@given(VOLTS, VOLTS, st.floats(1.0, 48.0), st.floats(-30.0, 50.0))
def test_more_volts_is_never_less_charge(one: float, other: float, hours: float, temperature: float) -> None:
    """Every end of the band rises with the voltage."""
    low, high = (charge_by_voltage(v, hours, temperature_c=temperature) for v in sorted((one, other)))
    assert low.low_percent <= high.low_percent
    assert low.percent <= high.percent
    assert low.high_percent <= high.high_percent


@given(VOLTS, st.floats(1.0, 48.0), st.floats(-30.0, 50.0))
def test_band_holds_its_middle(volts: float, hours: float, temperature: float) -> None:
    """Low, middle, high."""
    band = charge_by_voltage(volts, hours, temperature_c=temperature)
    assert 0.0 <= band.low_percent <= band.percent <= band.high_percent <= 100.0


@given(VOLTS, st.floats(1.0, 48.0), st.floats(1.0, 48.0))
def test_less_rest_is_a_wider_band(volts: float, one: float, other: float) -> None:
    """Surface charge makes the low end lower."""
    short, long = sorted((one, other))
    assert charge_by_voltage(volts, short).low_percent <= charge_by_voltage(volts, long).low_percent


@given(VOLTS, st.floats(0.0, 40.0))
def test_cold_or_hot_only_widens(volts: float, off: float) -> None:
    """The middle stays, neither correction is applied silently."""
    home = charge_by_voltage(volts, 24.0)
    for temperature in (26.7 - off, 26.7 + 0.8 * off):
        away = charge_by_voltage(volts, 24.0, temperature_c=temperature)
        assert away.percent == home.percent
        assert away.low_percent <= home.low_percent + 0.2
        assert away.high_percent >= home.high_percent - 0.2


def test_without_rest_nothing_is_said() -> None:
    """Surface charge hides the state."""
    with pytest.raises(NotMeasurable) as refused:
        charge_by_voltage(12.8, 0.2)
    assert str(refused.value) == (
        "The battery rested 0.2 h: its surface charge hides its state. Let it rest 8 h, better 24 h."
    )


def test_voltage_of_another_battery_is_refused() -> None:
    """24 V is no 12 V battery."""
    with pytest.raises(NotMeasurable, match=r"^Battery voltage is 24\.6 V: outside 6 to 15 V"):
        charge_by_voltage(24.6, 24.0)


@given(st.floats(1.10, 1.28), st.floats(-20.0, 50.0), st.floats(-20.0, 50.0))
def test_warm_acid_reads_thin(gravity: float, one: float, other: float) -> None:
    """The same reading means more in warm acid."""
    cold, hot = sorted((one, other))
    assert gravity_at_reference(gravity, cold)[0] <= gravity_at_reference(gravity, hot)[0]


def test_discharged_acid_freezes_first() -> None:
    """The freezing point follows the low end of the band."""
    assert charge_by_gravity(1.120).freezes_c > charge_by_gravity(1.265).freezes_c
