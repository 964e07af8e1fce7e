"""The story of a car: what came in, what was done, what showed that it worked; and what was read when."""

from __future__ import annotations

import msgspec

from knowngood.app.bench import work_words
from knowngood.app.state import State
from knowngood.car import ENGINE, Place
from knowngood.evidence import Body, Entry, Finding, Reading, Work
from knowngood.library.reach import Reach
from knowngood.library.records import Fault, ReadingKind
from knowngood.lines.amounts import shown

DONE = ("replaced", "reseated", "cleaned", "adjusted", "repaired", "refilled")


class Chapter(msgspec.Struct, frozen=True):
    """One thing that was put right.

    Parameters
    ----------
    was : str
        What had been found beyond doubt; empty where it was done on suspicion.
    done : str
        The work, in words, and its effect where that was said.
    shown_by : list of str
        What was read before, and what the same reading said after it; empty: nothing shows yet that it worked.
    """

    at: str
    was: str
    done: str
    shown_by: list[str]


class Before(msgspec.Struct, frozen=True):
    """A thing read more than once, with work between."""

    name: str
    before: str
    after: str


def came_in_with(state: State) -> list[str]:
    """What was wrong before any work here, in the words it was told."""
    lines: list[str] = []
    for entry in state.entries:
        if isinstance(entry.body, Work) and entry.body.who == "here" and entry.body.do in DONE:
            break
        if isinstance(entry.body, Reading) and not entry.body.doubt and _complains(state, entry.body):
            lines.append(entry.line)
    return list(dict.fromkeys(lines))


def story_of(state: State) -> list[Chapter]:
    """One chapter for each piece of work that puts something right, in time order."""
    chapters: list[Chapter] = []
    for index, entry in enumerate(state.entries):
        body = entry.body
        if not isinstance(body, Work) or body.do not in DONE or body.who != "here":
            continue
        effect = f": {body.effect}" if body.effect else ""
        chapters.append(
            Chapter(
                entry.at[:10], _found(state, index, body), f"{work_words(state, body)}{effect}", _shown(state, index)
            )
        )
    return chapters


def before_and_after(state: State) -> list[Before]:
    """Things that were read before the first work and after the last, each with both readings."""
    at = [index for index, entry in enumerate(state.entries) if _is_work(entry)]
    if not at:
        return []
    first, last = at[0], at[-1]
    before = _readings(state, 0, first)
    after = _readings(state, last + 1, len(state.entries))
    return [Before(name, said_of(state, before[name]), said_of(state, after[name])) for name in before if name in after]


def said_of(state: State, reading: Reading) -> str:
    """A reading in words: ``60 psi``, ``wet with fuel``, ``P0304 stored``."""
    if reading.kind == "code":
        return f"{reading.code or 'none'} {reading.state}".rstrip()
    if reading.value is not None:
        kind = state.library.readings.get(reading.kind)
        return shown(reading.value, kind.quantity if kind is not None else "")
    return reading.word


def name_of(state: State, reading: Reading) -> str:
    """What was read, and where: ``cranking compression, cylinder 3``."""
    kind = state.library.readings.get(reading.kind)
    name = kind.name if kind is not None else reading.kind
    conditions = f" ({', '.join(reading.conditions)})" if reading.conditions else ""
    return name + conditions + ("" if reading.place == ENGINE else f", {reading.place}")


def _is_work(entry: Entry) -> bool:
    return isinstance(entry.body, Work) and entry.body.do in DONE and entry.body.who == "here"


def _complains(state: State, reading: Reading) -> bool:
    kind = state.library.readings.get(reading.kind)
    if reading.kind == "code":
        return bool(reading.code)
    return kind is not None and kind.complaint and reading.word not in ("", _healthy_word(kind))


def _healthy_word(kind: ReadingKind) -> str:
    return "no" if "no" in kind.words else kind.words[0] if kind.words else ""


def _found(state: State, index: int, work: Work) -> str:
    faults = state.library.faults
    said = [
        entry.body.words or entry.line
        for entry in state.entries[:index]
        if isinstance(entry.body, Finding)
        and entry.body.seen
        and _same_part(faults[entry.body.fault].part if entry.body.fault in faults else entry.body.part, work.part)
        and (entry.body.place in work.places or ENGINE in (entry.body.place, *work.places))
    ]
    return said[-1] if said else ""


def _same_part(one: str, other: str) -> bool:
    return bool(one) and (one == other or one.startswith(other) or other.startswith(one))


def _shown(state: State, index: int) -> list[str]:
    """Readings of one thing from both sides of the work that do not say the same."""
    ends = [at for at in range(index + 1, len(state.entries)) if not _is_work(state.entries[at])]
    after = _readings(state, min(ends, default=len(state.entries)), len(state.entries))
    before = _readings(state, 0, index)
    return [
        f"{name}: {was} before, {now} after"
        for name in before
        if name in after
        and _may_bear(state, before[name], state.entries[index].body)
        and (was := said_of(state, before[name])) != (now := said_of(state, after[name]))
    ]


def _may_bear(state: State, reading: Reading, body: Body) -> bool:
    """Whether work can have changed a reading: it puts right what such a reading sees, and not at another cylinder."""
    if not isinstance(body, Work):
        return False
    elsewhere = reading.place.kind == "cylinder" and reading.place not in body.places and body.places != (ENGINE,)
    if reading.kind == "code":
        return reading.place in body.places
    put_right = {fault.id for fault in state.library.faults.values() if _cures(fault, body)}
    return not elsewhere and bool(put_right & Reach(state.library).readings.get(reading.kind, frozenset()))


def _cures(fault: Fault, work: Work) -> bool:
    return any(cure.do == work.do and (cure.part or fault.part) == work.part for cure in fault.cures)


def _readings(state: State, start: int, end: int) -> dict[str, Reading]:
    """The last reading of each thing among some entries, by name and place.

    A word stands for the thing under whatever conditions it was said; a number only under its own. A code that names
    a cylinder is read again, and gone, where a later line says that there are none.
    """
    result: dict[str, Reading] = {}
    for entry in state.entries[start:end]:
        body = entry.body
        if not isinstance(body, Reading) or body.doubt:
            continue
        if body.kind != "code":
            result[name_of(state, body) if body.value is not None else _without_conditions(state, body)] = body
        elif not body.code:
            result.update({name: msgspec.structs.replace(body, word="none") for name in _cylinder_codes(state, end)})
        elif body.place.kind == "cylinder":
            result[f"code {body.code}"] = body
    return result


def _without_conditions(state: State, reading: Reading) -> str:
    return name_of(state, msgspec.structs.replace(reading, conditions=()))


def _cylinder_codes(state: State, end: int) -> list[str]:
    bodies = [entry.body for entry in state.entries[:end] if isinstance(entry.body, Reading)]
    return [
        f"code {body.code}" for body in bodies if body.kind == "code" and body.code and body.place.kind == "cylinder"
    ]


def latest_by_cylinder(state: State) -> dict[Place, list[tuple[str, str]]]:
    """Latest reading of each kind at each cylinder: (name, said), for the plan of the engine."""
    result: dict[Place, dict[str, str]] = {}
    for entry in state.entries:
        body = entry.body
        if isinstance(body, Reading) and not body.doubt and body.place.kind == "cylinder" and body.kind != "code":
            kind = state.library.readings.get(body.kind)
            name = (kind.says[0] if kind.says else kind.name) if kind is not None else body.kind
            result.setdefault(body.place, {})[name] = said_of(state, body)
    return {place: list(said.items()) for place, said in result.items()}
