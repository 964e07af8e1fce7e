"""Text of a reading: as it was typed, with the other common unit behind it."""

from __future__ import annotations

import math

from knowngood.units.amount import Amount
from knowngood.units.kind import Unit, kind_named
from knowngood.units.quantity import Quantity

_WORDS = {"about": "about ", "over": "over ", "under": "under "}
_TIGHT = ("°", '"')
"""Symbols that stand at the number without a blank."""


def _digits(value: float, decimals: int) -> str:
    text = f"{value:.{decimals}f}"
    return text.lstrip("-") if float(text) == 0 else text


def _number(amount: Amount) -> str:
    if amount.sense == "range" and amount.low is not None and amount.high is not None:
        return f"{_digits(amount.low, amount.decimals)} to {_digits(amount.high, amount.decimals)}"
    return _WORDS.get(amount.sense, "") + _digits(amount.value, amount.decimals)


def _with_unit(number: str, unit: Unit) -> str:
    if not unit.symbol:
        return number
    return number + unit.symbol if unit.symbol in _TIGHT else f"{number} {unit.symbol}"


def _decimals_for(step: float, every_step: bool) -> int:
    """Decimals that keep every step apart, or the nearest number of them."""
    wanted = -math.log10(step)
    return max(0, math.ceil(wanted - 1e-9) if every_step else round(wanted))


def _converted(quantity: Quantity, unit: Unit, every_step: bool = True) -> Amount:
    """The amount in another unit: so fine that no typed step is lost, or about as fine as it was typed."""
    amount = quantity.amount
    source = kind_named(quantity.kind).unit(quantity.unit)

    def turn(typed: float | None) -> float | None:
        return None if typed is None else unit.from_base(source.to_base(typed))

    decimals = _decimals_for(amount.step * source.factor / unit.factor, every_step)
    value = turn(amount.value)
    assert value is not None
    return Amount(value, turn(amount.low), turn(amount.high), amount.sense, decimals)


def in_unit(quantity: Quantity, unit: str) -> Quantity:
    """The same reading as if it had been typed in another unit; no typed step is lost.

    Parameters
    ----------
    quantity : Quantity
    unit : str
        Name of a unit of the quantity's kind.

    Raises
    ------
    Refused
        The kind has no such unit.
    """
    if unit == quantity.unit:
        return quantity
    target = kind_named(quantity.kind).unit(unit)
    return Quantity(quantity.kind, quantity.value, _converted(quantity, target), unit, quantity.guessed)


def show(quantity: Quantity, unit: str = "") -> str:
    """Text of a reading, such as ``175 psi (12.1 bar)`` or ``5.1 kΩ``.

    What is shown without ``unit`` reads back as the same reading, other candidates aside. A guessed unit is said.

    Parameters
    ----------
    quantity : Quantity
    unit : str
        Name of the unit to show it in; as typed when left out.

    Returns
    -------
    str

    Raises
    ------
    Refused
        The kind has no such unit.

    Examples
    --------
    >>> from knowngood.units import read_quantity
    >>> show(read_quantity("175psi", "compression"))
    '175 psi (12.1 bar)'
    >>> show(read_quantity("175", "compression"))
    '175 psi (12.1 bar, unit guessed)'
    """
    kind = kind_named(quantity.kind)
    shown = in_unit(quantity, unit) if unit else quantity
    own = kind.unit(shown.unit)
    notes = []
    if shown.amount.sense == "none_seen":
        notes += [_with_unit("0", own)] if own.symbol else []
        text = "none seen"
    else:
        text = _with_unit(_number(shown.amount), own)
        if own.also:
            other = kind.unit(own.also)
            notes.append(_with_unit(_number(_plain(_converted(shown, other, every_step=False))), other))
    if shown.guessed:
        notes.append("unit guessed")
    return f"{text} ({', '.join(notes)})" if notes else text


def _plain(amount: Amount) -> Amount:
    """Without its qualifier, which stands in front of the typed unit already; a range stays a range."""
    if amount.sense == "range":
        return amount
    return Amount(amount.value, amount.value, amount.value, "exact", amount.decimals)
