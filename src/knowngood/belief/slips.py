"""Units mixed up: numbers that make a sick car of a sound one, and would not in another unit.

"Fuel 3 psi" on a car that starts and runs is most likely 3 bar. A slip is offered as an explanation, never assumed: the
number counts as it was typed until it is typed anew.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import msgspec
import numpy as np

from knowngood.belief.elimination import Array
from knowngood.belief.exact import ExactBelief
from knowngood.belief.likelihood import interval
from knowngood.car import ENGINE
from knowngood.evidence import Entry, Reading, Value
from knowngood.units import kind_named

HEALTHIER = 20.0  # so many times likelier on a sound car in the other unit: then it is looked into; from memory
ALIKE = 3.0  # units that fit nearly as well: the one more usual, told first in the list, is meant
LEAST = 1e-300  # a chance has a logarithm
OFFERED = 30.0  # so many times likelier, all else counted: then it is said; one number in a hundred or two is a slip


@dataclass(frozen=True)
class Slip:
    """Entries of one line that fit ``times`` better read in ``meant`` than in ``typed`` (units as they are written)."""

    entries: tuple[int, ...]
    typed: str
    meant: str
    times: float


def in_unit(value: Value, quantity: str, meant: str) -> Value:
    """The number that was typed, taken in another unit.

    Examples
    --------
    >>> value = in_unit(Value(20.684, unit="psi", step=6.895), "fuel_pressure", "bar")
    >>> f"{value.number:.0f} kPa, last digit {value.step:.0f} kPa"
    '300 kPa, last digit 100 kPa'
    """
    units = kind_named(quantity).units
    old, new = units[value.unit], units[meant]

    def turned(number: float | None) -> float | None:
        return None if number is None else new.to_base(old.from_base(number))

    return msgspec.structs.replace(
        value,
        number=new.to_base(old.from_base(value.number)),
        low=turned(value.low),
        high=turned(value.high),
        unit=meant,
        step=value.step * abs(new.factor / old.factor),
    )


def unit_slips(
    belief: ExactBelief, entries: Sequence[Entry], anew: Callable[[Sequence[Entry]], ExactBelief]
) -> list[Slip]:
    """Numbers that fit the rest much better in another unit, the line that gains most first.

    Parameters
    ----------
    belief : ExactBelief
        After ``entries``.
    entries : sequence of Entry
    anew : callable
        The belief after other entries.
    """
    found = []
    for rows, quantity, typed in _rows(belief, entries):
        asked = [_reading(entries[row]) for row in rows]
        others = {
            meant: [_turned(reading, quantity, meant) for reading in asked]
            for meant in kind_named(quantity).units
            if meant != typed
        }
        usual = {meant: read for meant, read in others.items() if all(_is_usual(one, quantity) for one in read)}
        if not usual:
            continue
        sound, odd = _on_a_sound_car(belief, asked, quantity)
        best: Slip | None = None
        for meant, read in usual.items():
            sounder, odder = _on_a_sound_car(belief, read, quantity)
            if sounder - sound < math.log(HEALTHIER):
                continue
            changed = list(entries)
            for row, reading in zip(rows, read, strict=True):
                changed[row] = msgspec.structs.replace(entries[row], body=reading)
            after = anew(changed)
            gain = after.log_chance + odder - belief.log_chance - odd
            if gain >= math.log(ALIKE * best.times if best is not None else OFFERED):
                best = Slip(rows, _written(quantity, typed), _written(quantity, meant), math.exp(min(gain, 700.0)))
        if best is not None:
            found.append(best)
    return sorted(found, key=lambda slip: -slip.times)


def _written(quantity: str, unit: str) -> str:
    return kind_named(quantity).units[unit].symbol or unit


def _is_usual(reading: Reading, quantity: str) -> bool:
    low, high = kind_named(quantity).usual
    return reading.value is not None and low <= reading.value.number <= high


def _reading(entry: Entry) -> Reading:
    assert isinstance(entry.body, Reading)
    return entry.body


def _turned(reading: Reading, quantity: str, meant: str) -> Reading:
    assert reading.value is not None
    return msgspec.structs.replace(reading, value=in_unit(reading.value, quantity, meant))


def _rows(belief: ExactBelief, entries: Sequence[Entry]) -> Iterator[tuple[tuple[int, ...], str, str]]:
    """Numbers typed in one line in one unit: their entries, the kind of measurement, the unit."""
    together: dict[tuple[str, str, str], list[int]] = {}
    bearing = belief.entries_in()
    for row, entry in enumerate(entries):
        body = entry.body
        if row in bearing and isinstance(body, Reading) and body.value is not None and body.value.unit:
            together.setdefault((entry.line, body.kind, body.value.unit), []).append(row)
    for (_, kind, unit), rows in together.items():
        quantity = belief.model.library.readings[kind].quantity
        if quantity and unit in kind_named(quantity).units:
            yield tuple(rows), quantity, unit


def _on_a_sound_car(belief: ExactBelief, readings: Sequence[Reading], quantity: str) -> tuple[float, float]:
    """Log of the chance of readings of one kind on a car with nothing wrong, over its possible healthy levels; and of
    the part of it that no level tells of: a number outside every span falls anywhere in what is usual."""
    clues, acting = belief.model.clues, belief.model.acting
    usual = kind_named(quantity).usual
    total: Array = np.zeros(1)
    odd = 0.0
    for reading in readings:
        for said in clues.from_reading(-1, reading, ENGINE, belief.now):
            ladder = acting.ladders[said.target.ladder]
            healthy = -ladder.low if ladder.combine == "sum" else 0
            total = total + np.log(np.maximum(said.table[..., healthy], LEAST))
            if np.ptp(said.table) == 0.0 and reading.value is not None:
                low, high = interval(reading.value)
                odd += math.log(min((high - low) / (usual[1] - usual[0]), 1.0))
    top = float(total.max())
    return top + math.log(float(np.exp(total - top).mean())) + odd, odd
