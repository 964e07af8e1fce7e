"""The journal by line, all of it or what speaks of one place."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from knowngood.app.bay_time import bay_time
from knowngood.app.photo import photo_named
from knowngood.app.workshop import line_numbers
from knowngood.car import ENGINE, Layout
from knowngood.errors import Problem, Refused
from knowngood.evidence import Entry, Note, named_places


@dataclass(frozen=True)
class JournalLine:
    """A typed line that stands: its number, words, moment, the entry that names it, whether it counts, its photo."""

    number: int
    text: str
    at: str
    entry: str
    counts: bool
    photo: str = ""


def journal_of(entries: Sequence[Entry], layout: Layout, place: str = "") -> list[JournalLine]:
    """Lines that stand, the last first; with a place, those that speak of it."""
    numbers = line_numbers(list(entries))
    lines: dict[int, JournalLine] = {}
    for index, entry in enumerate(entries):
        if place and place not in _places(entry, layout):
            continue
        counts = not isinstance(entry.body, Note)
        earlier = lines.get(numbers[index])
        lines[numbers[index]] = JournalLine(
            numbers[index],
            _text(entry),
            bay_time(entry.at),
            entry.id,
            counts or bool(earlier and earlier.counts),
            photo_named(entry.line) if isinstance(entry.body, Note) else "",
        )
    return sorted(lines.values(), key=lambda line: -line.number)


def line_of(entries: Sequence[Entry], layout: Layout, number: int) -> JournalLine:
    """The line of a number.

    Raises
    ------
    Refused
        No line that stands has it.
    """
    lines = journal_of(entries, layout)
    found = next((line for line in lines if line.number == number), None)
    if found is None:
        raise Refused(Problem(f"There is no line {number}: they are 1 to {lines[0].number}.", "See them: 'journal'."))
    return found


def _text(entry: Entry) -> str:
    """The words of a line; of a photo, what it shows."""
    photo = photo_named(entry.line) if isinstance(entry.body, Note) else ""
    return entry.line.replace(f"photo {photo}", "Photo", 1) if photo else entry.line


def places_in(entries: Sequence[Entry], layout: Layout) -> list[str]:
    """Every place some line speaks of, cylinders in their order first."""
    found = {place for entry in entries for place in _places(entry, layout)}
    return sorted(found, key=lambda name: (not name.startswith("cylinder"), len(name), name))


def _places(entry: Entry, layout: Layout) -> set[str]:
    return {str(layout.by_number(place) or place) for place in named_places(entry.body) if place != ENGINE}
