"""What was done, what is apart, what is left, and what may be done next with the car."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from weakref import WeakKeyDictionary

import msgspec

from knowngood.app.bay_time import bay_time
from knowngood.app.clock import Session, sessions_of
from knowngood.app.found_looks import looks_found_bad, shown_by
from knowngood.app.pieces import piece_words, pieces_of, works_at
from knowngood.app.state import State
from knowngood.app.told_looks import looks_told
from knowngood.errors import Problem, Refused
from knowngood.evidence import Finding, Reading, Work
from knowngood.library.records import ReadingKind
from knowngood.planner.gates import GateState, Look, gate_state


class WorkLine(msgspec.Struct, frozen=True):
    """One piece of work in the journal; ``index`` is its first entry."""

    at: str
    what: str
    effect: str
    minutes: float | None
    price: float | None
    index: int


class WorkSheet(msgspec.Struct, frozen=True):
    """What was done, what is apart, what was left, what it has cost; ``minutes`` by the clock and as typed."""

    done: list[WorkLine]
    apart: list[str]
    undone: list[str]
    minutes: float
    money: float
    sessions: list[Session]


def work_of(state: State) -> WorkSheet:
    """The work of a job so far."""
    lines = [_work_line(state, indexes) for indexes in pieces_of(state)]
    access, sessions = state.library.access, sessions_of(state.entries)
    return WorkSheet(
        done=lines,
        apart=[access[step].name if step in access else step for step in sorted(state.open_access)],
        undone=[undone_words(one.what, str(one.place)) for one in state.undone],
        minutes=_minutes(state, sessions),
        money=sum(line.price or 0.0 for line in lines),
        sessions=sessions,
    )


def _work_line(state: State, indexes: Sequence[int]) -> WorkLine:
    works = works_at(state, indexes)
    took = [work.minutes for work in works if work.minutes is not None]
    paid = [work.price for work in works if work.price is not None]
    return WorkLine(
        at=bay_time(state.entries[indexes[0]].at).replace(" ", "T"),
        what=piece_words(state, indexes),
        effect=works[-1].effect,
        minutes=sum(took) if took else None,
        price=sum(paid) if paid else None,
        index=indexes[0],
    )


def _minutes(state: State, sessions: Sequence[Session]) -> float:
    """Minutes by the clock, and those typed with work that was done while it stood."""
    timed = {index for session in sessions for index in session.works}
    typed = (
        entry.body.minutes or 0.0
        for index, entry in enumerate(state.entries)
        if isinstance(entry.body, Work) and index not in timed
    )
    return sum(session.minutes or 0.0 for session in sessions) + sum(typed)


def undone_words(what: str, place: str) -> str:
    """``unplugged, cylinder 3``."""
    return what if place == "engine" else f"{what}, {place}"


def undone_said(words: str) -> str:
    """What was left undone, and what to type when it is right again."""
    return f"left undone: {words}; once it is right, say 'put back' and what it is"


def looks_of(state: State) -> tuple[Look, ...]:
    """Looks that were made, or settled by a finding or another reading, with whether work since can disturb them."""
    if state not in _LOOKS:  # every gate asks for them
        _LOOKS[state] = tuple(_looks(state))
    return _LOOKS[state]


_LOOKS: WeakKeyDictionary[State, tuple[Look, ...]] = WeakKeyDictionary()


def _looks(state: State) -> list[Look]:
    result: list[Look] = []
    for entry in state.entries:
        body = entry.body
        if isinstance(body, Reading) and not body.doubt:
            result += (Look(body.kind, body.word or "bad"), *looks_told(state.library, body))
        elif isinstance(body, Finding):
            result += looks_found_bad(state.library, body)
        elif isinstance(body, Work):
            touched = _touched_words(state, body)
            result = [
                Look(look.kind, look.word, look.disturbed or _disturbs(state, look.kind, touched)) for look in result
            ]
    return result


def _touched_words(state: State, work: Work) -> set[str]:
    part = state.library.parts.get(work.part)
    area = state.library.areas.get(part.area) if part is not None else None
    return {work.part, *(area.disturbs if area is not None else ())}


def _disturbs(state: State, kind: str, touched: set[str]) -> bool:
    record = state.library.readings.get(kind)
    if record is None:
        return False
    return kind in touched or any(
        fault.part in touched and shown_by(state.library, record, fault) for fault in state.library.faults.values()
    )


def may_of(state: State, name: str) -> GateState:
    """How the gate of a step stands: ``battery``, ``crank``, ``start``, ``idle``, ``yard``, ``road``.

    Raises
    ------
    Refused
        There is no such gate; those there are, are named.
    """
    gates = state.library.gates
    gate = gates.get(name) or next((one for one in gates.values() if name.lower() in one.name.lower()), None)
    if gate is None:
        raise Refused(Problem(f"There is no gate '{name}'.", f"Gates: {', '.join(gates)}."))
    undone = [undone_words(one.what, str(one.place)) for one in state.undone]
    return gate_state(gate, state.library.readings, looks_of(state), undone, gates=tuple(gates.values()))


def say_of(kind: ReadingKind) -> str:
    """What to type when a look was made and was good: ``oil there: good``."""
    return f"{kind.says[0] if kind.says else kind.name}: {kind.words[0]}"


def gate_words(state: GateState, readings: Mapping[str, ReadingKind] | None = None) -> Sequence[str]:
    """What to say of a gate, line by line; with the kinds of reading, also what to type when a look was good."""
    lines: list[str] = []
    if state.is_open:
        return [f"{state.gate.name}: yes. Every look was made and is good."]
    if state.undone or state.closing:
        lines.append(f"{state.gate.name}: no, until this is put right.")
        lines += [undone_said(words) for words in state.undone]
        for look in state.closing:
            again = f"; once it is right, look again and say '{say_of(readings[look.kind])}'" if readings else ""
            lines.append(f"bad: {look.name}{again}")
    elif state.missing:
        lines.append(f"{state.gate.name}: not yet. Look first:")
    else:
        lines.append(f"{state.gate.name}: limited. {state.limit}")
    for look in state.missing:
        words = f"look: {look.name}{' (stop item)' if look.stop else ''}"
        lines.append(f"{words}; say '{say_of(readings[look.kind])}'" if readings is not None else words)
    return lines
