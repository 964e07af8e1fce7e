"""Photos of before and after each piece of work, found by the words they were saved under."""

from __future__ import annotations

import re
from collections.abc import Callable

import msgspec

from knowngood.app.bay_time import bay_day
from knowngood.app.photo import photo_named
from knowngood.app.pieces import DONE, work_words
from knowngood.app.state import State
from knowngood.evidence import Entry, Finding, Note, Work

Photos = Callable[[str], bytes | None]
"""From the name of a photo to its bytes; None where it is not on this machine."""
BEFORE, AFTER = frozenset(("before", "was", "old", "arrival")), frozenset(("after", "now", "new", "done", "finished"))
LEAST_LETTERS = 3
_FILLERS = frozenset(("and", "the", "with", "all", "cylinder", "photo", "replaced", "cleaned", "repaired"))


class Shot(msgspec.Struct, frozen=True):
    """One photo: its name on disk, what it shows, its day, and where in the journal it stands."""

    name: str
    words: str
    day: str
    index: int


class Pair(msgspec.Struct, frozen=True):
    """The last photo before and the last after one piece of work; one of the two may be missing."""

    work: str
    before: Shot | None
    after: Shot | None


def no_photos(name: str) -> bytes | None:
    """Where no photos are at hand."""
    return None


def shots_of(state: State) -> list[Shot]:
    """Every photo of a car, in time order."""
    shots = []
    for index, entry in enumerate(state.entries):
        name = photo_named(entry.line) if isinstance(entry.body, Note) else ""
        if name:
            words = entry.line.partition(": ")[2]
            shots.append(Shot(name, words, bay_day(entry.at), index))
    return shots


def pairs_of(state: State) -> list[Pair]:
    """A pair for each piece of work of which there is a photo, in time order.

    A photo belongs to the work whose words it shares most of. It shows how it was where it says so ("before", "was"),
    how it is where it says that ("after", "now"), and else what its moment says.
    """
    works = [(index, entry) for index, entry in enumerate(state.entries) if _is_work(entry)]
    found: dict[int, dict[bool, Shot]] = {}
    for shot in shots_of(state):
        said = _words_in(shot.words)
        shared = [(len(said & _named(state, index, entry)), -abs(index - shot.index), index) for index, entry in works]
        most, _, index = max(shared, default=(0, 0, 0))
        if most:
            after = bool(said & AFTER) or (shot.index > index and not said & BEFORE)
            found.setdefault(index, {})[after] = shot
    return [
        Pair(_said(state, state.entries[index]), pair.get(False), pair.get(True))
        for index, pair in sorted(found.items())
    ]


def _is_work(entry: Entry) -> bool:
    return isinstance(entry.body, Work) and entry.body.do in DONE and entry.body.who == "here"


def _said(state: State, entry: Entry) -> str:
    assert isinstance(entry.body, Work)
    return work_words(state, entry.body)


def _named(state: State, index: int, entry: Entry) -> frozenset[str]:
    """The words a piece of work goes by: its own, those of its part, and of what had been found at that part."""
    assert isinstance(entry.body, Work)
    part = state.library.parts.get(entry.body.part)
    own = [entry.line, _said(state, entry), *((part.name, *part.words) if part is not None else ())]
    for earlier in state.entries[:index]:
        body = earlier.body
        fault = state.library.faults.get(body.fault) if isinstance(body, Finding) else None
        if isinstance(body, Finding) and entry.body.part in (body.part, fault.part if fault else ""):
            own.append(body.words or earlier.line)
    return _words_in(" ".join(own))


def _words_in(text: str) -> frozenset[str]:
    """Its words of three letters or more, and its numbers."""
    found = re.findall(rf"[^\W\d_]{{{LEAST_LETTERS},}}|\d+", text.casefold())
    return frozenset(found) - _FILLERS
