"""How many clean drives, or how many clean kilometres, before a repair counts as proven."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from knowngood.errors import NotMeasurable
from knowngood.measure.given import above_zero, finite, whole

MOST_DRIVES = 10_000


@dataclass(frozen=True, slots=True)
class CleanDrives:
    """Clean drives that bring the chance of a fault left under the limit wanted.

    `chance_left` holds after `drives` clean drives, `chance_one_short` after one fewer (the same where none is needed).
    """

    drives: int
    chance_left: float
    chance_one_short: float


@dataclass(frozen=True, slots=True)
class CleanRun:
    """Clean distance that brings the chance of a fault left to the limit wanted."""

    distance_km: float
    chance_left: float


def chance_left(chance_before: float, shows_in_one: float, clean_drives: int) -> float:
    """Chance that a fault is still there after drives on which it did not show.

    Bayes' rule: a fault that is left stays hidden on a drive with chance 1 - `shows_in_one`, each time anew.

    Parameters
    ----------
    chance_before : float
        Chance that the fault is still there before the first drive, between 0 and 1.
    shows_in_one : float
        Chance that it would show on one drive if it were there, between 0 and 1.
    clean_drives : int
        Drives without any sign of it.

    Returns
    -------
    chance : float

    Raises
    ------
    NotMeasurable
        A chance at or outside 0 or 1, or a negative or broken number of drives.

    Notes
    -----
    Cannot tell: anything from drives under conditions in which the fault never showed. Cold, wet or loaded
    faults need cold, wet or loaded drives.

    Examples
    --------
    >>> f"{chance_left(0.3, 0.2, 14):.4f}"
    '0.0185'
    """
    odds = _odds("Chance that the fault is left", chance_before)
    hidden = 1.0 - _chance("Chance that it shows on one drive", shows_in_one)
    return _chance_of(odds * hidden ** whole("Number of clean drives", clean_drives, 0))


def clean_drives_needed(chance_before: float, shows_in_one: float, wanted: float) -> CleanDrives:
    """Number of clean drives that brings the chance of a fault left under a limit.

    Parameters
    ----------
    chance_before : float
        Chance that the fault is still there before the first drive.
    shows_in_one : float
        Chance that it would show on one drive if it were there.
    wanted : float
        Chance of a fault left that is accepted.

    Returns
    -------
    plan : CleanDrives

    Raises
    ------
    NotMeasurable
        A chance at or outside 0 or 1, or more than 10,000 drives would be needed.

    Notes
    -----
    Cannot tell: how well `shows_in_one` is known. When it comes from a few drives use `clean_drives_from_history`.

    Examples
    --------
    >>> plan = clean_drives_needed(0.3, 0.2, 0.02)
    >>> plan.drives, f"{plan.chance_left:.4f}", f"{plan.chance_one_short:.4f}"
    (14, '0.0185', '0.0230')
    """
    hidden = 1.0 - _chance("Chance that it shows on one drive", shows_in_one)
    return _fewest_drives(chance_before, wanted, lambda drives: hidden**drives)


def clean_drives_from_history(chance_before: float, times_shown: int, drives: int, wanted: float) -> CleanDrives:
    """Number of clean drives needed when all that is known is how often the fault showed before.

    How often it shows is itself uncertain; it is summed out with a Jeffreys prior, so that two shows in ten
    drives ask for more clean drives than a sure one in five.

    Parameters
    ----------
    chance_before : float
        Chance that the fault is still there before the first clean drive.
    times_shown, drives : int
        Drives before the repair on which it showed, of how many.
    wanted : float
        Chance of a fault left that is accepted.

    Returns
    -------
    plan : CleanDrives

    Raises
    ------
    NotMeasurable
        It never showed, showed more often than there were drives, a chance at or outside 0 or 1, or more than
        10,000 drives would be needed.

    Notes
    -----
    Cannot tell: whether the new drives are like the old ones.

    References
    ----------
    jeffreys_prior : common practice in statistics, Beta(1/2, 1/2) for a share.

    Examples
    --------
    >>> clean_drives_from_history(0.3, 2, 10, 0.02).drives
    22
    """
    n, k = whole("Number of drives before", drives, 1), whole("Times it showed", times_shown, 0)
    if k > n:
        raise NotMeasurable(f"It showed {k} times on {n} drives.", "Count drives on which it showed, once each.")
    if k == 0:
        raise NotMeasurable(
            f"It never showed on {n} drives.", "Clean drives prove nothing yet: find how to provoke it first."
        )
    shows, hides = k + 0.5, n - k + 0.5

    def hidden(clean: int) -> float:
        return math.exp(
            math.lgamma(hides + clean)
            - math.lgamma(shows + hides + clean)
            - math.lgamma(hides)
            + math.lgamma(shows + hides)
        )

    return _fewest_drives(chance_before, wanted, hidden)


def clean_run_needed(chance_before: float, times_shown: int, over_km: float, wanted: float) -> CleanRun:
    """Clean distance needed for a fault that shows at random while driving.

    The rate is known from `times_shown` over a distance only; it is summed out with a Jeffreys prior:
    hidden over L with chance (over / (over + L)) ** (times_shown + 1/2).

    Parameters
    ----------
    chance_before : float
        Chance that the fault is still there before the clean run.
    times_shown : int
        Independent times it showed before the repair, 1 or more.
    over_km : float [km]
        Distance over which it showed so often.
    wanted : float
        Chance of a fault left that is accepted.

    Returns
    -------
    run : CleanRun

    Raises
    ------
    NotMeasurable
        It never showed, the distance is not above zero, or a chance is at or outside 0 or 1.

    Notes
    -----
    Cannot tell: anything about a fault that shows in spells; count a spell once.

    References
    ----------
    jeffreys_prior : common practice in statistics, Gamma(k + 1/2) for a rate.

    Examples
    --------
    >>> run = clean_run_needed(0.3, 6, 100.0, 0.02)
    >>> f"{run.distance_km:.0f} km"
    '60 km'
    """
    k = whole("Times it showed", times_shown, 0)
    before_km = above_zero("Distance before the repair", over_km, "km")
    if k == 0:
        raise NotMeasurable(
            f"It never showed over {before_km:g} km.", "A clean run proves nothing yet: find how to provoke it first."
        )
    hidden = _odds("Chance wanted", wanted) / _odds("Chance that the fault is left", chance_before)
    if hidden >= 1.0:
        return CleanRun(0.0, chance_before)
    return CleanRun(before_km * (hidden ** (-1.0 / (k + 0.5)) - 1.0), wanted)


def _fewest_drives(chance_before: float, wanted: float, hidden: Callable[[int], float]) -> CleanDrives:
    odds, limit = _odds("Chance that the fault is left", chance_before), _odds("Chance wanted", wanted)
    if odds * hidden(MOST_DRIVES) > limit:
        raise NotMeasurable(
            f"More than {MOST_DRIVES} clean drives would be needed to come under {wanted:g}.",
            "Find how to provoke the fault, or test the part itself.",
        )
    low, high = -1, MOST_DRIVES  # not enough, enough
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if odds * hidden(middle) <= limit else (middle, high)
    return CleanDrives(high, _chance_of(odds * hidden(high)), _chance_of(odds * hidden(max(high - 1, 0))))


def _chance(name: str, chance: float) -> float:
    if not 0.0 < finite(name, chance, "") < 1.0:
        raise NotMeasurable(f"{name} is {chance:g}.", "Give a chance above 0 and below 1.")
    return float(chance)


def _odds(name: str, chance: float) -> float:
    return _chance(name, chance) / (1.0 - chance)


def _chance_of(odds: float) -> float:
    return odds / (1.0 + odds)
