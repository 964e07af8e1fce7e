"""A notes file: the car's lines and the lines in time order, read at once."""

from __future__ import annotations

from typing import NamedTuple

import msgspec

from knowngood.car import Car
from knowngood.car.fold import with_fact
from knowngood.library.records import Library
from knowngood.lines.line import facts_of, read_line
from knowngood.lines.understood import Recent, Understood, recent_after


class NotedLine(NamedTuple):
    """A line of the file: its number (1-based), its text, what was understood."""

    line_no: int
    text: str
    understood: Understood


class Notes(msgspec.Struct, frozen=True):
    """A whole notes file read: the car as all its lines tell it, and the lines."""

    car: Car
    lines: tuple[NotedLine, ...]


def read_notes(text: str, library: Library) -> Notes:
    """Read a notes file.

    Lines about the car may stand anywhere, so the file is read twice: once to know the car, once to read the rest with
    it. Blank lines and lines that start with ``#`` are passed over.

    Parameters
    ----------
    text : str
        The whole file.
    library : Library

    Returns
    -------
    Notes
    """
    lines = [(number, line.strip()) for number, line in enumerate(text.splitlines(), start=1)]
    lines = [(number, line) for number, line in lines if line and not line.startswith("#")]
    told = _car_told(lines, library)
    if told.cylinders_doubtful:  # let the row that told the count say so again
        told = msgspec.structs.replace(told, cylinders=None, cylinders_doubtful=False)
    car, recent, read = told, Recent(), []
    for number, line in lines:
        understood = read_line(line, car, library, recent)
        if car.cylinders is None:
            for fact in facts_of(understood):
                car = with_fact(car, fact)
        recent = recent_after(recent, understood)
        read.append(NotedLine(number, line, understood))
    return Notes(car, tuple(read))


def _car_told(lines: list[tuple[int, str]], library: Library) -> Car:
    car, recent = Car(), Recent()
    for _, line in lines:
        understood = read_line(line, car, library, recent)
        sure = car.cylinders is not None and not car.cylinders_doubtful
        for fact in facts_of(understood):
            if not (sure and fact.field == "cylinders_doubtful"):
                car = with_fact(car, fact)
        recent = recent_after(recent, understood)
    return car
