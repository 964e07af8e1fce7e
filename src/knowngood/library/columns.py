"""Readings and codes as tables of chances: one row of answers for each level, numbers cut into bands.

This is the library seen alone: one reading, one level, no car. What the chances of
faults really become is worked out elsewhere, with the meter and the other cylinders.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from knowngood.library.reach import good_level
from knowngood.library.records import Code, Library, ReadingKind, Spread
from knowngood.library.steps import at_level

Array = NDArray[np.float64]
BANDS = 12  # from 6 to 48, all checks together tell the same faults of our library apart (tried)
_FINE = 480  # points the edges of the bands are looked for among
_STEPS_AWAY = 6.0
"""Bands reach six spreads past the outermost bells."""


def rows(library: Library, kind: ReadingKind | Code, levels: Sequence[str | int]) -> Array:
    """What is answered at each level.

    Parameters
    ----------
    library : Library
    kind : ReadingKind or Code
    levels : sequence of levels (words, or whole steps of a signed sum)

    Returns
    -------
    array (levels, answers)
        Each row sums to 1. The answers are the words; of a code, first that it is not set, then that it is; of a
        number its bands, then zero, then open.
    """
    if isinstance(kind, Code):
        chance = np.array([at_level(kind.set, level) or 0.0 for level in levels])
        return np.column_stack([1.0 - chance, chance])
    if kind.words:
        return np.array([[kind.chance[str(level)][word] for word in kind.words] for level in levels])
    return _banded(kind, [_spread(library, kind, level) for level in levels])


def _spread(library: Library, kind: ReadingKind, level: str | int) -> Spread:
    if isinstance(level, int):
        return Spread(at=kind.offset + kind.per_step * level, spread=kind.noise)
    good = str(good_level(library, kind))
    return kind.spread.get(str(level)) or kind.spread[good]


def _banded(kind: ReadingKind, spreads: Sequence[Spread]) -> Array:
    """Chances of bands of equal share of the mean of all levels, with gross errors spread evenly over them."""
    in_log = all(_low(spread) is None or _low(spread) > 0 for spread in spreads)  # type: ignore[operator]
    ends = [end for spread in spreads for end in _ends(spread, in_log)]
    if not ends:
        table = np.array([[spread.zero, spread.open] for spread in spreads])
        return (1.0 - kind.gross) * table + kind.gross / 2
    grid = np.linspace(min(ends), max(ends), _FINE)
    fine = np.array([_mass(spread, grid, in_log) for spread in spreads])
    share = np.cumsum(fine.mean(axis=0))
    band = np.minimum((share / share[-1] * BANDS).astype(int), BANDS - 1)
    bands = np.array([np.bincount(band, weights=row, minlength=BANDS) for row in fine])
    table = np.column_stack([bands, [spread.zero for spread in spreads], [spread.open for spread in spreads]])
    return (1.0 - kind.gross) * table + kind.gross / table.shape[1]


def _low(spread: Spread) -> float | None:
    return spread.low if spread.at is None else spread.at - _STEPS_AWAY * (spread.spread or 0.0)


def _ends(spread: Spread, in_log: bool) -> list[float]:
    if spread.at is not None and spread.spread is not None:
        reach = _STEPS_AWAY * spread.spread
        ends = [spread.at - reach, spread.at + reach]
    elif spread.low is not None and spread.high is not None:
        ends = [spread.low, spread.high]
    else:
        return []
    return [math.log(end) for end in ends] if in_log else ends


def _mass(spread: Spread, grid: Array, in_log: bool) -> Array:
    """Chance on each point of the grid, with what is left beside zero and open."""
    left = 1.0 - spread.zero - spread.open
    values = np.exp(grid) if in_log else grid
    if spread.at is not None and spread.spread is not None:
        density = np.exp(-0.5 * ((values - spread.at) / spread.spread) ** 2) * (values if in_log else 1.0)
    elif spread.low is not None and spread.high is not None:
        inside = (values >= spread.low) & (values <= spread.high)
        values = np.where(inside, values, 1.0)
        density = inside * (1.0 / values if spread.low > 0 and not in_log else np.ones_like(values))
    else:
        return np.zeros_like(grid)
    total = density.sum()
    return left * density / total if total > 0 else np.full_like(grid, left / len(grid))
