"""Sessions before and after."""

from collections.abc import Callable

import pytest

from knowngood.errors import NotMeasurable
from knowngood.measure.before_after import chance_to_see, session_change, sessions_needed


@pytest.mark.parametrize(("after", "verdict"), [(5.0, "changed"), (7.0, "cannot tell")])
def test_one_session_a_side(after: float, verdict: str) -> None:
    """Only a change over four between-session standard deviations (5.76 here) is said."""
    change = session_change([12.0], [after], between_sd=1.44)
    assert change.verdict == verdict
    assert change.low < change.difference < change.high


def test_one_session_on_one_side_only() -> None:
    """One before and three after still needs the scatter from elsewhere, and the error shrinks with the three."""
    many = session_change([12.0], [5.0, 5.5, 4.5], between_sd=1.44)
    assert many.se < session_change([12.0], [5.0], between_sd=1.44).se


def test_no_change_shown_is_not_no_change() -> None:
    """The interval says how large a change could hide."""
    change = session_change([5.0, 6.0, 7.0], [5.5, 6.5, 6.0])
    assert change.verdict == "no change shown"
    assert change.low < 0.0 < change.high


def test_rounding_keeps_equal_readings_from_being_certain() -> None:
    """Two equal readings a side with steps of 0.78 %: their rounding is their scatter."""
    change = session_change([4.7, 4.7], [3.9, 3.9], resolution=0.78)
    assert change.se == pytest.approx(0.78 / 12**0.5)


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (
            lambda: session_change([12.0], [5.0, 4.0]),
            "One session on a side (1 before, 2 after) shows no scatter. "
            "Run two more sessions on that side, or give the standard deviation between sessions.",
        ),
        (
            lambda: session_change([5.0, 5.0], [4.0, 4.0]),
            "All sessions before read the same, and so do all after. Give the smallest step of the reading.",
        ),
        (lambda: session_change([], [4.0, 4.0]), "Sessions before: 0 given. At least 1 are needed."),
        (lambda: chance_to_see(4.0, 1.4, 1), "1 session a side shows no scatter. Plan two or more."),
        (
            lambda: sessions_needed(0.1, 2.0),
            "A change of 0.1 needs more than 50 sessions a side at a scatter of 2. "
            "Match conditions better, or look for a larger effect.",
        ),
    ],
)
def test_refusals(ask: Callable[[], object], words: str) -> None:
    """Word for word."""
    with pytest.raises(NotMeasurable) as refused:
        ask()
    assert str(refused.value) == words
