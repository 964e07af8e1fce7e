"""What a count of rare events says about their rate: exact limits and exact tests of two rates.

A count is of independent events. Misfires come in clusters, so count the blocks of 200 revolutions
that hold any misfire, not the misfires (see `knowngood.measure.misfire_change`).
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

from knowngood.errors import NotMeasurable
from knowngood.measure.bracket import Bracket, two_sided_tail
from knowngood.measure.given import above_zero, between, whole

if TYPE_CHECKING:
    import numpy
    from numpy.typing import NDArray

    FloatArray = NDArray[numpy.float64]


@dataclass(frozen=True, slots=True)
class NoneSeen:
    """What none seen in a number of tries still allows.

    `highest_share` is the exact upper limit, `three_over_n` the rule of thumb, both as a share of the tries.
    """

    tries: int
    confidence: float
    highest_share: float
    three_over_n: float


def none_seen(tries: int, *, confidence: float = 0.95) -> NoneSeen:
    """Largest share of bad tries that fits with none seen bad.

    A share p stays unseen in n tries with chance (1 - p)^n; the limit is the p at which that is 1 - confidence.

    Parameters
    ----------
    tries : int
        Tries that were all good, 1 or more.
    confidence : float
        Chance with which the limit holds.

    Returns
    -------
    none_seen : NoneSeen

    Raises
    ------
    NotMeasurable
        Fewer than one try, or a confidence outside 0.5 to 0.9999.

    Notes
    -----
    Cannot tell: that the fault is gone, only that it is rarer than the limit. Tries under conditions in which
    the fault cannot show do not count.

    References
    ----------
    rule_of_three : Hanley and Lippman-Hand, If nothing goes wrong, is everything all right?, JAMA 249 (1983), 1743.

    Examples
    --------
    >>> limit = none_seen(30)
    >>> f"{limit.highest_share:.4f} {limit.three_over_n:.2f}"
    '0.0950 0.10'
    """
    n = whole("Number of tries", tries, 1)
    missed = 1.0 - between("Confidence", confidence, 0.5, 0.9999, "")
    return NoneSeen(n, confidence, 1.0 - missed ** (1.0 / n), min(1.0, none_seen_events(confidence) / n))


def none_seen_events(confidence: float = 0.95) -> float:
    """Expected number of events that would have shown itself at least once with this confidence.

    The numerator of the rule of three: -ln(1 - confidence).

    Parameters
    ----------
    confidence : float
        Chance of seeing one or more.

    Returns
    -------
    events : float

    Raises
    ------
    NotMeasurable
        A confidence outside 0.5 to 0.9999.

    Notes
    -----
    Cannot tell: anything when the events come in clusters.

    Examples
    --------
    >>> f"{none_seen_events():.3f}"
    '2.996'
    """
    return -math.log(1.0 - between("Confidence", confidence, 0.5, 0.9999, ""))


def count_limits(count: int, *, confidence: float = 0.95) -> Bracket:
    """Exact limits of the expected number behind a count of independent events.

    Parameters
    ----------
    count : int
        Events counted, 0 or more.
    confidence : float
        Chance that the limits hold the expected number.

    Returns
    -------
    expected : Bracket
        In events over the same exposure; divide by the exposure for a rate.

    Raises
    ------
    NotMeasurable
        A negative or broken count, or a confidence outside 0.5 to 0.9999.

    Notes
    -----
    Cannot tell: the rate of events that come in clusters; the limits are then too narrow.

    References
    ----------
    garwood_1936 : Garwood, Fiducial limits for the Poisson distribution, Biometrika 28 (1936), 437.

    Examples
    --------
    >>> limits = count_limits(3)
    >>> f"{limits.low:.3f} to {limits.high:.3f}"
    '0.619 to 8.767'
    """
    from scipy.special import gammaincinv

    k, tail = whole("Count", count, 0), two_sided_tail(confidence)
    low = float(gammaincinv(k, tail)) if k else 0.0
    return Bracket(low, float(k), float(gammaincinv(k + 1, 1.0 - tail)))


def share_limits(count: int, tries: int, *, confidence: float = 0.95) -> Bracket:
    """Exact limits of the share behind `count` in `tries`.

    Parameters
    ----------
    count, tries : int
        Hits, and tries they came from.
    confidence : float
        Chance that the limits hold the share.

    Returns
    -------
    share : Bracket
        0 to 1.

    Raises
    ------
    NotMeasurable
        More hits than tries, no tries, broken numbers, or a confidence outside 0.5 to 0.9999.

    Notes
    -----
    Cannot tell: the share under other conditions than those of the tries.

    References
    ----------
    clopper_pearson_1934 : Clopper and Pearson, The use of confidence or fiducial limits, Biometrika 26 (1934), 404.

    Examples
    --------
    >>> share = share_limits(12, 14)
    >>> f"{share.low:.4f} to {share.high:.4f}"
    '0.5719 to 0.9822'
    """
    from scipy.special import betaincinv

    n = whole("Number of tries", tries, 1)
    k = whole("Count", count, 0)
    if k > n:
        raise NotMeasurable(f"{k} hits are more than {n} tries.", "Check which number is which.")
    tail = two_sided_tail(confidence)
    low = float(betaincinv(k, n - k + 1, tail)) if k else 0.0
    high = float(betaincinv(k + 1, n - k, 1.0 - tail)) if k < n else 1.0
    return Bracket(low, k / n, high)


def rate_ratio(
    before: int, before_exposure: float, after: int, after_exposure: float, *, confidence: float = 0.95
) -> Bracket:
    """How many times higher the rate was before than after, with exact limits.

    Given the total, the count before is binomial; its share limits become limits of the ratio.

    Parameters
    ----------
    before, after : int
        Independent events counted.
    before_exposure, after_exposure : float
        How much was watched (revolutions, blocks, km), the same unit for both.
    confidence : float
        Chance that the limits hold the ratio.

    Returns
    -------
    ratio : Bracket
        Rate before divided by rate after; `value` and `high` are inf when nothing was seen after.

    Raises
    ------
    NotMeasurable
        Nothing seen on either side, exposure not above zero, or broken counts.

    Notes
    -----
    Cannot tell: whether conditions were the same on both sides.

    References
    ----------
    clopper_pearson_1934 : as in `share_limits`.

    Examples
    --------
    >>> ratio = rate_ratio(12, 1000, 2, 1000)
    >>> f"{ratio.low:.2f} to {ratio.high:.0f}"
    '1.34 to 55'
    """
    k1, k2, n1, n2 = _two_counts(before, before_exposure, after, after_exposure)
    share = share_limits(k1, k1 + k2, confidence=confidence)

    def ratio(p: float) -> float:
        return math.inf if p >= 1.0 else p / (1.0 - p) * n2 / n1

    return Bracket(ratio(share.low), ratio(share.value), ratio(share.high))


@dataclass(frozen=True, slots=True)
class RateTest:
    """Chances of a difference at least as large if both rates were the same.

    `conditional_fewer` is the exact one-sided chance (fewer after than before), `conditional_either` the
    two-sided one (twice the smaller side, 1 at most), `e_test` the two-sided E-test, `statistic` its statistic.
    The conditional test never cries wolf more often than it says; the E-test sees more with few events.
    """

    conditional_fewer: float
    conditional_either: float
    e_test: float
    statistic: float


def same_rate(before: int, before_exposure: float, after: int, after_exposure: float) -> RateTest:
    """Whether two counts can come from one rate.

    Two tests side by side: the conditional binomial test and the E-test, which
    sums the chances of all pairs of counts at least as far apart.

    Parameters
    ----------
    before, after : int
        Independent events counted.
    before_exposure, after_exposure : float
        How much was watched, the same unit for both.

    Returns
    -------
    test : RateTest

    Raises
    ------
    NotMeasurable
        Nothing seen on either side, exposure not above zero, broken counts, or over 5000 events in all.

    Notes
    -----
    Cannot tell: why a rate fell. A repair, a warmer day and another road look alike.

    References
    ----------
    przyborowski_1940 : Przyborowski and Wilenski, Biometrika 31 (1940), 313 (conditional test).
    krishnamoorthy_2004 : Krishnamoorthy and Thomson, J. Stat. Plan. Inference 119 (2004), 23 (E-test).

    Examples
    --------
    >>> test = same_rate(5, 1000, 0, 1000)
    >>> f"{test.conditional_fewer:.5f} {test.e_test:.4f}"
    '0.03125 0.0198'
    """
    k1, k2, n1, n2 = _two_counts(before, before_exposure, after, after_exposure)
    if k1 + k2 > 5000:
        raise NotMeasurable(
            f"{k1 + k2} events are more than 5000.", "Counts this large need no exact test: compare the rates."
        )
    from scipy.special import betainc

    share = n1 / (n1 + n2)
    fewer = float(betainc(k1, k2 + 1, share)) if k1 else 1.0
    more = float(betainc(k2, k1 + 1, 1.0 - share)) if k2 else 1.0
    statistic = (k1 / n1 - k2 / n2) / math.sqrt(k1 / n1**2 + k2 / n2**2)
    return RateTest(fewer, min(1.0, 2.0 * min(fewer, more)), _e_test(k1 + k2, n1, n2, statistic), statistic)


def _e_test(total: int, n1: float, n2: float, statistic: float) -> float:
    import numpy as np

    rate = total / (n1 + n2)
    x1, log1 = _likely_counts(n1 * rate)
    x2, log2 = _likely_counts(n2 * rate)
    variance = (x1 / n1**2)[:, None] + (x2 / n2**2)[None, :]
    gap = (x1 / n1)[:, None] - (x2 / n2)[None, :]
    # where both counts are zero the gap and its variance are zero: never as far apart as the counts met
    far = np.abs(gap) >= abs(statistic) * np.sqrt(variance) * (1.0 - 1e-12)
    far &= variance > 0.0
    return min(1.0, float(np.exp(log1) @ far @ np.exp(log2)))


def _likely_counts(expected: float) -> tuple[FloatArray, FloatArray]:
    """Counts that matter at this expectation and the logarithms of their chances."""
    import numpy as np
    from scipy.special import gammaln

    reach = 10.0 * math.sqrt(expected) + 20.0
    counts = np.arange(max(0, int(expected - reach)), int(expected + reach) + 1, dtype=float)
    return counts, counts * math.log(expected) - expected - gammaln(counts + 1.0)


def _two_counts(before: int, n1: float, after: int, n2: float) -> tuple[int, int, float, float]:
    k1, k2 = whole("Count before", before, 0), whole("Count after", after, 0)
    above_zero("Exposure before", n1, "")
    above_zero("Exposure after", n2, "")
    if k1 + k2 == 0:
        raise NotMeasurable(
            "Nothing was seen before or after.", "Use the limit for none seen; a ratio needs at least one event."
        )
    return k1, k2, float(n1), float(n2)
