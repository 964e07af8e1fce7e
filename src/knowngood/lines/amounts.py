"""Numbers of a line turned into values of a kind of reading, and back into the words that are shown."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

import msgspec

from knowngood.errors import Refused
from knowngood.evidence import Value
from knowngood.lines.elements import Element
from knowngood.lines.reader import Reader
from knowngood.units import Quantity, Unit, is_usual, kind_named, kinds, read_quantity, read_row

OPEN = "OL"
"""What an open resistance is written as."""

SENSES = {"none_seen": "none seen"}


BESIDE_THE_DRY = "compression_wet"
"""Judged by a word, typed as a number: what it says is told by the dry one of the same cylinder."""


def quantity_of(reader: Reader, kind: str) -> str:
    """Kind of measurement in which a kind of reading is given; empty for a reading by word."""
    record = reader.kind_record(kind)
    if record is not None and record.quantity in kinds():
        return record.quantity
    words = reader.vocabulary.kinds.get(kind)
    if record is not None and not record.quantity and kind != BESIDE_THE_DRY:
        return ""
    return words.quantity if words else ""


def takes_unit(quantity: str, unit: str) -> bool:
    """Whether a unit as typed is one of a kind of measurement."""
    return bool(quantity) and bool(kind_named(quantity).spelled(unit))


def is_likely(quantity: str, cell: Element) -> bool:
    """Whether a bare number is of a size the kind of measurement has."""
    try:
        read = read_quantity(cell.text, quantity)
    except Refused:
        return False
    kind = kind_named(quantity)
    if not is_usual(read):
        return False
    if read.guessed and kind.guesses:
        return any(guess.low <= abs(read.amount.value) <= guess.high for guess in kind.guesses)
    return True


def share_a_unit(quantity: str, one: float, other: float) -> bool:
    """Whether two bare numbers may be of one kind of measurement in one unit, by their sizes."""
    guesses = kind_named(quantity).guesses
    return not guesses or any(g.low <= min(one, other) and max(one, other) <= g.high for g in guesses)


def read_cells(cells: Sequence[Element], quantity: str, prefer: str = "") -> tuple[Quantity, ...]:
    """Values of cells read with one instrument: one unit for the bare ones.

    Raises
    ------
    Refused
        A cell cannot be read as this kind of measurement.
    """
    opened = [cell.text == OPEN for cell in cells]
    if any(opened):
        rest = iter(
            read_cells([cell for cell in cells if cell.text != OPEN], quantity, prefer) if not all(opened) else ()
        )
        return tuple(read_quantity(OPEN, quantity) if is_open else next(rest) for is_open in opened)
    texts = [cell.text for cell in cells]
    units = [cell.unit for cell in cells if cell.unit]
    if prefer and (units or prefer not in kind_named(quantity).units):
        prefer = ""
    row = read_row(texts, quantity, prefer=prefer)
    if prefer and not any(map(is_usual, row)):  # the line before was of another gauge
        row = read_row(texts, quantity)
    typed = {unit.name for text in units for unit in kind_named(quantity).spelled(text)}
    return tuple(replace(value, guessed=False, others=()) if value.unit in typed else value for value in row)


def value_of(quantity: Quantity) -> Value:
    """The value of an entry, in the base unit of its kind."""
    factor = abs(kind_named(quantity.kind).unit(quantity.unit).factor)
    sense = SENSES.get(quantity.amount.sense, quantity.amount.sense)
    keeps_ends = sense not in ("exact", "none seen")
    return Value(
        quantity.value,
        sense,
        low=quantity.low if keeps_ends else None,
        high=quantity.high if keeps_ends else None,
        unit=quantity.unit,
        guessed=quantity.guessed,
        step=quantity.amount.step * factor,
    )


FINE = ("gap",)
"""Kinds of measurement in which a number of another unit's size was hardly read in the unit typed."""


def _other_unit(quantity: Quantity) -> str:
    """The unit whose usual sizes the typed number has, where it has none of its own unit's; else empty."""
    typed, guesses = abs(quantity.amount.value), kind_named(quantity.kind).guesses
    fitting = [guess.unit for guess in guesses if guess.low <= typed <= guess.high]
    own = any(guess.unit == quantity.unit for guess in guesses)
    return fitting[0] if own and fitting and quantity.unit not in fitting else ""


def slip(quantity: Quantity) -> str:
    """Empty for a usual value, an open or a short circuit; else what is unusual about it and the likeliest slip."""
    kind = kind_named(quantity.kind)
    if quantity.kind in FINE and (meant := _other_unit(quantity)):
        return f"{plain(quantity.amount.value)} {quantity.unit} is too fine; {meant} meant?"
    if is_usual(quantity) or (kind.open_line is not None and (quantity.amount.sense == "over" or quantity.value == 0)):
        return ""
    unit = kind.unit(quantity.unit)
    low, high = sorted(unit.from_base(end) for end in kind.usual)
    sign = unit.symbol or unit.name
    text = f"{plain(unit.from_base(quantity.value))} {sign} is outside the usual {plain(low)} to {plain(high)} {sign}"
    return f"{text}; {_likely_slip(quantity)}"


def _likely_slip(quantity: Quantity) -> str:
    kind = kind_named(quantity.kind)
    typed = quantity.amount.value
    for other in kind.units.values():
        if other.name != quantity.unit and any(
            guess.unit == other.name and guess.low <= typed <= guess.high for guess in kind.guesses
        ):
            return f"{other.symbol or other.name} meant?"
    low, high = kind.usual
    unit = kind.unit(quantity.unit)
    for power in (10.0, 100.0):
        if low <= unit.to_base(typed / power) <= high:
            return f"decimal point slipped ({plain(typed / power)})?"
    return "a digit too many, or another kind of reading?"


def as_typed(value: Value, quantity: str) -> list[float]:
    """The numbers of a value in the unit they were typed in; a trim on both its scales."""
    kind = kinds().get(quantity)
    unit = kind.units.get(value.unit) if kind else None
    ends = [end for end in (value.number, value.low, value.high) if end is not None]
    typed = [unit.from_base(end) for end in ends] if unit else ends
    return [*typed, *(number + 100.0 for number in typed)] if quantity == "trim" else typed


def plain(number: float) -> str:
    """A number without a tail of zeros."""
    text = f"{number:.4g}" if abs(number) < 10000 else f"{number:.0f}"
    return text if "e" not in text else f"{number:g}"


def shown_in(value: Value, quantity: str, unit: str) -> str:
    """A value in a unit that is wanted, as it was typed behind it: ``12 bar (172 psi)``; as typed where none is."""
    kind = kinds().get(quantity)
    if kind is None or unit not in kind.units or unit == value.unit or value.sense == "none seen":
        return shown(value, quantity)
    wanted, typed = kind.units[unit], kind.units.get(value.unit)
    # as fine as it was typed, to the nearest decimal of the other unit; three signs where that is not known
    fine = value.step or abs(value.number) * 1e-3 or abs(wanted.factor)
    step = 10.0 ** round(math.log10(fine / abs(wanted.factor))) * abs(wanted.factor)
    ends = [end if end is None else _to(wanted, step, end) for end in (value.low, value.high)]
    number = _to(wanted, step, value.number)
    said = msgspec.structs.replace(value, number=number, low=ends[0], high=ends[1], unit=unit, step=step)
    return f"{shown(said, quantity)} ({shown(value, quantity)})" if typed is not None else shown(said, quantity)


def _to(unit: Unit, step: float, base: float) -> float:
    decimals = round(-math.log10(step / abs(unit.factor)))
    return unit.to_base(round(unit.from_base(base), decimals))


def shown(value: Value, quantity: str, with_unit: bool = True) -> str:
    """A value as it was typed: ``172 psi``, ``about 5.1 kΩ``, ``none``; with its unit also where words are read."""
    kind = kinds().get(quantity)
    of_any = (one.units[value.unit] for one in kinds().values() if value.unit in one.units)
    unit = kind.units.get(value.unit) if kind else next(of_any, None)

    def turned(base: float | None) -> str:
        if base is None:
            return ""
        typed = unit.from_base(base) if unit else base
        step = value.step / abs(unit.factor) if unit and value.step else 0.0
        if 0 < step < 1:
            return f"{typed:.{len(f'{step:.6f}'.rstrip('0').partition('.')[2])}f}"
        return plain(round(typed, 6))

    if value.sense == "none seen":
        return "none"
    if value.sense == "range" and value.low is not None and value.high is not None:
        text = f"{turned(value.low)} to {turned(value.high)}"
    else:
        text = {"about": "about ", "over": "over ", "under": "under "}.get(value.sense, "") + turned(value.number)
    sign = (unit.symbol or "") if unit else ""
    if quantity == "trim" and value.number > 0 and value.sense == "exact":
        text = f"+{text}"
    return f"{text} {sign}".rstrip() if with_unit else text
