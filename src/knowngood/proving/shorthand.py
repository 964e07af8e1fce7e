"""Lines as typed on a phone beside the car: how many are understood whole?

The grammar was made better on these lines: the figure says what is kept, not what a new hand will find.
Each line was written down with what must be understood of it by one who had not seen the grammar. A line counts only
when every number (in the unit it was typed in, at its place), place, code, part, condition and what it is about stand
in the entries made from it, and no number stands where none was typed. Notes never count.
"""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf, isclose, isinf
from pathlib import Path
from typing import Any

import msgspec

from knowngood.car import TWO, Car
from knowngood.evidence import Body, CarFact, Finding, Note, Reading, Undone, Work
from knowngood.library.records import Library
from knowngood.lines import read_line, read_notes
from knowngood.proving.figures import Figure, share
from knowngood.proving.shorthand_words import ABOUT, CONDITIONS, PARTS
from knowngood.units import kinds

FILE = Path("tests/cases/shorthand/lines.toml")
GOAL = 0.90
ROUNDING = 1e-3
"""Relative; a typed number went through its base unit and back."""

OPEN_IN = ("Mohm",)
"""An open line is kept as more than so many of these."""

FIELDS = ("numbers", "places", "codes", "parts", "conditions", "about")
PLAIN_UNITS = {"C": "°C", "F": "°F", "%": "%"}


@dataclass(frozen=True)
class Heard:
    """One line: as typed, and which of its fields were not found."""

    typed: str
    missed: tuple[str, ...]


@dataclass(frozen=True)
class _Number:
    """A number of an entry, by the name of each unit it may have been typed in; and where it stands."""

    by_unit: Mapping[str, float]
    typed_unit: str
    place: str


def _told(body: Body) -> str:
    """An entry as one text: ids, words, places, conditions; a reading's number left out."""
    if isinstance(body, Reading):
        body = msgspec.structs.replace(body, value=None)
    return msgspec.json.encode(body).decode().casefold()


def _quantity(body: Reading, library: Library) -> str:
    """Kind of measurement of a reading with a number; by its unit where the reading is one by word."""
    told = library.readings[body.kind].quantity
    unit = body.value.unit if body.value is not None else ""
    return told if told in kinds() else next(name for name, kind in kinds().items() if unit in kind.units)


def _ends(body: Reading) -> list[float]:
    value = body.value
    if value is None:
        return []
    if value.sense == "over" and value.unit in OPEN_IN:
        return [inf]
    if value.sense == "range" and value.low is not None and value.high is not None:
        return [value.low, value.high]
    return [value.number]


def _in_units(number: float, quantity: str) -> dict[str, float]:
    return {unit.name: unit.from_base(number) for unit in kinds()[quantity].units.values()}


def _numbers_of(body: Body, library: Library) -> list[_Number]:
    """The numbers an entry holds."""
    if isinstance(body, Reading) and body.value is not None:
        quantity = _quantity(body, library)
        found = []
        for end in _ends(body):
            units = _in_units(end, quantity)
            if quantity == "trim":
                units |= {"about 100": units["percent"] + 100.0}
            found.append(_Number(units, body.value.unit, str(body.place)))
        return found
    if isinstance(body, CarFact) and body.field == "windows":
        found = []
        for kind, window in json.loads(body.value).items():
            quantity = library.readings[kind].quantity
            low, high = window["low"], window["high"]
            alone = isclose(high - low, 0.05 * (high + low), rel_tol=ROUNDING)
            ends = [(low + high) / 2] if alone else [low, high]
            found += [_Number(_in_units(end, quantity), "", "told") for end in ends]
        return found
    if isinstance(body, CarFact) and body.field == "last_done":
        typed = re.findall(r"(\d+(?:[.,]\d+)?)(k?)\b", body.value)
        return [_Number({"": float(number.replace(",", ".")) * (1000 if k else 1)}, "", "told") for number, k in typed]
    return []


def _is(number: _Number, typed: float, unit: str) -> bool:
    """Whether a number of an entry is the typed one, in the unit typed or, where none was, in the one guessed."""
    if unit:
        spelled = PLAIN_UNITS.get(unit, unit)
        names = {found.name for kind in kinds().values() for found in kind.spelled(spelled)}
    else:
        names = {number.typed_unit} if number.typed_unit else set(number.by_unit)
    names |= {"about 100"}
    return any(
        isinf(got) if isinf(typed) else isclose(got, typed, rel_tol=ROUNDING, abs_tol=1e-6)
        for name, got in number.by_unit.items()
        if name in names
    )


def _numbers_found(line: Mapping[str, Any], bodies: Sequence[Body], library: Library) -> bool:
    """Every typed number once, at its place where they pair, and none besides."""
    held = [number for body in bodies for number in _numbers_of(body, library)]
    typed, places, unit = line.get("numbers", []), line.get("places", []), line.get("unit", "")
    paired = len(typed) == len(places) > 1
    for index, number in enumerate(typed):
        match = next(
            (n for n in held if _is(n, number, unit) and (not paired or n.place == places[index])),
            None,
        )
        if match is None:
            return False
        spread = len(places) > 1 and not paired
        held = [n for n in held if n is not match and not (spread and _is(n, number, unit) and n.place in places)]
    return not [number for number in held if number.place != "told"]


def _places_of(body: Body) -> set[str]:
    """Where an entry says something about; a pair is its two cylinders."""
    places = []
    if isinstance(body, Reading | Finding | Undone):
        places = [body.place]
    elif isinstance(body, Work):
        places = [place for place in (*body.places, body.to) if place is not None]
    found = {str(place) for place in places}
    for place in places:
        if place.kind in TWO:
            found |= {f"cylinder {name}" for name in place.name.split("-")}
    kept = re.findall(r"(?:fuse|bank) \d+", " ".join(body.conditions) if isinstance(body, Reading) else "")
    return found | set(kept)


def _said(plain: str, table: Mapping[str, tuple[str, ...]], told: Sequence[str]) -> bool:
    """Whether one of a plain word's own words stands in the entries, each a pattern."""
    return any(re.search(pattern, text) for pattern in table[plain] for text in told)


def missed(line: Mapping[str, Any], bodies: Sequence[Body], library: Library) -> tuple[str, ...]:
    """The fields of a line that are not found in the entries made from it.

    Parameters
    ----------
    line : mapping
        One ``[[line]]``: what must be understood.
    bodies : sequence of Body
        What was understood.
    library : Library

    Raises
    ------
    KeyError
        A plain word is not in ``shorthand_words``.
    """
    bodies = [body for body in bodies if not isinstance(body, Note)]
    told = [_told(body) for body in bodies]
    places = {place for body in bodies for place in _places_of(body)}
    codes = {body.code for body in bodies if isinstance(body, Reading) and body.code}
    senses = [f"value {body.value.sense}" for body in bodies if isinstance(body, Reading) and body.value is not None]
    about = [word.strip() for word in str(line["about"]).split(",")]
    found = {
        "numbers": _numbers_found(line, bodies, library),
        "places": set(line.get("places", [])) <= places,
        "codes": set(line.get("codes", [])) <= codes,
        "parts": all(_said(part, PARTS, told) for part in line.get("parts", [])),
        "conditions": all(_said(name, CONDITIONS, told) for name in line.get("conditions", [])),
        "about": all(_said(word, ABOUT, [*told, *senses]) for word in about),
    }
    return tuple(name for name in FIELDS if not found[name])


def heard(library: Library, file: Path = FILE) -> list[Heard]:
    """Every line read with its car."""
    content = tomllib.loads(file.read_text(encoding="utf-8"))
    cars: dict[str, Car] = {name: read_notes(text, library).car for name, text in content["cars"].items()}
    return [
        Heard(line["typed"], missed(line, read_line(line["typed"], cars[line["car"]], library).bodies, library))
        for line in content["line"]
    ]


def shorthand_figure(library: Library, file: Path = FILE) -> tuple[int, int]:
    """How many lines are understood whole, and of how many."""
    lines = heard(library, file)
    return sum(not line.missed for line in lines), len(lines)


def figures_of_shorthand(library: Library, file: Path = FILE) -> dict[str, Figure]:
    """``cases.shorthand_seen`` with its goal."""
    understood, n = shorthand_figure(library, file)
    return {"cases.shorthand_seen": share(understood, n, GOAL)}
