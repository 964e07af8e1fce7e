"""Faults that come and go: how often they show, and which readings share one look.

A look is one moment at the car under one set of conditions. A fault that comes and goes is on or off in it, the same
for all its readings: ten good readings of one evening are little more than one. How often it shows is a number of that
car, one for each condition, that stays: a fault that showed once under that condition is likelier to show again.

The number falls as a Beta distribution with the library's share as its mean; it is taken at the points of Gauss's
quadrature for that distribution, which gives the chance of any pattern of up to five looks without error.

References
----------
Golub and Welsch, Calculation of Gauss quadrature rules, Mathematics of Computation 23 (1969), 221-230 (from memory).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from datetime import datetime, timedelta
from functools import lru_cache

import numpy as np

from knowngood.belief.acting import Regime
from knowngood.belief.protocol import Array
from knowngood.evidence import Entry
from knowngood.library.records import Fault

Look = tuple[str, int, int]
"""Condition, session, and moment between works."""

LOOKS_WORTH = 2.0  # the library's share of looks counts as if so many looks of this car had been seen; from memory
POINTS = 3  # give the first five moments, so any pattern of up to five looks, without error
SESSION_ENDS = timedelta(hours=4)  # without an entry: the car has cooled, another look begins; from memory
_OF_MODIFIER = {"wet": "wet", "bump": "shaken", "turn": "shaken", "electrical load": "load", "hot soak": "hot"}
_OF_REGIME = {
    "cold start": "cold",
    "cold idle": "cold",
    **dict.fromkeys(("hot idle", "hot restart", "cruise", "pull", "high speed", "overrun"), "hot"),
}


def condition_of(regime: Regime) -> str:
    """Which of the numbers of a fault that comes and goes counts: what was added to the regime before the regime."""
    for modifier, condition in _OF_MODIFIER.items():
        if modifier in regime.modifiers:
            return condition
    return _OF_REGIME.get(regime.name, "any")


def share_shown(fault: Fault, condition: str) -> float:
    """Share of looks under a condition in which a fault shows, the middle over cars."""
    return fault.shows.get(condition, fault.shows.get("any", 1.0))


@lru_cache(maxsize=256)
def quadrature(mean: float) -> tuple[Array, Array]:
    """Shares of looks in which a fault may show (point,), and the chance of each (point,), about a mean share.

    Examples
    --------
    >>> points, chance = quadrature(0.5)
    >>> f"{points.round(4)} {chance.round(4)} {(points @ chance).round(6)}"
    '[0.1127 0.5    0.8873] [0.2778 0.4444 0.2778] 0.5'
    """
    if mean in (0.0, 1.0):
        return np.array([mean]), np.ones(1)
    a, b = LOOKS_WORTH * mean, LOOKS_WORTH * (1.0 - mean)
    n = np.arange(POINTS)
    # recurrence of the polynomials that are orthogonal under x^(a-1) (1-x)^(b-1) on 0..1
    total = 2.0 * n + a + b
    middle = np.empty(POINTS)
    middle[0] = a / (a + b)
    later = total[1:]
    middle[1:] = 0.5 * (1.0 + ((a - 1.0) ** 2 - (b - 1.0) ** 2) / (later * (later - 2.0)))
    k = n[1:]
    s = 2.0 * k + a + b - 2.0
    beside = k * (k + a - 1.0) * (k + b - 1.0) * (k + a + b - 2.0)
    beside[0] = a * b  # where the general form is nought over nought
    scale = s**2 * (s + 1.0) * (s - 1.0)
    scale[0] = (a + b) ** 2 * (a + b + 1.0)
    side = np.sqrt(beside / scale)
    points, vectors = np.linalg.eigh(np.diag(middle) + np.diag(side, 1) + np.diag(side, -1))
    return points, vectors[0] ** 2


def pattern_chance(mean: float, shown: int, looks: int) -> float:
    """Chance that a fault shows in just these ``shown`` of ``looks`` looks under one condition."""
    points, chance = quadrature(mean)
    return float(math.fsum(chance * points**shown * (1.0 - points) ** (looks - shown)))


def sessions(entries: Sequence[Entry]) -> list[int]:
    """Number of the session of each entry, from 1 on: those that name one look, or follow within a few hours."""
    result: list[int] = []
    before: Entry | None = None
    for entry in entries:
        new = before is None or (
            entry.look != before.look if entry.look and before.look else _later(before.at, entry.at)
        )
        result.append((result[-1] if result else 0) + new)
        before = entry
    return result


def _later(first: str, second: str) -> bool:
    try:
        return datetime.fromisoformat(second) - datetime.fromisoformat(first) > SESSION_ENDS
    except ValueError:  # no moment in time: nothing tells them apart
        return False
