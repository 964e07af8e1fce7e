"""What comes off and goes back on, as the page taps it, and the lines that say so."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from knowngood.car import Car
from knowngood.evidence import Access, Entry
from knowngood.library.records import AccessStep, Library
from knowngood.lines import read_line
from knowngood.lines.back_on import STATE, back_on

OFF, ON = "off", "on"


def field_of(step: str) -> str:
    """Name of the field that says of a step that it is off or back on."""
    return f"access|{step}"


def now_apart(library: Library, entries: Sequence[Entry]) -> tuple[tuple[str, str], ...]:
    """Field and name of all that is off now, what came off last first: so it goes back on.

    Parameters
    ----------
    entries : sequence of Entry
        That stand, in time order.
    """
    steps: list[str] = []
    for entry in entries:
        if isinstance(entry.body, Access):
            steps = [step for step in steps if step != entry.body.step]
            steps += [entry.body.step] if entry.body.open else []
    return tuple((field_of(step), name_of(library, step)) for step in reversed(steps))


def name_of(library: Library, step: str) -> str:
    """A step by its name; by its id where the library has it no more."""
    return library.access[step].name if step in library.access else step


def said(library: Library, step: AccessStep, *, is_open: bool) -> str:
    """The line that says of a step that it is off, or on again; where no line is read so, as its echo says it."""
    want = (Access(step.id, is_open),)
    again = (line for line in _ways(step, is_open) if tuple(read_line(line, Car(), library).bodies) == want)
    return next(again, f"{step.name}: {'off' if is_open else 'back on'}")


def _ways(step: AccessStep, is_open: bool) -> Iterator[str]:
    if is_open:
        yield from (says for says in step.says if STATE.search(says))
        yield from step.says
    else:
        yield from filter(None, map(back_on, step.says))
