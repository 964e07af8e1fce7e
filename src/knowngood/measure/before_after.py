"""Before and after a repair, with a session (one drive, one idle run) as one observation.

Samples within one session are not independent: on real drives of a healthy car with nothing changed, a test on
samples called a change in 86 to 92 of 100 comparisons, a test on session means in 3 to 5.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from knowngood.errors import NotMeasurable
from knowngood.measure.bracket import Bracket, two_sided_tail
from knowngood.measure.given import above_zero, between, not_below_zero, row, whole

SURE_WITHOUT_SCATTER = 4.0
"""Standard deviations between sessions that a change has to exceed where a side has one session (ours)."""


@dataclass(frozen=True, slots=True)
class SessionChange:
    """Difference after minus before, its interval, and what may be said; unit of the readings.

    `verdict` is 'changed', 'no change shown' or 'cannot tell'. `chance_by_luck` is the two-sided chance of a
    difference this large with nothing changed.
    """

    before: float
    after: float
    difference: float
    se: float
    low: float
    high: float
    chance_by_luck: float
    verdict: str


def session_change(
    before: Sequence[float],
    after: Sequence[float],
    *,
    between_sd: float | None = None,
    resolution: float = 0.0,
    confidence: float = 0.95,
) -> SessionChange:
    """Change of a quantity between sessions before and sessions after the work.

    Welch's test on the session means: the two sides may scatter differently. With a single session on a side
    there is no scatter to go by; then the change must exceed four between-session standard deviations.

    Parameters
    ----------
    before, after : sequence of float
        One mean per session, the same quantity and unit.
    between_sd : float, optional
        Standard deviation between sessions with nothing changed; needed when a side has one session.
    resolution : float
        Smallest step of the reading; its share (step / sqrt 12) joins the error of each session. With one session on
        a side `between_sd` holds it already.
    confidence : float
        Chance that the interval holds the difference.

    Returns
    -------
    change : SessionChange

    Raises
    ------
    NotMeasurable
        A side is empty or not finite; one session on a side and no `between_sd`; no scatter and no `resolution`.

    Notes
    -----
    Cannot tell: why it changed. Temperature, electrical load, gear and road must be matched between the sides.

    References
    ----------
    welch_1947 : Welch, The generalization of Student's problem, Biometrika 34 (1947), 28 (from memory).
    satterthwaite_1946 : Satterthwaite, Biometrics Bulletin 2 (1946), 110, degrees of freedom (from memory).

    Examples
    --------
    >>> change = session_change([11.0, 13.5, 12.2], [3.1, 5.2, 4.0])
    >>> f"{change.difference:.1f} ({change.low:.1f} to {change.high:.1f}), {change.verdict}"
    '-8.1 (-10.8 to -5.5), changed'
    """
    first, second = row("Sessions before", before, "", least=1), row("Sessions after", after, "", least=1)
    step = not_below_zero("Resolution", resolution, "")
    tail = two_sided_tail(confidence)
    if min(len(first), len(second)) == 1:
        return _single_session(first, second, between_sd, tail)
    from scipy.special import stdtr, stdtrit

    difference = _mean(second) - _mean(first)
    parts = [(_variance(side) + step**2 / 12.0) / len(side) for side in (first, second)]
    if sum(parts) == 0.0:
        raise NotMeasurable(
            "All sessions before read the same, and so do all after.", "Give the smallest step of the reading."
        )
    se = math.sqrt(sum(parts))
    freedom = sum(parts) ** 2 / sum(
        part**2 / (len(side) - 1) for part, side in zip(parts, (first, second), strict=True)
    )
    reach = float(stdtrit(freedom, 1.0 - tail)) * se
    luck = 2.0 * float(stdtr(freedom, -abs(difference) / se))
    verdict = "changed" if luck < 2.0 * tail else "no change shown"
    return SessionChange(
        _mean(first), _mean(second), difference, se, difference - reach, difference + reach, luck, verdict
    )


def chance_to_see(change: float, between_sd: float, sessions: int, *, confidence: float = 0.95) -> Bracket:
    """Chance that a change of this size is found with so many sessions on each side.

    Noncentral t; Welch's degrees of freedom lie between n - 1 and 2 n - 2, which gives the range.

    Parameters
    ----------
    change : float
        Size of the change that matters, unit of the reading.
    between_sd : float
        Standard deviation between sessions with nothing changed, same unit.
    sessions : int
        Sessions on each side, 2 or more.
    confidence : float
        1 minus the share of false alarms accepted.

    Returns
    -------
    chance : Bracket

    Raises
    ------
    NotMeasurable
        Change or standard deviation not above zero, or fewer than two sessions.

    Notes
    -----
    Cannot tell: whether `between_sd` fits this car. Trim on one healthy car: 1.4 % at idle, 2.1 % between drives.

    References
    ----------
    own_drives : own analysis of 34 idle sessions of one healthy car, 2 to 6 % trim change, 2 to 5 sessions.

    Examples
    --------
    >>> f"{chance_to_see(6.0, 1.44, 3).value:.2f}"
    '0.91'
    """
    from scipy.special import nctdtr, stdtrit

    n = _sessions(sessions)
    shift = above_zero("Change", change, "") / above_zero("Standard deviation between sessions", between_sd, "")
    tail = two_sided_tail(confidence)

    def seen(freedom: float) -> float:
        limit, centre = float(stdtrit(freedom, 1.0 - tail)), shift * math.sqrt(n / 2.0)
        above = float(nctdtr(freedom, centre, limit)) if centre < 30.0 else 0.0
        return 1.0 - above

    return Bracket(seen(n - 1.0), seen(1.5 * (n - 1.0)), seen(2.0 * n - 2.0))


def sessions_needed(change: float, between_sd: float, *, wanted: float = 0.9, confidence: float = 0.95) -> int:
    """Sessions on each side that find a change of this size with the chance wanted.

    Parameters
    ----------
    change, between_sd : float
        As in `chance_to_see`.
    wanted : float
        Chance of finding the change, 0.5 to 0.999.
    confidence : float
        1 minus the share of false alarms accepted.

    Returns
    -------
    sessions : int
        On each side, 2 to 50.

    Raises
    ------
    NotMeasurable
        More than 50 sessions would be needed, or a number is outside its range.

    Notes
    -----
    Cannot tell: smaller changes than the one asked for.

    Examples
    --------
    >>> sessions_needed(6.0, 1.44), sessions_needed(4.0, 1.44)
    (3, 5)
    """
    between("Chance wanted", wanted, 0.5, 0.999, "")
    for sessions in range(2, 51):
        if chance_to_see(change, between_sd, sessions, confidence=confidence).value >= wanted:
            return sessions
    raise NotMeasurable(
        f"A change of {change:g} needs more than 50 sessions a side at a scatter of {between_sd:g}.",
        "Match conditions better, or look for a larger effect.",
    )


def _single_session(
    first: Sequence[float], second: Sequence[float], between_sd: float | None, tail: float
) -> SessionChange:
    if between_sd is None:
        raise NotMeasurable(
            f"One session on a side ({len(first)} before, {len(second)} after) shows no scatter.",
            "Run two more sessions on that side, or give the standard deviation between sessions.",
        )
    from scipy.special import ndtr, ndtri

    sd = above_zero("Standard deviation between sessions", between_sd, "")
    difference = _mean(second) - _mean(first)
    se = sd * math.sqrt(1.0 / len(first) + 1.0 / len(second))
    reach = float(ndtri(1.0 - tail)) * se
    luck = 2.0 * float(ndtr(-abs(difference) / se))
    verdict = "changed" if abs(difference) > SURE_WITHOUT_SCATTER * sd else "cannot tell"
    return SessionChange(
        _mean(first), _mean(second), difference, se, difference - reach, difference + reach, luck, verdict
    )


def _sessions(sessions: int) -> int:
    count = whole("Number of sessions", sessions, 1)
    if count < 2:
        raise NotMeasurable(f"{count} session a side shows no scatter.", "Plan two or more.")
    return count


def _mean(values: Sequence[float]) -> float:
    return math.fsum(values) / len(values)


def _variance(values: Sequence[float]) -> float:
    centre = _mean(values)
    return math.fsum((value - centre) ** 2 for value in values) / (len(values) - 1)
