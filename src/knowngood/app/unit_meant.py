"""A row that no sound car reads in the unit beside its fields, and every sound one in another: that one was meant."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.library.records import Library, ReadingKind
from knowngood.lines.amounts import plain
from knowngood.units import Quantity, kind_named

SPREADS = 3.0  # standard deviations to either side that are still taken for a sound car's; common practice


def unit_meant(library: Library, kind: ReadingKind, row: Sequence[Quantity]) -> str:
    """What is odd about the unit of a row; empty where nothing is.

    A unit stands beside the fields before a hand taps one: 11.8 typed for bar is a dead engine in psi. It is asked
    about only where every number is a sound car's in one other unit, in which numbers of that size are usual, and none
    is in the unit that stands there: one dead cylinder amid sound ones is no slip.

    Parameters
    ----------
    row : sequence of Quantity
        Of that kind, typed in one unit; those without end are left out.
    """
    span = healthy_span(library, kind)
    row = [one for one in row if one.amount.sense != "over"]
    if span is None or not row:
        return ""
    measured = kind_named(kind.quantity)
    unit = measured.unit(row[0].unit)
    typed = [one.amount.value for one in row]
    own = [guess for guess in measured.guesses if guess.unit == unit.name]
    if any(guess.low <= number <= guess.high for guess in own for number in typed):
        return ""
    if any(span[0] <= one.value <= span[1] for one in row):
        return ""
    for guess in measured.guesses:
        other = measured.unit(guess.unit)
        if all(guess.low <= one <= guess.high and span[0] <= other.to_base(one) <= span[1] for one in typed):
            here, there = unit.symbol or unit.name, other.symbol or other.name
            said = f"{plain(typed[0])} is" if len(typed) == 1 else "these are"
            return f"{said} far from sound in {here}, as on a sound car in {there}; {there} meant?"
    return ""


def healthy_span(library: Library, kind: ReadingKind) -> tuple[float, float] | None:
    """Between what values a sound car reads, in the base unit; nothing where no span is known for every car."""
    if kind.relative:
        return (kind.healthy.low, kind.healthy.high) if kind.healthy is not None else None
    ladder = library.ladders.get(kind.on)
    levels = kind.levels or (ladder.levels if ladder is not None else ())
    spread = kind.spread.get(levels[0]) if levels else None
    if spread is None:
        return None
    if spread.at is not None and spread.spread is not None:
        return spread.at - SPREADS * spread.spread, spread.at + SPREADS * spread.spread
    return (spread.low, spread.high) if spread.low is not None and spread.high is not None else None
