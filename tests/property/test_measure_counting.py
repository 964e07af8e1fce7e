"""Counts: limits hold the value, shrink with more tries, and cover the truth as often as they say."""

import numpy
from hypothesis import given
from hypothesis import strategies as st

from knowngood.measure.counting import count_limits, none_seen, rate_ratio, same_rate, share_limits

COUNTS = st.integers(0, 60)


@given(st.integers(1, 10_000))
def test_more_good_tries_allow_less(tries: int) -> None:
    """The limit for none seen falls with every try and is under the rule of thumb."""
    one, two = none_seen(tries), none_seen(tries + 1)
    assert two.highest_share < one.highest_share <= one.three_over_n


@given(COUNTS, st.floats(0.5, 0.99))
def test_limits_hold_the_count(count: int, confidence: float) -> None:
    """And widen with confidence, and rise with the count."""
    narrow, wide = count_limits(count, confidence=confidence), count_limits(count, confidence=confidence + 0.005)
    assert wide.low <= narrow.low <= count <= narrow.high < wide.high
    assert count_limits(count + 1, confidence=confidence).low > narrow.low or count == 0


@given(COUNTS, COUNTS)
def test_share_limits_mirror(hits: int, misses: int) -> None:
    """Counting the misses instead gives the mirror image."""
    if hits + misses == 0:
        return
    one, other = share_limits(hits, hits + misses), share_limits(misses, hits + misses)
    assert one.low <= one.value <= one.high
    assert abs(one.low - (1.0 - other.high)) < 1e-9


@given(COUNTS, COUNTS, st.integers(1, 500), st.integers(1, 500))
def test_tests_are_chances_and_know_their_sides(k1: int, k2: int, n1: int, n2: int) -> None:
    """Turned round, the two-sided answers are the same; the ratio is the inverse."""
    if k1 + k2 == 0:
        return
    one, other = same_rate(k1, n1, k2, n2), same_rate(k2, n2, k1, n1)
    for chance in (one.conditional_fewer, one.conditional_either, one.e_test):
        assert 0.0 <= chance <= 1.0
    assert abs(one.conditional_either - other.conditional_either) < 1e-9
    assert abs(one.e_test - other.e_test) < 1e-9
    if k1 and k2:
        ratio, back = rate_ratio(k1, n1, k2, n2), rate_ratio(k2, n2, k1, n1)
        assert abs(ratio.low * back.high - 1.0) < 1e-6


@given(st.integers(0, 20), st.integers(2, 20))
def test_more_before_is_stronger_evidence(after: int, more: int) -> None:
    """With the same count after, each misfire more before lowers the chance of luck."""
    assert (
        same_rate(after + more, 1, after, 1).conditional_fewer
        < same_rate(after + more - 1, 1, after, 1).conditional_fewer
    )


def test_limits_cover_the_truth() -> None:
    """95 % limits hold the true rate in at least 95 of 100 simulated counts."""
    dice = numpy.random.default_rng(8)
    for truth in (0.5, 3.0, 12.0):
        counts = dice.poisson(truth, 3000)
        held = {int(count): count_limits(int(count)).holds(truth) for count in set(counts)}
        assert numpy.mean([held[int(count)] for count in counts]) >= 0.95
