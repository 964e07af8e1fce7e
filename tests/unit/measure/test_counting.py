"""Counts and rates."""

import math

import pytest

from knowngood.errors import NotMeasurable
from knowngood.measure.counting import count_limits, none_seen, rate_ratio, same_rate, share_limits


def test_share_in_a_small_row_is_wide() -> None:
    """All good in three tries says little; none and all are mirror images."""
    assert none_seen(3).highest_share == pytest.approx(0.632, abs=0.001)
    assert share_limits(3, 3).low == pytest.approx(1.0 - share_limits(0, 3).high)
    assert none_seen(2).three_over_n == 1.0


def test_ratio_is_open_when_nothing_came_after() -> None:
    """No misfire after: the ratio has a lower end only."""
    ratio = rate_ratio(5, 10, 0, 10)
    assert ratio.low > 1.0 / 3.0
    assert math.isinf(ratio.value)
    assert math.isinf(ratio.high)
    assert rate_ratio(0, 10, 5, 10).low == 0.0


def test_more_after_is_seen_as_more() -> None:
    """The one-sided chance of 'fewer' goes to one when there are more."""
    test = same_rate(1, 10, 12, 10)
    assert test.conditional_fewer > 0.99
    assert test.conditional_either < 0.01
    assert test.statistic < 0.0


@pytest.mark.parametrize(
    ("counts", "words"),
    [
        (
            (0, 10, 0, 10),
            "Nothing was seen before or after. Use the limit for none seen; a ratio needs at least one event.",
        ),
        ((3, 0, 1, 10), "Exposure before is 0. Give a number above 0."),
        ((3.5, 10, 1, 10), "Count before is 3.5. Give a whole number, 0 or more."),
        (
            (4000, 10, 1001, 10),
            "5001 events are more than 5000. Counts this large need no exact test: compare the rates.",
        ),
    ],
)
def test_refusals_of_the_tests(counts: tuple[float, ...], words: str) -> None:
    """Word for word."""
    with pytest.raises(NotMeasurable) as refused:
        same_rate(*counts)
    assert str(refused.value) == words


def test_refusals_of_limits() -> None:
    """More hits than tries, and a negative count."""
    with pytest.raises(NotMeasurable, match=r"7 hits are more than 5 tries\. Check which number is which\."):
        share_limits(7, 5)
    with pytest.raises(NotMeasurable, match=r"Count is -1\."):
        count_limits(-1)
    with pytest.raises(NotMeasurable, match=r"Number of tries is 0\."):
        none_seen(0)
