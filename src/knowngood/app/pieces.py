"""Pieces of work: each for itself, and a base service as one, however many parts it renewed."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.app.state import State
from knowngood.car import ENGINE
from knowngood.evidence import Work
from knowngood.library.find import work_done
from knowngood.lines.service import BUNDLE

DONE = ("replaced", "reseated", "cleaned", "adjusted", "repaired", "refilled")
"""Work that puts something right."""
CLEARED = "cleared"  # of codes: nobody notes minutes for it


def works_at(state: State, indexes: Sequence[int]) -> list[Work]:
    """The work at some entries."""
    bodies = (state.entries[index].body for index in indexes)
    return [body for body in bodies if isinstance(body, Work)]


def pieces_of(state: State) -> list[tuple[int, ...]]:
    """Entries of each piece of work, in time order."""
    made: dict[object, list[int]] = {}
    for index, entry in enumerate(state.entries):
        if isinstance(entry.body, Work):
            made.setdefault((entry.at, entry.line) if entry.body.words == BUNDLE else index, []).append(index)
    return [tuple(indexes) for indexes in made.values()]


def repairs_made(state: State) -> list[tuple[int, ...]]:
    """The pieces of work here that put something right."""
    return [
        indexes
        for indexes in pieces_of(state)
        if all(work.who == "here" for work in works_at(state, indexes))
        and any(work.do in DONE for work in works_at(state, indexes))
    ]


def piece_words(state: State, indexes: Sequence[int]) -> str:
    """``replaced vacuum hose``; a base service with all that was renewed in it."""
    works = works_at(state, indexes)
    if works[0].words != BUNDLE:
        return work_words(state, works[0])
    parts = [state.library.parts[work.part].name for work in works if work.part in state.library.parts]
    return f"{BUNDLE}: {', '.join(parts)}"


def work_words(state: State, work: Work) -> str:
    """``swapped ignition coil cylinder 4 with cylinder 2``."""
    what = work_done(state.library, work.do, work.part)
    where = ", ".join(str(place) for place in work.places if place != ENGINE)
    to = f" with {work.to}" if work.to is not None else ""
    codes = " codes" if what == CLEARED else ""
    return f"{what}{codes} {where}{to}".rstrip()
