"""Sensors that give a share of their supply."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowngood.errors import NotMeasurable
from knowngood.measure.sensors_rail import line_through, line_value, rail_verdict
from tests.unit.measure.scatter import scatter

LINE = line_through((0.79, 20.0), (4.0, 101.32))


@pytest.mark.parametrize(
    ("signal", "word"),
    [(0.1, "at ground"), (0.3, "near a rail"), (2.5, "working"), (4.6, "near a rail"), (4.9, "at supply")],
)
def test_where_a_signal_lies(signal: float, word: str) -> None:
    """Five regions."""
    assert rail_verdict(signal).word == word


@given(st.floats(0.3, 4.7), st.floats(4.0, 5.5))
def test_share_does_not_care_about_the_supply(signal: float, supply: float) -> None:
    """Signal and supply moved together are the same reading."""
    base = rail_verdict(signal)
    assert rail_verdict(signal * supply / 5.0, supply).share == pytest.approx(base.share)


@given(st.floats(0.3, 4.7), st.floats(0.3, 4.7))
def test_rising_sensor_rises(one: float, other: float) -> None:
    """Value by signal."""
    low, high = sorted((one, other))
    assert line_value(LINE, low)[0] <= line_value(LINE, high)[0]


def test_low_supply_is_allowed_for() -> None:
    """4.5 V instead of 5 lowers the signal, not the pressure."""
    assert line_value(LINE, 0.9 * 1.84, supply_v=4.5)[0] == pytest.approx(line_value(LINE, 1.84)[0])


def test_error_is_what_throws_scatter() -> None:
    """Within 5 % of thrown signals and supplies."""
    _, se = line_value(LINE, 1.84, supply_se_v=0.03)
    thrown = scatter(lambda v, v0: LINE.slope * v * 5.0 / v0 + LINE.offset, (1.84, 5.0), (0.01, 0.03))
    assert se == pytest.approx(thrown, rel=0.05)


def test_signal_at_a_rail_has_no_value() -> None:
    """It is open or shorted first."""
    with pytest.raises(NotMeasurable) as refused:
        line_value(LINE, 4.95)
    assert str(refused.value) == (
        "The signal is 4.95 V of 5 V: at supply, no value. Decide open or short first: unplug, then bridge."
    )


def test_line_needs_two_places() -> None:
    """One signal is no line."""
    with pytest.raises(NotMeasurable, match=r"^Both points are at 1 V"):
        line_through((1.0, 20.0), (1.0, 30.0))
