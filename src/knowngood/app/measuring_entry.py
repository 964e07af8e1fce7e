"""What was typed for a measurement, read field by field with the units of each kind."""

from __future__ import annotations

import difflib
import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from knowngood.app.measuring_topic import Entered, Field, Topic
from knowngood.errors import Problem, Refused
from knowngood.units import (
    Amount,
    Kind,
    Quantity,
    Unit,
    is_usual,
    kind_named,
    parse_number,
    read_quantity,
    read_row,
    split_amounts,
)
from knowngood.units import show as show_quantity

BETWEEN_ROWS = "/"
NOT_MEASURED = "-"
MOST_COUNTED = 10**9
MOST_CYLINDERS = 16
LONGEST_SHOWN = 20
_PLAIN = re.compile(r"[0-9.,]+")  # has no unit: long rows are read once, not twice


@dataclass(frozen=True, slots=True)
class Given:
    """Everything entered for one topic, by field."""

    readings: Mapping[str, tuple[Quantity | None, ...]]
    numbers: Mapping[str, tuple[Amount, ...]]
    words: Mapping[str, str]

    def has(self, name: str) -> bool:
        """Whether the field was entered or assumed."""
        return name in self.readings or name in self.numbers or name in self.words

    def values(self, name: str, unit: str = "") -> list[float]:
        """The readings of a row, in a unit of their kind or its base unit; an open line is infinite."""
        if name in self.numbers:
            return [amount.value for amount in self.numbers[name]]
        return [_value(one, unit) for one in self.readings[name] if one is not None]

    def row(self, name: str, unit: str = "") -> list[float | None]:
        """As ``values``, with None at places that were not measured."""
        return [None if one is None else _value(one, unit) for one in self.readings[name]]

    def value(self, name: str, unit: str = "") -> float:
        """The one reading of a field."""
        return self.values(name, unit)[0]

    def value_or_none(self, name: str, unit: str = "") -> float | None:
        """The one reading of a field that need not be there."""
        return self.value(name, unit) if self.has(name) else None

    def count(self, name: str, most: int = MOST_COUNTED) -> int:
        """The one number of a field that counts something.

        Raises
        ------
        Refused
            It is not whole, or more than ``most``.
        """
        return _whole(name, self.value(name), most)

    def counts(self, name: str) -> list[int]:
        """The numbers of a row that count something; refused as by ``count``."""
        return [_whole(name, value, MOST_COUNTED) for value in self.values(name)]

    def count_row(self, name: str) -> list[int | None]:
        """As ``counts``, with None at places that were not read."""
        return [None if value is None else _whole(name, value, MOST_COUNTED) for value in self.row(name)]

    def se(self, name: str, least: float, unit: str = "") -> float:
        """One standard error by how a reading was typed (about, from-to), at least the instrument's."""
        halves = [least]
        for one in self.readings.get(name, ()):
            if one is not None and one.amount.low is not None and one.amount.high is not None:
                factor = kind_named(one.kind).unit(unit or kind_named(one.kind).base).factor
                own = kind_named(one.kind).unit(one.unit).factor
                halves.append(abs(own / factor) * 0.5 * (one.amount.high - one.amount.low) / math.sqrt(3.0))
        return max(halves)

    def worst_se(self, names: Sequence[str], least: float, unit: str = "") -> float:
        """The largest standard error of readings of one instrument, those that were entered."""
        return max(self.se(name, least, unit) for name in names if self.has(name))

    def word(self, name: str) -> str:
        """The word or text of a field, empty when not entered."""
        return self.words.get(name, "")

    def unit(self, name: str) -> Unit:
        """The unit a field was typed in, or guessed to be in: the first one of a row."""
        first = next(one for one in self.readings[name] if one is not None)
        return kind_named(first.kind).unit(first.unit)

    def kind(self, name: str) -> Kind:
        """The kind of a field."""
        return kind_named(next(one for one in self.readings[name] if one is not None).kind)

    def text(self, name: str) -> str:
        """The one reading of a field, as typed and in short."""
        one = self.readings[name][0]
        assert one is not None
        if is_open(one):
            return "open line"
        return show_quantity(one).partition(" (")[0]


def _whole(name: str, value: float, most: int) -> int:
    if value != int(value):
        raise Refused(f"{name}: {value:g} is no whole number.", "Type one.")
    if abs(value) > most:
        raise Refused(f"{name}: {value:g} is more than {most}.", "Type it again.")
    return int(value)


def _value(one: Quantity, unit: str) -> float:
    if is_open(one):
        return math.inf
    kind = kind_named(one.kind)
    return kind.unit(unit).from_base(one.value) if unit else one.value


def is_open(one: Quantity) -> bool:
    """Whether a resistance was read as an open line."""
    kind = kind_named(one.kind)
    if kind.open_line is None or one.amount.sense != "over":
        return False
    limit, name = kind.open_line
    return one.value >= kind.unit(name).to_base(limit)


def fill(topic: Topic, readings: Sequence[str], named: Mapping[str, Sequence[str]]) -> dict[str, list[str]]:
    """The texts of each field: what is needed in order, the rest by name, what is assumed last.

    Raises
    ------
    Refused
        Something needed is missing, something is left over, or no field has the name.
    """
    for name in named:
        if topic.field(name) is None:
            raise _no_such_field(topic, name)
    texts = {name: told for name, given in named.items() if (told := _joined(topic.field(name), given))}
    waiting = [one for one in topic.fields if one.needed and one.name not in texts]
    rest = list(readings)
    for one in waiting:
        taken, rest = _take(one, rest)
        if not taken:
            missing = f"{topic.name}: {one.name} is missing ({says(one)})."
            raise Refused(Problem(missing, f"Type for example: {topic.command}"))
        texts[one.name] = taken
    if rest:
        raise Refused(
            Problem(
                f"{topic.name}: '{' '.join(rest)}' is left over.", f"It is typed so: knowngood measure {topic.usage}"
            )
        )
    return texts


def read(topic: Topic, texts: Mapping[str, Sequence[str]], units: Mapping[str, str] | None = None) -> Given:
    """The texts of each field as numbers and words.

    ``units`` are those wanted by kind of measurement: a bare number is taken for one of them.

    Raises
    ------
    Refused
        A text is no number, no unit of its kind, or none of the words.
    """
    quantities: dict[str, tuple[Quantity | None, ...]] = {}
    numbers: dict[str, tuple[Amount, ...]] = {}
    words: dict[str, str] = {}
    for one in topic.fields:
        given = list(texts.get(one.name, [one.assumed] if one.assumed else []))
        if not given:
            continue
        if one.kind == "word":
            parts = " ".join(given).split(",") if one.row else [" ".join(given)]
            words[one.name] = ", ".join(_word(topic, one, part.strip()) for part in parts if part.strip())
        elif one.kind == "text":
            words[one.name] = " ".join(given)
        elif one.kind == "number":
            numbers[one.name] = tuple(parse_number(text) for text in given)
        else:
            quantities[one.name] = _quantities(one, given, quantities, (units or {}).get(one.kind, ""))
    found = Given(quantities, numbers, words)
    for one in topic.fields:
        for text, value in zip(texts.get(one.name, ()), _all_values(found, one.name), strict=False):
            if not math.isfinite(value):
                shown = text if len(text) <= LONGEST_SHOWN else f"{text[:LONGEST_SHOWN]}…"
                raise Refused(f"{one.name}: '{shown}' is more than can be measured.", "Type it again.")
    return found


def _all_values(given: Given, name: str) -> list[float]:
    """The values of a field as read, an open line among them as the limit it is."""
    return [
        *(amount.value for amount in given.numbers.get(name, ())),
        *(0.0 if one is None else one.value for one in given.readings.get(name, ())),
    ]


def entered(topic: Topic, texts: Mapping[str, Sequence[str]], given: Given) -> list[Entered]:
    """What was entered and what was assumed, as understood."""
    found = []
    for one in topic.fields:
        assumed = one.name not in texts
        if one.name in given.words:
            found.append(Entered(one.name, given.words[one.name], assumed=assumed))
        numbers, quantities = given.numbers.get(one.name, ()), given.readings.get(one.name, ())
        alone = len(numbers) == 1 or len(quantities) == 1
        for place, number in enumerate(numbers, start=1):
            name = one.name if alone else _numbered(one, place)
            found.append(Entered(name, f"{number.value:g}", number.value, assumed=assumed))
        for place, quantity in enumerate(quantities, start=1):
            name = one.name if alone else _numbered(one, place)
            if quantity is None:
                found.append(Entered(name, "not measured"))
                continue
            text = "open" if is_open(quantity) else show_quantity(quantity)
            found.append(Entered(name, text, quantity.amount.value, quantity.unit, quantity.guessed, assumed))
    return found


def doubts(topic: Topic, given: Given) -> list[str]:
    """What to look at again: unusual values, units that could be another, limits. Nothing is dropped."""
    found = []
    for one in topic.fields:
        for place, quantity in enumerate(given.readings.get(one.name, ()), start=1):
            if quantity is None or is_open(quantity):
                continue
            name, shown = _numbered(one, place), show_quantity(quantity)
            if not is_usual(quantity):
                kind = kind_named(quantity.kind)
                low, high = kind.usual
                unit = kind.unit(kind.base)
                usual = f"{low:g} to {high:g} {unit.symbol}".rstrip()
                found.append(f"{name} {shown} lies outside what is usual, {usual}. It is kept; look at the unit again.")
            for other in quantity.others:
                found.append(f"{name} was read as {shown}; it could be {show_quantity(other)}. Type the unit.")
            if quantity.amount.sense in ("over", "under"):
                found.append(f"{name} {shown} is a limit and was taken as the reading: the result is a limit as well.")
    return found


def says(one: Field) -> str:
    """What a field is."""
    if one.says or one.kind in ("number", "word", "text"):
        return one.says or ", ".join(one.words)
    return kind_named(one.kind).says


def _numbered(one: Field, place: int) -> str:
    return f"{one.name} {place}" if one.row else one.name


def _take(one: Field, texts: list[str]) -> tuple[list[str], list[str]]:
    """The texts of one field from the front, and the rest."""
    if one.row:
        end = texts.index(BETWEEN_ROWS) if BETWEEN_ROWS in texts else len(texts)
        return _joined(one, texts[:end]), texts[end + 1 :]
    if one.kind in ("word", "text"):
        return texts, []
    count = 1 + (len(texts) > 1 and _is_unit(one, texts[0], texts[1]))
    return _joined(one, texts[:count]), texts[count:]


def _is_unit(one: Field, before: str, text: str) -> bool:
    """Whether a text is the unit of the number before it, typed with a blank between."""
    if one.kind in ("number", "word", "text") or any(sign.isdigit() for sign in text):
        return False
    split = split_amounts(before)
    return bool(split) and not split[0][1] and bool(kind_named(one.kind).spelled(text))


def _joined(one: Field | None, texts: Sequence[str]) -> list[str]:
    """Texts with units typed apart put behind their numbers, and commas between readings dropped."""
    if one is not None and one.kind == "word":
        return [text for text in texts if text.strip()]
    found: list[str] = []
    for text in (text.rstrip(",;") for text in texts):
        if found and text and one is not None and _is_unit(one, found[-1], text):
            found[-1] = f"{found[-1]} {text}"
        elif text:
            found.append(text)
    return found


def _quantities(
    one: Field, texts: list[str], before: Mapping[str, tuple[Quantity | None, ...]], wanted: str
) -> tuple[Quantity | None, ...]:
    same = next((other for other in before.get(one.meter_of, ()) if other is not None), None)
    prefer = same.unit if same is not None else wanted or one.bare
    sure = same is not None and not same.guessed
    if not one.row:
        if len(texts) > 1:
            raise Refused(f"{one.name}: '{' '.join(texts)}' is more than one reading.", "Type one.")
        return (_told(read_quantity(texts[0], one.kind, prefer=prefer), sure),)
    known = [text for text in texts if not (one.gaps and text == NOT_MEASURED)]
    if not known:
        raise Refused(f"{one.name}: nothing in the row was measured.", "Type one reading at least.")
    typed = _typed_units(one, known)
    if len(typed) == 1:
        prefer, sure = next(iter(typed)), True
    row = iter([_told(reading, sure) for reading in read_row(known, one.kind, prefer=prefer)])
    return tuple(None if one.gaps and text == NOT_MEASURED else next(row) for text in texts)


def _typed_units(one: Field, texts: Sequence[str]) -> set[str]:
    """Units typed behind any reading of a row; a unit typed once holds for the whole row."""
    found = set()
    for text in texts:
        split = () if _PLAIN.fullmatch(text) else split_amounts(text)
        if split and split[0][1]:
            found.add(read_quantity(text, one.kind).unit)
    return found


def _told(reading: Quantity, sure: bool) -> Quantity:
    """The reading, without its doubt when the unit was typed elsewhere for the same instrument."""
    return replace(reading, guessed=False, others=()) if sure and reading.guessed else reading


def _word(topic: Topic, one: Field, text: str) -> str:
    plain = text.casefold().strip()
    begins = [word for word in one.words if word.casefold().startswith(plain)]
    if plain in (word.casefold() for word in one.words):
        return next(word for word in one.words if word.casefold() == plain)
    if len(begins) == 1:
        return begins[0]
    near = difflib.get_close_matches(plain, one.words, n=1, cutoff=0.75)
    hint = f"Did you mean '{near[0]}'?" if near else f"It is one of: {', '.join(one.words)}."
    raise Refused(Problem(f"{topic.name}: no {one.name} is called '{text}'.", hint))


def _no_such_field(topic: Topic, name: str) -> Refused:
    names = [one.name for one in topic.fields] + (["window"] if topic.window else [])
    near = difflib.get_close_matches(name, names, n=1)
    hint = f"Did you mean '--{near[0]}'?" if near else f"It takes: {', '.join('--' + one for one in names)}."
    return Refused(Problem(f"{topic.name} takes no '--{name}'.", hint))
