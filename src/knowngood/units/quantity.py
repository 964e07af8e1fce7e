"""A reading with its unit: read from what was typed, shown so that it reads back the same."""

from __future__ import annotations

import math
import re
from collections.abc import Sequence
from dataclasses import dataclass, replace

from knowngood.errors import Refused
from knowngood.units.amount import Amount, exactly, plain_text, split_amounts
from knowngood.units.kind import Kind, Unit, kind_named

STRETCH = 3.0
"""A bare number this many times under a span may still mean its unit: faults read low. A convention of ours."""

_BRACKET = re.compile(r"\s*\(([^()]*)\)\s*$")
_SIGN_FIRST = re.compile(r"^([$€£¥])\s*(.*)$")
_ZERO = re.compile(r"(?:zero|nought)\b", re.IGNORECASE)
_OPEN = re.compile(
    r"(?:o\.?l\.?|open(?: circuit| line)?|infinite|infinity|inf|∞|over ?load|no continuity)\s*(?:ohms?|Ω)?",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Quantity:
    """A reading of a kind, in the base unit and as it was typed.

    Parameters
    ----------
    kind : str
        Name of the kind of measurement.
    value : float
        In the kind's base unit.
    amount : Amount
        As typed, in the unit typed or guessed.
    unit : str
        Name of that unit.
    guessed : bool
        The unit was not typed and was taken from the size of the number.
    others : tuple of Quantity
        Other readings of the same text that are as lawful; empty when there is no doubt.
    """

    kind: str
    value: float
    amount: Amount
    unit: str
    guessed: bool = False
    others: tuple[Quantity, ...] = ()

    @property
    def candidates(self) -> tuple[Quantity, ...]:
        """Every lawful reading, this one first, none of them naming others."""
        return (replace(self, others=()), *self.others)

    @property
    def low(self) -> float | None:
        """Lower end in the base unit; None when open."""
        return self._end(self.amount.low)

    @property
    def high(self) -> float | None:
        """Upper end in the base unit; None when open."""
        return self._end(self.amount.high)

    @property
    def step(self) -> float:
        """One of the last digit typed, in the base unit."""
        return self.amount.step * abs(kind_named(self.kind).unit(self.unit).factor)

    def _end(self, typed: float | None) -> float | None:
        return None if typed is None else kind_named(self.kind).unit(self.unit).to_base(typed)


def is_usual(quantity: Quantity) -> bool:
    """False when the value lies outside the kind's usual span: keep it, and ask."""
    low, high = kind_named(quantity.kind).usual
    return low <= quantity.value <= high


def _quantity(kind: Kind, amount: Amount, unit: Unit, guessed: bool) -> Quantity:
    return Quantity(kind.name, unit.to_base(amount.value), amount, unit.name, guessed)


def _best(found: list[Quantity]) -> Quantity:
    """First of the usual ones; the other usual ones named when they do not mean the same."""
    usual = [quantity for quantity in found if is_usual(quantity)] or found
    first, rest = usual[0], usual[1:]
    others = []
    for other in rest:
        same = math.isclose(first.value, other.value, rel_tol=1e-9, abs_tol=1e-12)
        if not same and other not in others:
            others.append(other)
    doubt = first.guessed or any(other.unit != first.unit for other in others)
    return replace(first, guessed=doubt, others=tuple(replace(other, guessed=True) for other in others))


def _guessed_units(kind: Kind, value: float) -> tuple[Unit, ...]:
    inside = [guess.unit for guess in kind.guesses if guess.low <= value <= guess.high]
    if not inside and value >= 0:
        inside = [guess.unit for guess in kind.guesses if guess.low / STRETCH <= value < guess.low]
    names = inside or [guess.unit for guess in kind.guesses]
    return tuple(kind.unit(name) for name in names)


def _without_unit(kind: Kind, amount: Amount, prefer: str) -> list[Quantity]:
    if prefer:
        return [_quantity(kind, amount, kind.unit(prefer), guessed=True)]
    if kind.bare:
        return [_quantity(kind, amount, kind.unit(kind.bare), guessed=False)]
    if not kind.guesses:
        return [_quantity(kind, amount, kind.unit(kind.base), guessed=True)]
    return [_quantity(kind, amount, unit, guessed=True) for unit in _guessed_units(kind, amount.value)]


def _no_such_unit(kind: Kind, spelling: str) -> Refused:
    known = ", ".join(unit.symbol or unit.name for unit in kind.units.values())
    return Refused(f"'{spelling}' is no unit of {kind.name.replace('_', ' ')}.", f"Units that are: {known}.")


def _bracketed(kind: Kind, text: str) -> tuple[str, str, bool]:
    """Text without the bracket ``show`` puts behind it, the unit named in it, and whether it says guessed."""
    match = _BRACKET.search(text)
    if not match:
        return text, "", False
    inner = match.group(1)
    guessed = inner.endswith("unit guessed")
    split = split_amounts(inner.removesuffix("unit guessed").rstrip(" ,"))
    spelled = split[0][1] if split else ""
    if not guessed and not kind.spelled(spelled):
        return text, "", False
    return text[: match.start()], spelled, guessed


def _read_open(kind: Kind, text: str) -> Quantity | None:
    if kind.open_line is None or not _OPEN.fullmatch(text):
        return None
    limit, name = kind.open_line
    return _quantity(kind, Amount(limit, limit, None, "over"), kind.unit(name), guessed=False)


def _none_of(kind: Kind, text: str) -> Amount:
    """What "none" is where zero is not none of it: ``zero K`` is a number, ``none`` says that nothing was read."""
    if _ZERO.match(text):
        return exactly(0.0)
    fact = f"'{text}' is no {kind.name.replace('_', ' ')}: zero of it is a reading like any other."
    raise Refused(fact, "Type the number; leave out what was not read.")


def _likely(splits: tuple[tuple[Amount, str], ...], kind: Kind, text: str) -> tuple[tuple[Amount, str], ...]:
    """Of ``1,250`` as decimals and as thousands: the second where there are no decimals, both where a comma may be
    either, the first where a point parts them."""
    if kind.whole:
        return splits[1:]
    return splits if "," in text else splits[:1]


def read_quantity(text: str, kind: str, *, prefer: str = "") -> Quantity:
    """Read a number with its unit as a mechanic types it.

    A missing unit is taken from ``prefer``, from the unit the kind is always given in, or guessed from the size;
    a guess says so. Where two readings are as lawful, the likelier one is returned and names the others.

    Parameters
    ----------
    text : str
        Such as ``175 psi``, ``13.6Kohm``, ``.039in``, ``~165``, ``0.05v to 0.9v``, ``OL``.
    kind : str
        Name of a kind of measurement, as in ``kinds.toml``.
    prefer : str
        Name of the unit to take for a bare number: the one last used at this place. Empty: none.

    Returns
    -------
    Quantity

    Raises
    ------
    Refused
        No such kind, no number, a unit that is not one of the kind, or "none" of what has no none (a temperature).

    Examples
    --------
    >>> reading = read_quantity("175", "compression")
    >>> reading.unit, reading.guessed
    ('psi', True)
    >>> [other.unit for other in read_quantity("125", "coolant_temperature").candidates]
    ['degC', 'degF']
    """
    found_kind = kind_named(kind)
    plain = plain_text(text)
    opened = _read_open(found_kind, plain)
    if opened:
        return opened
    sign = _SIGN_FIRST.match(plain)
    if sign:
        mark, number = sign.groups()
        plain = number if number.endswith("k") else f"{number} {mark}"  # a thousand is a unit of money by itself
    body, bracket_unit, says_guessed = _bracketed(found_kind, plain)
    splits = split_amounts(body)
    if not splits:
        raise Refused(f"no number in '{text}'.", "Type one such as 175, 12.4, ~165, 500+ or 1.5-2, then its unit.")
    if len(splits) > 1:
        splits = _likely(splits, found_kind, body)
    found: list[Quantity] = []
    for typed, rest in splits:
        amount = _none_of(found_kind, body) if typed.sense == "none_seen" and not found_kind.zero_is_none else typed
        spelling = rest or (bracket_unit if amount.sense == "none_seen" else "")
        units = found_kind.spelled(spelling) if spelling else ()
        if spelling and not units:
            raise _no_such_unit(found_kind, spelling)
        found += [_quantity(found_kind, amount, unit, guessed=says_guessed) for unit in units]
        if not spelling:
            bare = _without_unit(found_kind, amount, prefer)
            found += [replace(quantity, guessed=quantity.guessed or says_guessed) for quantity in bare]
    return _best(found)


def read_row(texts: Sequence[str], kind: str, *, prefer: str = "") -> tuple[Quantity, ...]:
    """Read several readings taken one after another with one instrument, such as a row of cylinders.

    One meter, one unit: a bare number takes the unit that was typed elsewhere in the row, or the unit that
    suits the highest number, so that ``175 170 40`` is psi throughout and 40 is not taken for bar. An open line says
    nothing of the others' unit.

    Parameters
    ----------
    texts : sequence of str
    kind, prefer : str
        As in ``read_quantity``.

    Returns
    -------
    tuple of Quantity
        In the order of the texts.

    Raises
    ------
    Refused
        As in ``read_quantity``, for the first text that cannot be read.

    Examples
    --------
    >>> [reading.unit for reading in read_row(["175", "170", "40", "0"], "compression")]
    ['psi', 'psi', 'psi', 'psi']
    """
    alone = [read_quantity(text, kind, prefer=prefer) for text in texts]
    opened = [_read_open(kind_named(kind), plain_text(text)) is not None for text in texts]
    counted = [reading for reading, is_open in zip(alone, opened, strict=True) if not is_open]
    if prefer or not counted:
        return tuple(alone)
    typed = [reading.unit for reading in counted if not reading.guessed and reading.amount.sense != "none_seen"]
    bare_kind = kind_named(kind).bare
    if bare_kind and all(unit == bare_kind for unit in typed):
        return tuple(alone)
    leader = max(counted, key=lambda reading: reading.amount.value)
    units = (typed[-1],) if typed else tuple(candidate.unit for candidate in leader.candidates)
    return tuple(_in_row(reading, text, kind, units) for reading, text in zip(alone, texts, strict=True))


def _in_row(reading: Quantity, text: str, kind: str, units: tuple[str, ...]) -> Quantity:
    if not reading.guessed and reading.amount.sense != "none_seen":
        return reading
    first, *rest = (read_quantity(text, kind, prefer=unit) for unit in units)
    others = [other for other in rest if other.value != first.value]
    return replace(first, others=tuple(replace(other, others=()) for other in others))
