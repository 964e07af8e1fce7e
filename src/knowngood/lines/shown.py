"""A reading typed back as the program shows it: ``shown name[, place]: shown word [(conditions)]``.

What the program shows, it must hear: the echo of a reading, the words a gate asks for, an answer listed under a step.
Such a piece is matched letter by letter against the names and words of the library before anything is read freely, so
that "shakes: no" is never heard as "shakes".
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from knowngood.car import ENGINE, PLACE_KINDS, Place
from knowngood.evidence import Reading
from knowngood.library.records import MODIFIERS, REGIMES, ReadingKind
from knowngood.lines.beside import outside
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.vocabulary import table

_ONE = r"(?:[lri]?\d+(?:-\d+)?)"
_PLACE = re.compile(
    rf",? ?\b(?:(?P<kind>cylinders?|banks?|pairs?|companions|leads) )?"
    rf"(?P<names>left|right|{_ONE}(?: {_ONE})*)(?=\W|$)"
)
_SIGN = re.compile(r"\s*[:=]\s*")
_CONDITIONS = re.compile(r" \(([^()]*)\)")
_AT = re.compile(r"\d+ rpm|(?:at|after|about) [\w.,% ]+")


@dataclass(frozen=True)
class _Item:
    """One reading found in a text, and where it ends."""

    kind: ReadingKind
    places: tuple[Place, ...]
    word: str
    conditions: tuple[str, ...]
    end: int


def read_shown(reader: Reader, tokens: Sequence[Token]) -> bool:
    """Read some tokens when they are nothing but readings as shown, one or several."""
    text = reader.plain(tokens)
    items = _items(reader, text.casefold(), 0)
    if not items:
        return False
    for item in items:
        for place in item.places:
            reader.put(Reading(kind=item.kind.id, place=place, word=item.word, conditions=item.conditions))
        reader.kind = item.kind.id
        if len(item.places) == 1 and item.places[0].kind == "cylinder":
            reader.places = item.places
    reader.use_turned(tokens)
    reader.assumed[:] = [guess for guess in reader.assumed if not _is_of(guess, text)]
    return True


def _is_of(guess: str, text: str) -> bool:
    """A guess at the spelling of a word that was read as it stands."""
    typed = re.match(r"'(.+?)' read as '", guess)
    return typed is not None and typed.group(1) in text.casefold()


def _items(reader: Reader, text: str, start: int, dead: set[int] | None = None) -> list[_Item]:
    """Readings from a place in the text to its end; none when the rest is not nothing but readings.

    ``dead``: places from which it is known that the rest is not.
    """
    dead = set() if dead is None else dead
    for item in _items_at(reader, text, start) if start not in dead else ():
        if item.end == len(text):
            return [item]
        if text.startswith(", ", item.end) and (rest := _items(reader, text, item.end + 2, dead)):
            return [item, *rest]
    dead.add(start)
    return []


def _items_at(reader: Reader, text: str, start: int) -> Iterator[_Item]:
    """The readings that may start at a place, the longest name first."""
    names = reader.vocabulary.shown
    ends = [at for at in range(start + 1, len(text)) if text[at] in " ,:="]
    for end in reversed(ends):
        for rank, kind in names.get(text[start:end], ()):
            record = reader.library.readings[kind]
            yield from _values_at(reader, record, text, end, by_id=rank == 0)


def _values_at(reader: Reader, record: ReadingKind, text: str, at: int, *, by_id: bool) -> Iterator[_Item]:
    """Place, sign, word and conditions behind a name."""
    placed = _PLACE.match(text, at)
    for match in (placed, None) if placed else (None,):
        places = _places(reader, record, match)
        behind = match.end() if match else at
        sign = _SIGN.match(text, behind)
        if not places or not (sign or (by_id and text.startswith(" ", behind))):
            continue
        begin = sign.end() if sign else behind + 1
        for word in sorted(record.words, key=len, reverse=True):
            end = begin + len(word)
            if text[begin:end] != word.casefold():
                continue
            told = _CONDITIONS.match(text, end)
            conditions = _lawful(told.group(1)) if told else ()
            if conditions is not None:
                yield _Item(record, places, word, conditions, told.end() if told else end)


def _places(reader: Reader, record: ReadingKind, match: re.Match[str] | None) -> tuple[Place, ...]:
    """The places said, when they are of the kind the reading is taken at; the engine where none is needed."""
    if match is None:
        alone = record.place == "engine" or (record.place == "cylinder" and reader.cylinders is None)
        return (ENGINE,) if alone else ()
    said = match.group("kind") or "cylinder"
    kind = said if said in PLACE_KINDS else said.rstrip("s")
    if kind != record.place:
        return ()
    numbers = match.group("names").split()
    first, dash, last = numbers[0].partition("-")
    if dash and kind == "cylinder":
        if not (first.isdecimal() and last.isdecimal()):
            return ()
        numbers = [str(number) for number in range(int(first), int(last) + 1)]
    places = tuple(Place(kind, name.upper() if kind == "cylinder" else name) for name in numbers)
    return () if outside(reader, [place for place in places if place.kind == "cylinder"]) else places


def _lawful(said: str) -> tuple[str, ...] | None:
    """Conditions as the echo shows them; None when one is none."""
    known = {*REGIMES, *MODIFIERS}
    for meaning in table()["condition"].values():
        known.update([meaning] if isinstance(meaning, str) else meaning)
    names = tuple(said.split(", "))
    return names if all(name in known or _AT.fullmatch(name) for name in names) else None
