"""The road test: what must be looked at first, what to provoke, the parts of the drive and how each went.

A part that was as it should be says of everything that shows in it that it did not; so one tap is several readings,
under the conditions of that part. A part that was not driven says nothing of the car, and is written down all the same.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from knowngood.app.answer import Answer
from knowngood.app.bench import may_of, say_of
from knowngood.app.state import State
from knowngood.errors import Problem, Refused
from knowngood.evidence import Body, Entry, Note, Reading, Work
from knowngood.library.drive import GOOD, NOT_DRIVEN, STRETCHES, Stretch
from knowngood.library.records import Library, ReadingKind
from knowngood.planner.gates import GOOD as LOOKED_GOOD
from knowngood.planner.gates import NOT_LOOKED, LookState
from knowngood.sheets.words import in_words

WATCHED = 4
WORTH_PROVOKING = 0.05  # a suspect under this is not driven for
FOOT = "A lamp that blinks: no load, home. No oil pressure, heat or fuel smell: stop, engine off."


BY_ID = {one.id: one for one in STRETCHES}


@dataclass(frozen=True)
class Drive:
    """One part of the drive as it is shown.

    What may show in it, what was last said of it since work was done, and the line that says the first that may show.
    """

    stretch: Stretch
    kinds: tuple[ReadingKind, ...]
    said: str
    say: str


@dataclass(frozen=True)
class RoadView:
    """The road test as a page."""

    looks: tuple[str, ...]
    watch: tuple[str, ...]
    drives: tuple[Drive, ...]
    foot: str = FOOT


def road_looks(state: State) -> tuple[str, ...]:
    """What is not yet known to be good and must be, before it goes on the road."""
    return tuple(_look_words(look) for look in _looks_left(state))


def road_looks_to_say(state: State) -> tuple[str, ...]:
    """The same for paper: each with what is typed when it was good."""
    readings = state.library.readings
    return tuple(f"{_look_words(look)}: say '{say_of(readings[look.kind])}'" for look in _looks_left(state))


def _looks_left(state: State) -> list[LookState]:
    return [look for look in may_of(state, "road").looks if look.state != LOOKED_GOOD]


def _look_words(look: LookState) -> str:
    return f"{look.name}{' (stop item)' if look.stop else ''}{f': {look.state}' if look.state != NOT_LOOKED else ''}"


def road_watch(answer: Answer) -> tuple[str, ...]:
    """What is still suspected, where it is likely enough to drive for."""
    worth = [one for one in answer.suspects if one.behind >= WORTH_PROVOKING]
    return tuple(f"{one.name}: {in_words(one.behind)}" for one in worth[:WATCHED])


def road_view(state: State, answer: Answer) -> RoadView:
    """Everything of the road test."""
    drives = []
    for one in STRETCHES:
        kinds = one.shown_in(state.library)
        drives.append(Drive(one, kinds, said_of(state.entries, one), _line_of(kinds[0], one)))
    return RoadView(road_looks(state), road_watch(answer), tuple(drives))


def _line_of(kind: ReadingKind, stretch: Stretch) -> str:
    """What is typed where it showed, under its condition: hard to start hot says that by itself."""
    says, first = kind.says[0], stretch.regime.partition(" ")[0]
    return says if kind.when == stretch.regime and says.endswith(f" {first}") else f"{says} {stretch.regime}"


def said_of(entries: Sequence[Entry], stretch: Stretch) -> str:
    """What was last said of a part of the drive since work was done; empty where nothing was.

    As a tap wrote it; or as it should be where a line said of all that shows in it that it did not.
    """
    last: dict[str, str] = {}
    for entry in reversed(entries):
        if isinstance(entry.body, Work):
            break
        for part in entry.line.split("; "):
            if part.startswith(_begins(stretch)):
                return part.removeprefix(_begins(stretch))
        body = entry.body
        if isinstance(body, Reading) and body.kind in stretch.kinds and body.conditions == (stretch.regime,):
            last.setdefault(body.kind, body.word)
    return GOOD if len(last) == len(stretch.kinds) and set(last.values()) == {"no"} else ""


def driven(library: Library, part: str, said: Sequence[str]) -> tuple[str, tuple[Body, ...]]:
    """The line and the entries of one part of the drive.

    Parameters
    ----------
    part : str
        Id of the stretch.
    said : sequence of str
        :data:`GOOD`, :data:`NOT_DRIVEN`, or the kinds of complaint that showed.

    Raises
    ------
    Refused
        There is no such part, or nothing of the kind shows in it.
    """
    stretch = BY_ID.get(part)
    if stretch is None:
        raise Refused(Problem(f"There is no part '{part}' of the drive.", "Open the page again."))
    if NOT_DRIVEN in said:
        line = f"{_begins(stretch)}{NOT_DRIVEN}"
        return line, (Note(line, "it was not driven"),)
    if GOOD in said:
        word, kinds, line = "no", list(stretch.kinds), f"{_begins(stretch)}{GOOD}"
    else:
        unknown = [kind for kind in said if kind not in stretch.kinds]
        if unknown:
            raise Refused(Problem(f"'{unknown[0]}' does not show in {stretch.name}.", "Open the page again."))
        word, kinds = "yes", list(said)
        line = f"{_begins(stretch)}{', '.join(library.readings[kind].name for kind in kinds)}"
    bodies = tuple(Reading(kind=kind, word=word, conditions=(stretch.regime,)) for kind in kinds)
    return line, bodies


def _begins(stretch: Stretch) -> str:
    return f"road test, {stretch.name}: "
