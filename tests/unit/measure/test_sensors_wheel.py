"""Toothed wheels."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowngood.errors import NotMeasurable
from knowngood.measure.sensors_wheel import rpm_of_teeth, tooth_time, wheel


@given(st.integers(8, 120), st.integers(0, 3))
def test_teeth_and_gap_fill_the_circle(positions: int, missing: int) -> None:
    """Every place is a tooth or a gap."""
    found = wheel(positions, missing)
    assert found.teeth * found.pitch_deg + found.uncut_deg == pytest.approx(360.0)


@given(st.floats(50.0, 8000.0), st.integers(8, 120))
def test_time_and_speed_undo_each_other(rpm: float, positions: int) -> None:
    """One over the time a tooth is the frequency of the teeth."""
    assert rpm_of_teeth(1000.0 / tooth_time(rpm, positions)[0], positions)[0] == pytest.approx(rpm)


def test_counter_that_misses_the_gap_is_allowed_for() -> None:
    """58 pulses a turn at 1000 a second."""
    assert rpm_of_teeth(58.0 * 1000.0 / 60.0, 60, missing=2)[0] == pytest.approx(1000.0)


def test_wheel_of_gaps_is_refused() -> None:
    """Fewer than half may be missing."""
    with pytest.raises(NotMeasurable) as refused:
        wheel(4, 2)
    assert str(refused.value) == "2 of 4 teeth are missing. Give fewer than half."
