"""One suspect in full: where, why, what would show it, what puts it right, and what it would be without each line."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from knowngood.app.answer import OfStory
from knowngood.app.knowledge import seen_by
from knowngood.app.ledger import moved_by_line
from knowngood.app.raised import of_story
from knowngood.app.state import State
from knowngood.app.step_form import WORK_EFFECTS
from knowngood.car import ENGINE, Place
from knowngood.errors import Problem, Refused
from knowngood.library.find import part_name
from knowngood.library.records import Check, Fault

PLACES, CHECKS = 12, 6


@dataclass(frozen=True)
class PlaceView:
    """One place of a suspect: as it stands in a field, its chance, and the fields that say "seen" and "done" there."""

    place: str
    chance: float
    found: str
    cures: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class LineWeight:
    """How far a line moved the suspect at its likeliest place, and its chance had the line not been said."""

    text: str
    weight: float
    without: float


@dataclass(frozen=True)
class SuspectView:
    """A suspect with all that can be asked of it; ``everywhere``: what puts it right at all its places at once."""

    fault: Fault
    chance: float
    places: tuple[PlaceView, ...]
    lines: tuple[LineWeight, ...]
    story: tuple[OfStory, ...]
    checks: tuple[Check, ...]
    everywhere: tuple[tuple[str, str], ...] = ()
    effects: tuple[tuple[str, str], ...] = WORK_EFFECTS


def suspect_view(state: State, fault_id: str, lines: dict[int, int]) -> SuspectView:
    """A suspect in full.

    Parameters
    ----------
    lines : dict entry index -> line number
        How the door numbers the lines.

    Raises
    ------
    Refused
        The car cannot have such a fault.
    """
    belief = state.belief
    chances = belief.chances()
    column = belief.model.column
    here = sorted((at for at in belief.faults if at.fault == fault_id), key=lambda at: -float(chances[column[at]]))
    if not here:
        raise Refused(Problem(f"There is no suspect '{fault_id}' on this car.", "Go back to the suspects."))
    fault = state.library.faults[fault_id]
    places = tuple(
        PlaceView(
            str(at.place),
            float(chances[column[at]]),
            f"found|{fault_id}|{at.place}",
            tuple(_cures(state, fault, at.place, first=at is here[0])),
        )
        for at in here[:PLACES]
    )
    return SuspectView(
        fault,
        belief.chance_of_any(here),
        places,
        _weights(state, column[here[0]], lines),
        tuple(of_story(state, fault)),
        tuple(seen_by(state.library, fault)[:CHECKS]),
        tuple(_everywhere(state, fault)),
    )


def _weights(state: State, column: int, lines: dict[int, int]) -> tuple[LineWeight, ...]:
    entries: dict[int, list[int]] = {}
    for entry in sorted(entry for entry in state.belief.entries_in() if entry >= 0):
        entries.setdefault(lines.get(entry, 0), []).append(entry)
    (moved,) = moved_by_line(state, [column], lines)
    return tuple(
        LineWeight(
            state.entries[entries[number][0]].line,
            weight,
            float(state.belief.chances_without(*entries[number])[column]),
        )
        for number, weight in moved.items()
    )


def _cures(state: State, fault: Fault, place: Place, *, first: bool) -> Iterator[tuple[str, str]]:
    """What puts it right at a place; of a part that serves the whole engine once, at the ``first``."""
    for cure in fault.cures:
        record = state.library.parts.get(cure.part or fault.part)
        whole = record is not None and record.place == "engine"
        if first or not whole:
            at = ENGINE if whole else place
            words = _done_words(state, fault, cure.do, cure.part, at)
            yield f"work|{cure.do}|{cure.part or fault.part}|{at}", words


def _everywhere(state: State, fault: Fault) -> Iterator[tuple[str, str]]:
    """What puts it right at every place its part has: a set of plugs is one work, not one for each."""
    for cure in fault.cures:
        part = cure.part or fault.part
        record = state.library.parts.get(part)
        places = state.layout.places(record.place) if record is not None and record.place != "engine" else ()
        if len(places) > 1:
            words = f"{_done_words(state, fault, cure.do, cure.part, ENGINE)}, all {len(places)}"
            yield f"work|{cure.do}|{part}|{','.join(map(str, places))}", words


def _done_words(state: State, fault: Fault, do: str, part: str, place: Place) -> str:
    record = state.library.parts.get(part or fault.part)
    own = record.done_as.get(do, "") if record is not None else ""
    words = own or f"{do}: {part_name(state.library, part or fault.part)}"
    where = "" if place == ENGINE else f", {place}"
    return f"{words[:1].upper()}{words[1:]}{where}"
