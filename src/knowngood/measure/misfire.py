"""Misfire counts: how many firings there were, what share failed, which cylinder holds them.

A count means nothing without the revolutions that were watched: the monitor pauses on rough roads and fast
throttle, so a low count may be a short watch.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from knowngood.errors import NotMeasurable
from knowngood.measure.bracket import Bracket
from knowngood.measure.counting import share_limits
from knowngood.measure.given import above_zero, whole


@dataclass(frozen=True, slots=True)
class MisfireRate:
    """Share of firings that failed, with exact limits [%], and the count per 1000 revolutions."""

    percent: Bracket
    per_1000_rev: float
    firings: int


@dataclass(frozen=True, slots=True)
class CylinderShares:
    """Share of all misfires per cylinder [%] with its standard error as a count, and the code that fits them.

    `code` is 'one cylinder' (`cylinders` holds it), 'several cylinders' (`cylinders` holds those over 10 %) or
    'either' (the shares meet neither rule).
    """

    shares_pct: dict[int, float]
    shares_se_pct: dict[int, float]
    code: str
    cylinders: tuple[int, ...]


def firings(revolutions: float, cylinders: int) -> int:
    """Firings of a four-stroke engine in a number of crank revolutions.

    Parameters
    ----------
    revolutions : float
        Crank revolutions.
    cylinders : int
        Cylinders of the engine.

    Returns
    -------
    firings : int
        Revolutions x cylinders / 2, rounded down.

    Raises
    ------
    NotMeasurable
        Revolutions not above zero, or no cylinder.

    Notes
    -----
    Cannot tell: how many revolutions the monitor really watched.

    Examples
    --------
    >>> firings(1000, 6)
    3000
    """
    return int(above_zero("Revolutions", revolutions, "") * whole("Number of cylinders", cylinders, 1) / 2.0)


def dead_cylinder_pct(cylinders: int) -> float:
    """Share of all firings that fail when one cylinder never fires.

    Parameters
    ----------
    cylinders : int
        Cylinders of the engine.

    Returns
    -------
    percent : float [%]

    Raises
    ------
    NotMeasurable
        No cylinder.

    Notes
    -----
    Cannot tell: a dead cylinder from two that fire half of the time; the count per cylinder does.

    Examples
    --------
    >>> dead_cylinder_pct(6)  # doctest: +ELLIPSIS
    16.66...
    """
    return 100.0 / whole("Number of cylinders", cylinders, 1)


def misfire_rate(misfires: int, revolutions: float, cylinders: int, *, confidence: float = 0.95) -> MisfireRate:
    """Share of the firings watched that failed.

    Parameters
    ----------
    misfires : int
        Misfires counted.
    revolutions : float
        Crank revolutions over which they were counted.
    cylinders : int
        Cylinders the count covers: all, or 1 for the counter of one cylinder.
    confidence : float
        Chance that the limits hold the share.

    Returns
    -------
    rate : MisfireRate

    Raises
    ------
    NotMeasurable
        More misfires than firings, revolutions not above zero, or a broken count.

    Notes
    -----
    Cannot tell: the share on another drive. Misfires cluster, so the limits are those of this watch and too
    narrow for the next; compare drives by blocks (`misfire_change`).

    References
    ----------
    clopper_pearson_1934 : Clopper and Pearson, The use of confidence or fiducial limits, Biometrika 26 (1934), 404.

    Examples
    --------
    >>> rate = misfire_rate(20, 1000, 4)
    >>> f"{rate.percent.low:.2f} to {rate.percent.high:.2f} %, {rate.percent.value:.1f} % of {rate.firings}"
    '0.61 to 1.54 %, 1.0 % of 2000'
    """
    tries = firings(revolutions, cylinders)
    count = whole("Number of misfires", misfires, 0)
    if count > tries:
        raise NotMeasurable(
            f"{count} misfires are more than the {tries} firings in {revolutions:g} revolutions.",
            "Check the revolutions watched, or whether the counter ran over several drives.",
        )
    share = share_limits(count, tries, confidence=confidence)
    percent = Bracket(100.0 * share.low, 100.0 * share.value, 100.0 * share.high)
    return MisfireRate(percent, 1000.0 * count / revolutions, tries)


def cylinder_shares(misfires: Mapping[int, int]) -> CylinderShares:
    """Which cylinders hold the misfires, by the rule that decides the code stored.

    Over 90 % in one cylinder allows a code for that one alone; two or more with over 10 % each ask for the code
    for several.

    Parameters
    ----------
    misfires : mapping of int to int
        Misfires counted by cylinder number; cylinders that were not read are left out, not set to zero.

    Returns
    -------
    shares : CylinderShares

    Raises
    ------
    NotMeasurable
        Fewer than two cylinders, no misfire at all, or a broken count.

    Notes
    -----
    Cannot tell: the cause, or whether a count by number sits at the place that number has on this engine.

    References
    ----------
    ccr_1968_2 : California, 13 CCR 1968.2 (e)(3.1.3), reprint of 9 November 2007.

    Examples
    --------
    >>> cylinder_shares({1: 2, 2: 96, 3: 1, 4: 1}).code
    'one cylinder'
    >>> cylinder_shares({1: 40, 2: 3, 3: 52, 4: 5}).cylinders
    (1, 3)
    """
    if len(misfires) < 2:
        raise NotMeasurable(f"Counts of {len(misfires)} cylinder given.", "Shares need the counts of all cylinders.")
    counts = {cylinder: whole(f"Misfires of cylinder {cylinder}", n, 0) for cylinder, n in misfires.items()}
    total = sum(counts.values())
    if total == 0:
        raise NotMeasurable("No misfire in any cylinder.", "Use the limit for none seen in the revolutions watched.")
    shares = {cylinder: 100.0 * n / total for cylinder, n in counts.items()}
    errors = {cylinder: math.sqrt(share * (100.0 - share) / total) for cylinder, share in shares.items()}
    # counts, not percentages, are compared: 10 % and 90 % themselves must not depend on rounding
    alone = tuple(cylinder for cylinder, n in counts.items() if 10 * n > 9 * total)
    several = tuple(sorted(cylinder for cylinder, n in counts.items() if 10 * n > total))
    if alone:
        return CylinderShares(shares, errors, "one cylinder", alone)
    if len(several) >= 2:
        return CylinderShares(shares, errors, "several cylinders", several)
    return CylinderShares(shares, errors, "either", several)


def clustering(counts: Sequence[int]) -> tuple[float, float]:
    """Variance over mean of counts from equal blocks: 1 when misfires come alone and at random.

    Parameters
    ----------
    counts : sequence of int
        Misfires in each block of equal length, 5 blocks or more.

    Returns
    -------
    index, chance_by_luck : tuple of float
        The index, and the chance of one at least as high from independent events of one rate.

    Raises
    ------
    NotMeasurable
        Fewer than five blocks, a count that is not whole, or no misfire in any.

    Notes
    -----
    Cannot tell: bursts from a rate that drifts with load or temperature.

    References
    ----------
    fisher_dispersion : Fisher, Statistical methods for research workers, index of dispersion (from memory).

    Examples
    --------
    >>> index, luck = clustering([0, 0, 9, 8, 0, 0, 0, 7, 0, 0])
    >>> f"{index:.1f} {luck:.0e}"
    '6.3 5e-09'
    """
    from scipy.special import gammaincc

    if len(counts) < 5:
        raise NotMeasurable(f"{len(counts)} blocks given.", "Clustering needs 5 or more.")
    blocks = [whole(f"Count of block {place}", n, 0) for place, n in enumerate(counts, start=1)]
    mean = math.fsum(blocks) / len(blocks)
    if mean == 0.0:
        raise NotMeasurable("No misfire in any block.", "Use the limit for none seen.")
    squares = math.fsum((n - mean) ** 2 for n in blocks)
    freedom = len(blocks) - 1
    return squares / freedom / mean, float(gammaincc(freedom / 2.0, squares / mean / 2.0))
