"""What a row over the cylinders says as a whole: two groups of one size, or all alike and not as is usual.

Three alike and one far off accuse the one. Where no majority is, the row cannot tell which half is right; where all are
alike it cannot tell a car from its like, only from the usual span. Both are said beside the chances, which hold them.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from knowngood.belief.likelihood import METER_SHARE
from knowngood.car import Car, Place
from knowngood.evidence import Entry, Reading
from knowngood.library.records import Library, ReadingKind

LEAST_ROW = 3  # of two that differ neither is the odd one
APART = 4.0  # standard deviations of a difference between two healthy ones; from memory


@dataclass(frozen=True)
class RowSaid:
    """What a row says.

    Parameters
    ----------
    entries : tuple of int
    groups : tuple of tuple of (Place, number)
        Two, the lower first; or one, of all.
    usual : (low, high) or None
        The plausible span that a row that is all alike falls out of.
    """

    entries: tuple[int, ...]
    groups: tuple[tuple[tuple[Place, float], ...], ...]
    usual: tuple[float, float] | None = None


def rows_said(library: Library, car: Car, entries: Sequence[Entry]) -> Iterator[RowSaid]:
    """What the rows say that were typed in one line each, of kinds without a specification.

    Parameters
    ----------
    library, car
    entries : sequence of Entry
    """
    together: dict[tuple[str, str], list[int]] = {}
    for index, entry in enumerate(entries):
        body = entry.body
        if isinstance(body, Reading) and not body.doubt and body.place.kind == "cylinder" and body.value is not None:
            kind = library.readings.get(body.kind)
            if kind is not None and kind.relative and kind.id not in car.windows and body.value.number > 0.0:
                together.setdefault((entry.line, kind.id), []).append(index)
    for (_, name), rows in together.items():
        said = _said(library.readings[name], tuple(rows), [entries[row].body for row in rows])
        if said is not None:
            yield said


def _said(kind: ReadingKind, rows: tuple[int, ...], bodies: Sequence[object]) -> RowSaid | None:
    values = sorted(
        ((one.place, one.value.number) for one in bodies if isinstance(one, Reading) and one.value is not None),
        key=lambda value: value[1],
    )
    spreads = [one.spread for one in kind.spread.values() if one.at is not None and one.spread is not None]
    if len(values) < LEAST_ROW or not spreads or kind.healthy is None:
        return None
    apart = APART * math.sqrt(2.0) * math.hypot(min(spreads), METER_SHARE)
    gaps = [math.log(b / a) for (_, a), (_, b) in itertools.pairwise(values)]
    if math.log(values[-1][1] / values[0][1]) <= apart:
        usual = (kind.healthy.low, kind.healthy.high)
        middle = values[len(values) // 2][1]  # of an even row the upper of the two: alike as they are
        return None if usual[0] <= middle <= usual[1] else RowSaid(rows, (tuple(values),), usual)
    at = gaps.index(max(gaps)) + 1
    if 2 * at != len(values) or max([*gaps[: at - 1], *gaps[at:]], default=0.0) > apart:
        return None
    return RowSaid(rows, (tuple(values[:at]), tuple(values[at:])))
