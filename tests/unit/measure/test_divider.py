"""Pull-ups."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowngood.errors import NotMeasurable
from knowngood.measure.divider import divider_resistance, divider_voltage
from tests.unit.measure.scatter import scatter


@given(st.floats(0.0, 1e6), st.floats(0.0, 1e6))
def test_higher_sensor_is_a_higher_signal(one: float, other: float) -> None:
    """Never above the supply."""
    low, high = sorted((one, other))
    assert divider_voltage(low, 1000.0)[0] <= divider_voltage(high, 1000.0)[0] <= 5.0


@given(st.floats(50.0, 30000.0), st.floats(500.0, 5000.0))
def test_there_and_back_is_the_same_sensor(sensor: float, pull_up: float) -> None:
    """Voltage to resistance undoes resistance to voltage, wherever it is not at a rail."""
    signal = divider_voltage(sensor, pull_up)[0]
    if 0.04 < signal < 4.9:
        assert divider_resistance(signal, pull_up)[0] == pytest.approx(sensor, rel=1e-9)


@pytest.mark.parametrize("signal", [0.65, 2.0, 3.57])
def test_error_is_what_throws_scatter(signal: float) -> None:
    """Within 5 % of thrown readings, of signal, pull-up and supply together."""
    _, se = divider_resistance(signal, 1000.0)
    thrown = scatter(lambda v, r, v0: r * v / (v0 - v), (signal, 1000.0, 5.0), (0.01, 10.0, 0.02))
    assert se == pytest.approx(thrown, rel=0.05)


def test_signal_at_the_supply_is_refused() -> None:
    """Open, somewhere."""
    with pytest.raises(NotMeasurable) as refused:
        divider_resistance(4.98, 1000.0)
    assert str(refused.value) == (
        "The signal is 4.98 V of 5 V: at the supply. Open sensor, wire or ground. Bridge the plug and read again."
    )


def test_signal_at_ground_is_refused() -> None:
    """Shorted, somewhere."""
    with pytest.raises(NotMeasurable) as refused:
        divider_resistance(0.01, 1000.0)
    assert str(refused.value) == "The signal is 0.01 V: at ground. Shorted sensor or wire. Unplug and read again."
