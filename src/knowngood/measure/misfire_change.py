"""Misfires before and after a repair, compared by blocks of 200 revolutions.

Misfires cluster: one bad minute gives a hundred. A block with any misfire is one event, however many it holds; the
exact tests then stay honest where tests on the misfires themselves would not.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from knowngood.errors import NotMeasurable
from knowngood.measure.bracket import Bracket
from knowngood.measure.counting import (
    RateTest,
    count_limits,
    none_seen,
    none_seen_events,
    rate_ratio,
    same_rate,
    share_limits,
)
from knowngood.measure.given import above_zero, between, whole

BLOCK_REVOLUTIONS = 200


@dataclass(frozen=True, slots=True)
class MisfireChange:
    """Blocks with any misfire before and after, their shares, the ratio of the rates and the tests.

    `verdict` is 'fewer', 'more' or 'no change shown'; `says` is the sentence that may be written down.
    """

    before: Bracket
    after: Bracket
    ratio: Bracket
    test: RateTest
    verdict: str
    says: str


def misfire_change(before: Sequence[int], after: Sequence[int], *, false_alarm: float = 0.05) -> MisfireChange:
    """Change of misfiring between two watches, by blocks of 200 revolutions.

    Parameters
    ----------
    before, after : sequence of int
        Misfires in each block of 200 revolutions, in any order.
    false_alarm : float
        Chance accepted of calling a change where there is none.

    Returns
    -------
    change : MisfireChange
        `before` and `after` are shares of blocks with any misfire, 0 to 1.

    Raises
    ------
    NotMeasurable
        A side without blocks, a broken count, no misfire on either side, or a chance outside 0.0001 to 0.5.

    Notes
    -----
    Cannot tell: "fixed". None seen gives a limit, and only for the conditions driven. Speed, load and temperature
    must be matched between the two sides. Neighbour blocks of one rough spell still hang together.

    References
    ----------
    przyborowski_1940 : Przyborowski and Wilenski, Biometrika 31 (1940), 313 (conditional test).

    Examples
    --------
    >>> change = misfire_change([3, 0, 12, 40, 1, 0, 7, 2, 0, 5], [0] * 20)
    >>> change.verdict, f"{change.test.conditional_fewer:.4f}"
    ('fewer', '0.0005')
    >>> change.says
    'No misfire in 4000 revolutions watched; with 95 % confidence fewer than 14 % of blocks.'
    """
    first, second = _blocks("before", before), _blocks("after", after)
    k1, k2 = sum(n > 0 for n in first), sum(n > 0 for n in second)
    test = same_rate(k1, len(first), k2, len(second))
    verdict = "no change shown"
    if test.conditional_either < between("False alarms accepted", false_alarm, 1e-4, 0.5, ""):
        verdict = "fewer" if test.statistic > 0 else "more"
    share = share_limits(k2, len(second))
    watched = BLOCK_REVOLUTIONS * len(second)
    if k2 == 0:
        limit = none_seen(len(second)).highest_share
        says = (
            f"No misfire in {watched} revolutions watched; "
            f"with 95 % confidence fewer than {100.0 * limit:.0f} % of blocks."
        )
    else:
        says = f"Misfires in {k2} of {len(second)} blocks after, in {k1} of {len(first)} before."
    ratio = rate_ratio(k1, len(first), k2, len(second))
    return MisfireChange(share_limits(k1, len(first)), share, ratio, test, verdict, says)


def clean_revolutions_needed(misfires: int, revolutions: float, *, confidence: float = 0.95) -> Bracket:
    """Revolutions without a misfire that speak against the old rate.

    At the old rate r a clean run of -ln(1 - confidence) / r has only the chance 1 - confidence. The range comes
    from the limits of the old rate.

    Parameters
    ----------
    misfires : int
        Independent misfires, or blocks with any, counted before the repair; 1 or more.
    revolutions : float
        Crank revolutions over which they were counted.
    confidence : float
        1 minus the chance of a clean run by luck.

    Returns
    -------
    revolutions : Bracket
        `value` for the rate as counted; `high` when the true rate was as low as its lower limit.

    Raises
    ------
    NotMeasurable
        No misfire before, or revolutions not above zero.

    Notes
    -----
    Cannot tell: anything about conditions not driven in. A slow drift back is seen only by watching again.

    References
    ----------
    rule_of_three : Hanley and Lippman-Hand, If nothing goes wrong, is everything all right?, JAMA 249 (1983), 1743.
    garwood_1936 : Garwood, Fiducial limits for the Poisson distribution, Biometrika 28 (1936), 437.

    Examples
    --------
    >>> need = clean_revolutions_needed(6, 1000)
    >>> f"{need.value:.0f} revolutions ({need.low:.0f} to {need.high:.0f})"
    '499 revolutions (229 to 1361)'
    """
    count, watched = whole("Misfires before", misfires, 0), above_zero("Revolutions", revolutions, "")
    if count == 0:
        raise NotMeasurable(
            f"No misfire before in {watched:g} revolutions.", "There is no old rate: find how to provoke it first."
        )
    events, limits = none_seen_events(confidence), count_limits(count)
    return Bracket(events * watched / limits.high, events * watched / count, events * watched / limits.low)


def blocks_needed(share_before: float, *, confidence: float = 0.95) -> int:
    """Clean blocks of 200 revolutions that speak against the old share of bad blocks.

    Parameters
    ----------
    share_before : float
        Share of blocks that held a misfire before the repair, above 0 and below 1.
    confidence : float
        1 minus the chance of as many clean blocks by luck.

    Returns
    -------
    blocks : int

    Raises
    ------
    NotMeasurable
        The share is at or outside 0 or 1.

    Notes
    -----
    Cannot tell: how well the share was known.

    Examples
    --------
    >>> blocks_needed(0.2)
    14
    """
    if not 0.0 < share_before < 1.0:
        raise NotMeasurable(f"Share of bad blocks is {share_before:g}.", "Give a share above 0 and below 1.")
    return math.ceil(none_seen_events(confidence) / -math.log1p(-share_before))


def _blocks(side: str, counts: Sequence[int]) -> list[int]:
    if not counts:
        raise NotMeasurable(f"No block {side} the repair.", "Watch at least one block of 200 revolutions.")
    return [whole(f"Misfires in block {place} {side}", n, 0) for place, n in enumerate(counts, start=1)]
