"""Sessions: order, sides and units do not matter."""

from hypothesis import assume, given
from hypothesis import strategies as st

from knowngood.measure.before_after import chance_to_see, session_change

SESSIONS = st.lists(st.floats(-30.0, 30.0).map(lambda value: round(value, 2)), min_size=2, max_size=8)


@given(SESSIONS, SESSIONS, st.floats(0.1, 10.0))
def test_order_sides_and_scale(before: list[float], after: list[float], scale: float) -> None:
    """Shuffled sessions say the same, turned sides say the opposite, other units scale."""
    assume(len(set(before)) > 1 and len(set(after)) > 1)
    change = session_change(before, after)
    assert abs(session_change(before[::-1], sorted(after)).chance_by_luck - change.chance_by_luck) < 1e-9
    turned = session_change(after, before)
    assert abs(turned.difference + change.difference) < 1e-9
    assert abs(turned.low + change.high) < 1e-6 * max(1.0, abs(change.high))
    scaled = session_change([scale * value for value in before], [scale * value for value in after])
    assert abs(scaled.difference - scale * change.difference) < 1e-6
    assert change.low <= change.difference <= change.high
    assert (change.verdict == "changed") == (not change.low <= 0.0 <= change.high)


@given(st.floats(0.5, 8.0), st.floats(0.5, 4.0), st.integers(2, 20))
def test_more_sessions_and_larger_changes_are_seen_sooner(change: float, sd: float, sessions: int) -> None:
    """The chance rises with both, and its range is in order."""
    chance = chance_to_see(change, sd, sessions)
    assert 0.0 <= chance.low <= chance.value <= chance.high <= 1.0
    assert chance_to_see(change, sd, sessions + 1).value >= chance.value - 1e-9
    assert chance_to_see(1.1 * change, sd, sessions).value >= chance.value - 1e-9
