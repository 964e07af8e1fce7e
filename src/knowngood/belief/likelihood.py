"""How likely a reading is at each level of the ladder it stands on.

A number is taken as an interval (its last digit, its meter, its "about"), so
that densities and point masses add up in one currency: chance. Gross errors go
both ways: every level keeps a share ``gross`` of the mean of the others, so one
reading moves odds by at most (1 - gross) / gross.

References
----------
Worked example of conformance: JCGM 106:2012, 7.4 (checked in the tests).
"""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from knowngood.belief.protocol import Array
from knowngood.evidence import Value
from knowngood.library.healthy import JUDGED_BAD, JUDGED_GOOD
from knowngood.library.records import ReadingKind, Spread

METER_SHARE = 0.02  # one standard error of a plain gauge or meter, share of reading; common practice
# "about": how far the truth may lie off, from memory. Wider than the 5 % that units.amount takes the word to mean:
# a number said so is often said from memory, and off by more than it claims.
ABOUT_SHARE = 0.08
OPEN = 1e9  # in any unit: what a meter shows of an open circuit lies beyond it
SWINGS = 0.35  # a range wider than this share of its upper end is no doubt of one value: the value moved; from memory
EXACT_SHARE = 0.004  # no number is taken to be nearer than this share of it, either way; from memory
NONE_SEEN_SHARE = 0.02  # of the healthy level: what a gauge that shows nothing may still hold; from memory
ODD = 1e-6  # least share of a number's best chance that any level keeps; from memory
CALLED_GOOD, CALLED_GOOD_WHEN_BAD = 0.9, 0.3  # chance that a judgement without a number is "good"; from memory


def interval(value: Value) -> tuple[float, float]:
    """Lowest and highest true value a typed number may stand for, before the meter's own error."""
    number = value.number
    if value.sense == "over":
        return number, math.inf
    if value.sense == "under":
        return -math.inf, number
    if value.sense == "range" and value.low is not None and value.high is not None:
        return value.low, value.high
    half = max(value.step / 2.0, EXACT_SHARE * abs(number), 1e-9)
    if value.sense == "about":
        half = max(half, ABOUT_SHARE * abs(number))
    return number - half, number + half


def bell_below(x: float) -> float:
    """Chance that a standard bell-shaped value is below ``x``."""
    return 0.5 * math.erfc(-x / math.sqrt(2.0))


def _even(low: float, high: float, a: float, b: float, *, in_log: bool) -> float:
    if in_log:
        a, b, low, high = math.log(max(a, 1e-12)), math.log(max(b, 1e-12)), math.log(low), math.log(high)
    return max(0.0, min(b, high) - max(a, low)) / (high - low)


@lru_cache(maxsize=1 << 16)
def spread_chance(spread: Spread, low: float, high: float, scale: float = 1.0, noise: float = METER_SHARE) -> float:
    """Chance that a value falling as ``spread`` says (times ``scale``) reads between ``low`` and ``high``.

    Parameters
    ----------
    spread : Spread
        A bell about ``at``, or even (in log where all is above 0) from ``low`` to ``high``; with point masses at zero
        and at an open circuit. In the base unit of the kind of reading, or as a share of the healthy level.
    low, high : float [base unit]
        Of the reading.
    scale : float
        The healthy level [base unit] for a spread told as a share of it; else 1.
    noise : float
        One standard error of the meter, as a share of the value.
    """
    mass = 1.0 - spread.zero - spread.open
    chance = 0.0
    if spread.zero and low <= 0.0 <= high:
        chance += spread.zero
    if spread.open and high >= OPEN:
        chance += spread.open
    if mass <= 0.0:
        return chance
    if spread.at is not None and spread.spread is not None:
        centre = spread.at * scale
        sigma = math.hypot(spread.spread * scale, noise * abs(centre))
        sigma = max(sigma, 1e-9)
        return chance + mass * max(0.0, bell_below((high - centre) / sigma) - bell_below((low - centre) / sigma))
    if spread.low is not None and spread.high is not None:
        a, b = spread.low * scale, spread.high * scale
        # the meter blurs the interval, not the wide span behind it: wider by the blur at both ends, and as much thinner
        blur = noise * abs(0.5 * (max(low, a) + min(high, b))) if math.isfinite(low + high) else 0.0
        wide = max(high - low, 1e-12) if math.isfinite(high - low) else 1.0
        share = _even(a, b, low - blur, high + blur, in_log=a > 0.0)
        thinned = wide / (wide + 2 * blur) if math.isfinite(high - low) else 1.0
        return chance + mass * share * thinned
    return chance


def with_gross_errors(table: Array, gross: float) -> Array:
    """Mix each level (axis 0) with the mean of the others."""
    levels = table.shape[0]
    if levels < 2:
        return table
    others = (table.sum(axis=0, keepdims=True) - table) / (levels - 1)
    return (1.0 - gross) * table + gross * others


def odd_kept(table: Array) -> Array:
    """No number is impossible: outside every span, at every level and healthy level, it is odd and speaks for none."""
    most = float(table.max())
    return np.maximum(table, ODD * most) if most > 0.0 else np.ones_like(table)


def word_table(kind: ReadingKind, levels: tuple[str, ...], word: str) -> Array:
    """Chance of one word at each level (level,)."""
    if word in kind.words:
        return np.array([kind.chance[level].get(word, 0.0) for level in levels])
    good = np.array([CALLED_GOOD] + [CALLED_GOOD_WHEN_BAD] * (len(levels) - 1))
    if word in JUDGED_GOOD:
        return good
    if word in JUDGED_BAD:
        return 1.0 - good
    return np.ones(len(levels))


def sum_table(kind: ReadingKind, steps: range, value: Value) -> Array:
    """Chance of a number at each step of a signed sum (step,); the last step at either end stands for all beyond."""
    low, high = interval(value)
    ends = sorted((kind.offset + kind.per_step * steps[0], kind.offset + kind.per_step * steps[-1]))
    if low > ends[1]:
        low, high = ends[1], ends[1] + (high - low)
    elif high < ends[0]:
        low, high = ends[0] - (high - low), ends[0]
    return np.array(
        [
            spread_chance(Spread(at=kind.offset + kind.per_step * step, spread=kind.noise), low, high, noise=0.0)
            for step in steps
        ]
    )


def span_of(spread: Spread, scale: float) -> tuple[float, float]:
    """Where nearly all values that fall as ``spread`` says (times ``scale``) lie, point masses left out."""
    if spread.at is not None and spread.spread is not None:
        return (spread.at - 3.0 * spread.spread) * scale, (spread.at + 3.0 * spread.spread) * scale
    return (spread.low or 0.0) * scale, (spread.high or 0.0) * scale


def covered(spread: Spread, low: float, high: float, scale: float) -> float:
    """Share of ``low`` to ``high`` that values falling as ``spread`` says can take."""
    first, last = span_of(spread, scale)
    return max(0.0, min(last, high) - max(first, low)) / (high - low)


def number_table(kind: ReadingKind, levels: tuple[str, ...], value: Value, scale: float = 1.0) -> Array:
    """Chance of a number at each level (level,), healthy level given as ``scale`` for a relative kind.

    A wide range is a value that moved: a level explains as much of it as its values can cover.
    """
    if value.sense == "range" and value.low is not None and value.high is not None:
        low, high = value.low, value.high
        if high - low > SWINGS * abs(high):
            return np.array([covered(kind.spread[level], low, high, scale) for level in levels])
    low, high = interval(value)
    if value.sense == "none seen":
        low, high = -1e-9, max(1e-9, NONE_SEEN_SHARE * scale)
    return np.array([spread_chance(kind.spread[level], low, high, scale) for level in levels])


def level_grid(low: float, high: float, points: int) -> Array:
    """Healthy levels a car of unknown specification may have: even in log over the plausible span (point,)."""
    edges = np.linspace(math.log(low), math.log(high), points + 1)
    return np.exp(0.5 * (edges[:-1] + edges[1:]))
