"""Charging voltage and ripple."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowngood.errors import NotMeasurable
from knowngood.measure.charging import charging_verdict, charging_window, ripple_frequencies, ripple_word


@given(st.floats(-40.0, 120.0), st.floats(-40.0, 120.0))
def test_warmer_regulator_charges_lower(one: float, other: float) -> None:
    """Both ends of the window fall."""
    cold, hot = (charging_window(t) for t in sorted((one, other)))
    assert cold[0] >= hot[0] and cold[1] >= hot[1]


@pytest.mark.parametrize(
    ("volts", "word"), [(12.4, "low"), (14.2, "inside"), (16.0, "high"), (13.52, "cannot tell"), (14.78, "cannot tell")]
)
def test_voltage_against_the_window(volts: float, word: str) -> None:
    """Near an end nobody can tell."""
    assert charging_verdict(volts).word == word


def test_commanded_alternator_is_not_judged_outside() -> None:
    """The computer may want 12.5 V."""
    assert charging_verdict(12.5, by_computer=True).word == "cannot tell"
    assert charging_verdict(14.0, by_computer=True).word == "inside"


@given(st.floats(400.0, 7000.0), st.floats(1.5, 4.0), st.integers(4, 9))
def test_fault_shows_at_a_sixth_of_the_sound_ripple(rpm: float, ratio: float, pairs: int) -> None:
    """One pulse a period against six."""
    found = ripple_frequencies(rpm, pulley_ratio=ratio, pole_pairs=pairs)
    assert found.sound_hz == pytest.approx(6.0 * found.fault_hz)


@pytest.mark.parametrize(
    ("volts", "word"),
    [(0.03, "usual"), (0.3, "suspect"), (0.9, "diodes"), (0.11, "cannot tell"), (0.48, "cannot tell")],
)
def test_ripple_by_meter(volts: float, word: str) -> None:
    """Two limits, both with a doubtful edge."""
    assert ripple_word(volts) == word


def test_ripple_below_zero_is_refused() -> None:
    """A meter on AC shows none."""
    with pytest.raises(NotMeasurable) as refused:
        ripple_word(-0.1)
    assert str(refused.value) == "Ripple is -0.1 V. Give 0 or more in V."


@pytest.mark.parametrize(("volts", "word"), [(0.0, "low"), (0.5, "low"), (35.0, "high")])
def test_dead_and_runaway_alternators_are_read(volts: float, word: str) -> None:
    """From 0 to 35 V, both ends included, a voltage is judged."""
    assert charging_verdict(volts).word == word


@pytest.mark.parametrize("volts", [-0.1, 35.1])
def test_voltage_no_bus_has_is_refused(volts: float) -> None:
    """Below 0 the probes are swapped, above 35 V it is another system."""
    with pytest.raises(NotMeasurable, match=rf"^Charging voltage is {volts:g} V: outside 0 to 35 V\."):
        charging_verdict(volts)
