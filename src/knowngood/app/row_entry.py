"""A row of numbers while it is being typed: how each stands to the others, before anything is kept."""

from __future__ import annotations

from collections.abc import Sequence
from statistics import median

from knowngood.app.taps import Fields, typed_row
from knowngood.app.unit_meant import unit_meant
from knowngood.errors import Refused
from knowngood.library.records import Library
from knowngood.lines.amounts import slip
from knowngood.units import Quantity, kind_named

LEAST_APART = 0.02  # a difference under this share of the others is not worth a word


def spread_of(library: Library, fields: Fields) -> str:
    """What the numbers typed so far say of each other, in one or two sentences; empty where there is nothing to say.

    Parameters
    ----------
    library : Library
    fields : sequence of (name, value)
        As in :mod:`knowngood.app.taps`; a number that is not finished is left out.
    """
    given = dict(fields)
    typed = [(name.split("|"), value.strip()) for name, value in fields if name.startswith("number|") and value.strip()]
    kinds = {name[1] for name, _ in typed if len(name) == 3}
    if len(kinds) != 1 or (kind := library.readings.get(next(iter(kinds)))) is None:
        return ""
    unit = given.get(f"unit|{kind.id}", "")
    row: list[tuple[str, Quantity]] = []
    for name, value in typed:
        try:
            row.append((name[2], typed_row(kind, [value], unit)[0]))
        except Refused:
            continue
    odd = [f"{_label(place)}: {slip(one)}" for place, one in row if slip(one)]
    # One number may not be whole yet: 12 of 120. Of two at least one is.
    meant = unit_meant(library, kind, [one for _, one in row]) if len(row) > 1 and not odd else ""
    odd += [f"{meant[:1].upper()}{meant[1:]}"] if meant else []
    # Against a slip of the unit the others tell nothing, and there is room for two lines only.
    return f"{' '.join(odd)} Save it if it is really so." if odd else _against_others(row)


def _against_others(row: Sequence[tuple[str, Quantity]]) -> str:
    """The one that stands furthest from the middle of the others, in percent of it."""
    if len(row) < 2:
        return ""
    apart = []
    for index, (place, one) in enumerate(row):
        others = median(other.value for at, (_, other) in enumerate(row) if at != index)
        apart.append(((one.value - others) / abs(others) if others else 0.0, place, one, others))
    share, place, one, others = max(apart, key=lambda each: abs(each[0]))
    values = [each.value for _, each in row]
    span = f"From {_shown(one, min(values))} to {_shown(one, max(values))}."
    if abs(share) < LEAST_APART:
        return f"{span} All alike."
    if len(row) == 2:
        return span
    way = "under" if share < 0 else "over"
    return f"{span} {_label(place)} is {abs(share):.0%} {way} the middle of the others ({_shown(one, others)})."


def _label(place: str) -> str:
    return place[:1].upper() + place[1:]


def _shown(like: Quantity, value: float) -> str:
    unit = kind_named(like.kind).unit(like.unit)
    return f"{unit.from_base(value):.4g} {unit.symbol}".rstrip()
