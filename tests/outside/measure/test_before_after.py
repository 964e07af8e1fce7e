"""Sessions before and after: Welch's test against scipy, false alarms and power against measured ones."""

import numpy
import pytest
from scipy import stats

from knowngood.measure.before_after import chance_to_see, session_change, sessions_needed


@pytest.mark.parametrize(("before", "after"), [((11.0, 13.5, 12.2), (3.1, 5.2, 4.0)), ((1, 2, 3, 4), (2.5, 9.0))])
def test_welch_against_scipy(before: tuple[float, ...], after: tuple[float, ...]) -> None:
    """Difference, chance and interval are those of the general-purpose library."""
    other = stats.ttest_ind(after, before, equal_var=False)
    interval = other.confidence_interval()
    change = session_change(before, after)
    assert change.chance_by_luck == pytest.approx(other.pvalue, rel=1e-10)
    assert (change.low, change.high) == pytest.approx((interval.low, interval.high), rel=1e-10)


@pytest.mark.parametrize("sessions", [3, 5])
def test_nothing_changed_is_seldom_called_changed(sessions: int) -> None:
    """A/A: 2000 pairs without a change give at most 10 in 100 false alarms (real idle sessions: 2.5 to 5.2)."""
    dice = numpy.random.default_rng(sessions)
    false = sum(
        session_change(list(dice.normal(0, 1.44, sessions)), list(dice.normal(0, 1.44, sessions))).verdict == "changed"
        for _ in range(2000)
    )
    assert false / 2000 <= 0.06


@pytest.mark.parametrize(
    ("change", "sessions", "measured"),
    [(4.0, 2, 0.19), (4.0, 3, 0.59), (6.0, 3, 0.92), (2.0, 5, 0.46), (4.0, 5, 0.98), (6.0, 5, 1.00)],
)
def test_power_against_real_sessions(change: float, sessions: int, measured: float) -> None:
    """34 real idle sessions of one healthy car with a shift added, 1.44 % between sessions (own analysis)."""
    chance = chance_to_see(change, 1.44, sessions)
    assert chance.low - 0.05 <= measured <= chance.high + 0.05
    assert chance.value == pytest.approx(measured, abs=0.08)


def test_sessions_for_a_trim_change() -> None:
    """Three a side for 6 %, five for 4 % (own analysis of the same sessions)."""
    assert (sessions_needed(6.0, 1.44), sessions_needed(4.0, 1.44)) == (3, 5)
