"""Spark plug gap against its window, and how fast it grows."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from knowngood.errors import NotMeasurable
from knowngood.measure.carried import with_error
from knowngood.measure.constant import MM_PER_INCH
from knowngood.measure.given import above_zero, not_below_zero, resolved, row
from knowngood.measure.span import against_span

GAP_SE_MM = 0.03
"""One standard error of a gap by feeler: half the step between blades of 0.05 mm (from memory)."""


@dataclass(frozen=True, slots=True)
class GapVerdict:
    """A gap in both units against its window.

    `word` is `inside`, `over`, `under` or `cannot tell` (within two standard errors of an end); `beyond_mm` is how
    far outside, 0 inside.
    """

    gap_mm: float
    gap_in: float
    word: str
    beyond_mm: float
    beyond_se_mm: float


@dataclass(frozen=True, slots=True)
class GapWear:
    """Growth in mm a 10,000 km with its standard error, and the distance left to the upper end of the window
    with its own: few readings carry it far."""

    per_10000_km_mm: float
    per_10000_km_se_mm: float
    left_km: float
    left_se_km: float


def gap_verdict(gap_mm: float, low_mm: float, high_mm: float, *, gap_se_mm: float = GAP_SE_MM) -> GapVerdict:
    """A gap against the window of its specification.

    Parameters
    ----------
    gap_mm, gap_se_mm : float [mm]
        Reading and its standard error.
    low_mm, high_mm : float [mm]
        Ends of the window; alike when the specification is one figure, which a gap meets within two standard errors.

    Returns
    -------
    GapVerdict

    Raises
    ------
    NotMeasurable
        A number is not finite or not above zero, or the window is the wrong way round.

    Notes
    -----
    Cannot tell: electrode shape. A gap measured with a flat blade over a worn pit reads small.

    References
    ----------
    inch : 25.4 mm an inch, exactly.

    Examples
    --------
    >>> verdict = gap_verdict(1.3, 1.0, 1.1)
    >>> f"{verdict.gap_mm:.2f} mm ({verdict.gap_in:.3f} in) {verdict.word} by {verdict.beyond_mm:.2f} mm"
    '1.30 mm (0.051 in) over by 0.20 mm'
    """
    gap, low = above_zero("Gap", gap_mm, "mm"), above_zero("Lower end of the window", low_mm, "mm")
    high, error = above_zero("Upper end of the window", high_mm, "mm"), not_below_zero("Gap error", gap_se_mm, "mm")
    if low > high:
        raise NotMeasurable(f"The window is {low:g} to {high:g} mm.", "Give the smaller end first.")
    beyond = max(low - gap, gap - high, 0.0)
    word = against_span(gap, low, high, margin=2.0 * error)
    if word == "cannot tell" and low == high:
        word = "inside"
    return GapVerdict(gap, gap / MM_PER_INCH, word, beyond, error)


def gap_wear(
    gap_mm: float, new_mm: float, distance_km: float, high_mm: float, *, gap_se_mm: float = GAP_SE_MM
) -> GapWear:
    """How fast a gap grew and how long it lasts at that pace.

    Parameters
    ----------
    gap_mm, gap_se_mm : float [mm]
        Gap now, and the standard error of both readings.
    new_mm : float [mm]
        Gap when the plug went in.
    distance_km : float [km]
        Distance since.
    high_mm : float [mm]
        Upper end of the window.

    Returns
    -------
    GapWear

    Raises
    ------
    NotMeasurable
        The gap grew by less than three standard errors, or a number is not finite or not above zero.

    Notes
    -----
    Cannot tell: a gap that was never set when new; wear that quickens as the edges round off.

    References
    ----------
    arithmetic : growth over distance.

    Examples
    --------
    >>> wear = gap_wear(1.20, 1.00, 40000.0, 1.30)
    >>> f"{wear.per_10000_km_mm:.3f} ± {wear.per_10000_km_se_mm:.3f} mm"
    '0.050 ± 0.011 mm'
    >>> f"{wear.left_km:.0f} ± {wear.left_se_km:.0f} km left"
    '20000 ± 9705 km left'
    """
    gap, new = above_zero("Gap", gap_mm, "mm"), above_zero("Gap when new", new_mm, "mm")
    distance = above_zero("Distance", distance_km, "km")
    error = math.sqrt(2.0) * not_below_zero("Gap error", gap_se_mm, "mm")
    grown = resolved("Growth of the gap", gap - new, error, "mm")
    pace = grown / distance
    high = above_zero("Upper end of the window", high_mm, "mm")
    left_km, left_se = with_error(
        lambda now, first: max(0.0, (high - now) * distance / (now - first)), (gap, new), (gap_se_mm, gap_se_mm)
    )
    return GapWear(10000.0 * pace, 10000.0 * error / distance, left_km, left_se)


def odd_gaps(gaps_mm: Sequence[float], *, gap_se_mm: float = GAP_SE_MM, allowed_mm: float = 0.1) -> tuple[int, ...]:
    """Places, counted from 1, whose gap stands off the middle of the row.

    Parameters
    ----------
    gaps_mm : sequence of float [mm]
        Gap of every plug in counting order, three or more.
    gap_se_mm : float [mm]
        One standard error of a reading.
    allowed_mm : float [mm]
        How far off the middle is usual in one set (from memory).

    Returns
    -------
    places : tuple of int

    Raises
    ------
    NotMeasurable
        Fewer than three plugs, a gap that is not finite or not above zero, or an error or difference below zero.

    Notes
    -----
    Cannot tell: a set that was gapped wrong all round.

    References
    ----------
    common_practice : one plug apart from its set was bent, dropped or is of another kind.

    Examples
    --------
    >>> odd_gaps([1.1, 1.1, 0.5, 1.1])
    (3,)
    """
    gaps = row("Plug gaps", gaps_mm, "mm", least=3)
    middle = median(above_zero("Gap", gap, "mm") for gap in gaps)
    error = not_below_zero("Gap error", gap_se_mm, "mm")
    needed = max(not_below_zero("Allowed difference", allowed_mm, "mm"), 3.0 * error)
    return tuple(place for place, gap in enumerate(gaps, start=1) if abs(gap - middle) > needed)
