"""What the entries tell of the car's story besides what was said of it: earlier work, signs of animals.

A story raises chances before any reading. What was done before the first
complaint may have caused it; what was done since cannot have.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import msgspec

from knowngood.car import Car
from knowngood.evidence import Access, Entry, Finding, Reading, Work
from knowngood.library.healthy import DENIED, UNTOLD
from knowngood.library.records import Library, ReadingKind

NOT_HANDS_ON = ("cleared", "tried", "apart", "together")


def with_story(car: Car, library: Library, entries: Sequence[Entry]) -> Car:
    """The car with the story its entries tell, added to what was said of it.

    Parameters
    ----------
    car : Car
    library : Library
    entries : sequence of Entry
        In time order.
    """
    done = tuple(dict.fromkeys(_earlier_work(library, entries)))
    animals = True if any(_left_by(library, entry, "animals") for entry in entries) else car.animals
    more = tuple(words for words in done if words not in car.last_done)
    return msgspec.structs.replace(car, last_done=(*car.last_done, *more), animals=animals)


def _earlier_work(library: Library, entries: Sequence[Entry]) -> Iterator[str]:
    """Areas that were worked on before anything was complained of, each by a word it is known by."""
    for entry in entries:
        body = entry.body
        if isinstance(body, Reading) and _is_trouble(library, body):
            return
        if isinstance(body, Work) and body.do not in NOT_HANDS_ON and not body.effect:
            part = library.parts.get(body.part)
            if part is not None and part.area in library.areas:
                yield library.areas[part.area].words[0]
        elif isinstance(body, Access) and body.step in library.access:
            yield library.access[body.step].name


def _is_trouble(library: Library, reading: Reading) -> bool:
    if reading.doubt:
        return False
    if reading.kind == "code":
        return bool(reading.code)
    kind = library.readings.get(reading.kind)
    return kind is not None and kind.complaint and reading.word not in (*DENIED, *UNTOLD)


def _left_by(library: Library, entry: Entry, by: str) -> bool:
    """Whether an entry tells of something that only ``by`` leaves behind."""
    body = entry.body
    if isinstance(body, Finding):
        fault = library.faults.get(body.fault)
        return body.seen and fault is not None and fault.left_by == by
    if isinstance(body, Reading) and not body.doubt:
        kind = library.readings.get(body.kind)
        return kind is not None and body.word in kind.words and _speaks_only_of(library, kind, body.word, by)
    return False


def _speaks_only_of(library: Library, kind: ReadingKind, word: str, by: str) -> bool:
    """Whether the level a word speaks for is brought about by nothing but what ``by`` leaves behind."""
    level = max(kind.chance, key=lambda level: kind.chance[level].get(word, 0.0))
    faults = [library.faults[fault] for fault, reached in kind.direct.items() if reached == level]
    fed = any(level in handed.values() for handed in kind.inputs.values())
    return bool(faults) and not fed and all(fault.left_by == by for fault in faults)
