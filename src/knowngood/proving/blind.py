"""Lines by one who has never seen the grammar: how many are understood, in kind, place and value?

The lines are read as one notes file, in their order. What each must say is written in ``blind.toml`` from the meaning
that stands beside it. A line counts when every wanted fact is in its entries and nothing else that counts is.

At their first reading 10 of the 60 were understood. The grammar was made better on them since, so what is measured
now is called fitted: it says what is kept, not what the next hand will find.
"""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product
from math import isclose
from pathlib import Path
from typing import Any

from knowngood.car import TWO
from knowngood.evidence import Body, CarFact, Finding, Note, Reading, Stock, Tool, Undone, Work
from knowngood.library.records import Library
from knowngood.lines import read_notes
from knowngood.proving.figures import Figure, share
from knowngood.units import kinds

LINES = Path("tests/cases/shorthand/blind.txt")
WANTED = Path("tests/cases/shorthand/blind.toml")
GOAL = 0.90
ROUNDING = 2e-3
"""Relative; a typed number went through its base unit and back."""

OPEN_OHM = 1e6
FORM = "kind @place =number unit :word|or this word ~condition"
"""A fact as it is written; everything behind the kind may be left out.

``kind`` is a pattern for what the entry is: a reading's kind, ``do.part`` of work, ``car.field``, ``finding.fault``,
``part.id`` of a part in stock. A place is ``c3`` (cylinder), ``b1`` (bank), ``p1-2`` (two cylinders) or a kind with its
name; ``c1..4`` and ``c1,3`` are a fact at each, with a number each where there are several. A number is one, or a range
``1..2``, with its unit as typed; ``open`` for a line without end, ``#20`` for a price, a code or a word. A condition is
a pattern found in the conditions.
"""
_FACT = re.compile(
    r"(?P<what>[^ @=:~]+)(?: @(?P<place>\S+))?(?: =(?P<number>[^:~]+))?(?: ?:(?P<word>[^~]+))?(?: ~(?P<under>.+))?$"
)


@dataclass(frozen=True)
class Fact:
    """One fact wanted; empty fields ask for nothing."""

    what: str
    place: str = ""
    number: str = ""
    unit: str = ""
    word: str = ""
    under: str = ""


def facts(text: str) -> list[Fact]:
    """The facts one text stands for: one a place where several are named."""
    match = _FACT.match(text)
    if match is None:
        raise ValueError(f"'{text}' is no fact. Write it as: {FORM}")
    parts = {name: (value or "").strip() for name, value in match.groupdict().items()}
    number, _, unit = parts.pop("number").partition(" ")
    number, unit = (number, unit) if number else (unit, "")
    one = Fact(number=number, unit=unit, **parts)
    names = _places(one.place)
    if len(names) < 2:
        return [one]
    numbers = number.split(",") if "," in number else [number] * len(names)
    if len(numbers) != len(names):
        raise ValueError(f"'{text}' has {len(numbers)} numbers for {len(names)} places. Write one number a place.")
    return [replace(one, place=name, number=value) for name, value in zip(names, numbers, strict=True)]


def _places(text: str) -> list[str]:
    run = re.fullmatch(r"c(\d+)\.\.(\d+)", text)
    if run:
        return [f"c{number}" for number in range(int(run[1]), int(run[2]) + 1)]
    return [f"c{number}" for number in text[1:].split(",")] if "," in text else [text]


def _what(body: Body) -> str:
    if isinstance(body, Reading):
        return body.kind
    if isinstance(body, Work):
        return f"{body.do}.{body.part}"
    if isinstance(body, CarFact):
        return f"car.{body.field}"
    if isinstance(body, Finding):
        return f"finding.{body.fault or body.part}"
    names = {Stock: "part", Tool: "name"}
    field = names.get(type(body))
    return f"{type(body).__name__.casefold()}.{getattr(body, field)}" if field else type(body).__name__.casefold()


def _places_of(body: Body) -> set[str]:
    if isinstance(body, Reading | Finding | Undone):
        places = [body.place]
    elif isinstance(body, Work):
        places = [place for place in (*body.places, body.to) if place is not None]
    else:
        return set()
    short = {"cylinder": "c", "bank": "b", **dict.fromkeys(TWO, "p")}
    return {short.get(place.kind, place.kind) + place.name for place in places} | {
        f"c{name}" for place in places if place.kind in TWO for name in place.name.split("-")
    }


def _numbers(body: Body, library: Library) -> Iterator[tuple[float, str]]:
    """Numbers of an entry, with the unit each is in; base unit ``""``."""
    if isinstance(body, Stock | Work) and body.price is not None:
        yield body.price, "#"
    if isinstance(body, CarFact) and re.fullmatch(r"-?[\d.]+", body.value):
        yield float(body.value), ""
    if isinstance(body, CarFact) and body.field == "windows":
        for kind, window in json.loads(body.value).items():
            low, high = window["low"], window["high"]
            yield from _in_units((low, high, 0.5 * (low + high)), library.readings[kind].quantity)
    if isinstance(body, Reading) and body.value is not None:
        quantity = library.readings[body.kind].quantity
        if quantity not in kinds():
            quantity = next((name for name, kind in kinds().items() if body.value.unit in kind.units), "")
        ends = (body.value.number, body.value.low, body.value.high)
        yield from _in_units({end for end in ends if end is not None}, quantity)


def _in_units(numbers: Iterable[float], quantity: str) -> Iterator[tuple[float, str]]:
    """Numbers in the base unit of a kind of measurement, in each of its units by each of their names."""
    units = kinds()[quantity].units.values() if quantity in kinds() else ()
    for number, unit in product(numbers, units):
        for name in (unit.symbol, *unit.spellings):
            yield unit.from_base(number), name


def _is_number(fact: Fact, body: Body, library: Library) -> bool:
    if isinstance(body, Reading) and body.code:  # an older one is a bare number
        return fact.number == body.code
    if fact.number[0].isalpha() and fact.number != "open":
        return isinstance(body, Reading) and fact.number == body.word
    if fact.number == "open":
        return isinstance(body, Reading) and body.value is not None and body.value.number >= OPEN_OHM
    wanted = [float(end) for end in fact.number.lstrip("#").split("..")]
    unit = "#" if fact.number.startswith("#") else fact.unit
    got = [value for value, name in _numbers(body, library) if name == unit or (not unit and name != "#")]
    return all(any(isclose(value, end, rel_tol=ROUNDING, abs_tol=1e-6) for value in got) for end in wanted)


def _words(body: Body) -> str:
    fields = ("word", "state", "effect", "fault", "part", "value", "field", "what", "code")
    told = [str(getattr(body, field, "")) for field in fields if not isinstance(body, Reading) or field != "value"]
    if isinstance(body, CarFact):
        told = [json.dumps(json.loads(body.value), ensure_ascii=False)]
    if isinstance(body, Stock) and body.state == "" and body.wait_days:
        told.append("ordered")
    return " / ".join(told)


def _says(word: str, words: str) -> bool:
    """Whether one of an entry's words, or what stands in a list of it, begins with this word."""
    return re.search(rf"(?:^|[/\"\[] ?){re.escape(word)}\b", words) is not None


def matches(fact: Fact, body: Body, library: Library) -> bool:
    """Whether an entry states the fact."""
    if re.fullmatch(fact.what, _what(body)) is None:
        return False
    if fact.place and not set(fact.place.split("|")) & _places_of(body):
        return False
    if fact.number and not _is_number(fact, body, library):
        return False
    if fact.word and not any(_says(word, _words(body)) for word in fact.word.split("|")):
        return False
    conditions = " ".join(getattr(body, "conditions", ()))
    kind = library.readings.get(body.kind) if isinstance(body, Reading) else None
    usual = kind.when if kind is not None and kind.when else ""
    return not fact.under or re.search(fact.under, f"{conditions} {usual}") is not None


def _counts(body: Body) -> bool:
    return not isinstance(body, Note) and not (isinstance(body, Reading) and body.doubt)


@dataclass(frozen=True)
class Read:
    """A blind line: what was wanted and not found, and what was found and not wanted."""

    number: int
    line: str
    missing: tuple[str, ...]
    added: tuple[str, ...]

    @classmethod
    def held_to(
        cls, number: int, line: str, wanted: Mapping[str, Any], bodies: Sequence[Body], library: Library
    ) -> Read:
        """A line held to what is wanted of it."""
        missing, added = held_against(wanted, bodies, library)
        return cls(number, line, tuple(missing), tuple(added))

    @property
    def understood(self) -> bool:
        """Everything wanted was found, and nothing else counts."""
        return not self.missing and not self.added


def held_against(wanted: Mapping[str, Any], bodies: Sequence[Body], library: Library) -> tuple[list[str], list[str]]:
    """Facts of one line not found, and entries that count and were not wanted.

    A line that says nothing that counts is understood when that is known of it: kept, and nothing asked. What is
    ``doubtful`` must be among the entries that do not count.
    """
    held = [body for body in bodies if _counts(body)]
    doubted = [body for body in bodies if not isinstance(body, Note) and not _counts(body)]
    want = [(text, fact) for text in wanted.get("want", ()) for fact in facts(text)]
    may = [fact for text in wanted.get("may", ()) for fact in facts(text)]
    kept = [(text, fact) for text in wanted.get("doubtful", ()) for fact in facts(text)]
    missing = sorted({*_not_among(held, want, library), *_not_among(doubted, kept, library)})
    if not want and not kept and any(body.ask or not body.why for body in bodies if isinstance(body, Note)):
        missing = ["that nothing in it counts"]
    allowed = [fact for _, fact in want] + may
    added = [_what(body) for body in held if not any(matches(fact, body, library) for fact in allowed)]
    return missing, added


def _not_among(bodies: Sequence[Body], wanted: Sequence[tuple[str, Fact]], library: Library) -> list[str]:
    """Texts of the facts that no entry states."""
    return [text for text, fact in wanted if not any(matches(fact, body, library) for body in bodies)]


def read_blind(library: Library, lines: Path = LINES, wanted: Path = WANTED) -> list[Read]:
    """Every blind line, read in its order as one notes file."""
    typed = [row.split("\t=>")[0] for row in lines.read_text(encoding="utf-8").splitlines() if row.strip()]
    expected = tomllib.loads(wanted.read_text(encoding="utf-8"))["line"]
    if len(typed) != len(expected):
        raise ValueError(f"{lines} has {len(typed)} lines, {wanted} {len(expected)}. Write one [[line]] a line.")
    return read_as_notes(typed, expected, library)


def read_as_notes(typed: Sequence[str], wanted: Sequence[Mapping[str, Any]], library: Library) -> list[Read]:
    """Lines read in their order as one notes file, each held to what is wanted of it."""
    by_number = {number: understood.bodies for number, _, understood in read_notes("\n".join(typed), library).lines}
    return [
        Read.held_to(number, line, want, by_number.get(number, ()), library)
        for number, (line, want) in enumerate(zip(typed, wanted, strict=True), start=1)
    ]


def figures_of_blind(library: Library) -> dict[str, Figure]:
    """``cases.shorthand_understood_fitted`` with its goal."""
    read = read_blind(library)
    return {"cases.shorthand_understood_fitted": share(sum(line.understood for line in read), len(read), GOAL)}
