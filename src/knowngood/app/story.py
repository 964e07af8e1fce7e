"""The story of a car: what came in, what was done, what showed that it worked; and what was read when."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from knowngood.app.bay_time import bay_day
from knowngood.app.pieces import BUNDLE, DONE, piece_words, repairs_made, works_at
from knowngood.app.state import State
from knowngood.belief.worked_on import does
from knowngood.car import ENGINE, Place
from knowngood.errors import Refused
from knowngood.evidence import REMEMBERED, Entry, Finding, Reading, Work
from knowngood.library.find import code_at
from knowngood.library.healthy import JUDGED_GOOD, NOT_SEEN, healthy_word
from knowngood.library.reach import reach_of
from knowngood.library.records import Fault, ReadingKind
from knowngood.lines.amounts import shown_in

SPANS = 2.0  # standard deviations of a good one


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
    reading_before: Reading
    reading_after: Reading


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
    return [_chapter(state, indexes) for indexes in repairs_made(state)]


def _chapter(state: State, indexes: tuple[int, ...]) -> Chapter:
    works = works_at(state, indexes)
    effect = works[-1].effect
    if works[0].words == BUNDLE and effect:
        effect += "; which part of it did that is open"
    found = [words for words in (_found(state, indexes[0], work) for work in works) if words]
    return Chapter(
        bay_day(state.entries[indexes[0]].at),
        "; ".join(dict.fromkeys(found)),
        f"{piece_words(state, indexes)}{f': {effect}' if effect else ''}",
        _shown(state, indexes[-1], works),
    )


def before_and_after(state: State) -> list[Before]:
    """Things that were read before the first work and after the last, each with both readings."""
    at = [index for index, entry in enumerate(state.entries) if _is_work(entry)]
    if not at:
        return []
    first, last = at[0], at[-1]
    before = _readings(state, 0, first)
    after = _readings(state, last + 1, len(state.entries))
    return [
        Before(name, said_of(state, was), said_of(state, after[name]), was, after[name])
        for name, was in before.items()
        if name in after
    ]


def said_of(state: State, reading: Reading) -> str:
    """A reading in words: ``60 psi``, ``wet with fuel``, ``P0304 stored``."""
    if reading.kind == "code":
        return f"{reading.code or 'none'} {reading.state}".rstrip()
    if reading.value is not None:
        kind = state.library.readings.get(reading.kind)
        quantity = kind.quantity if kind is not None else ""
        return shown_in(reading.value, quantity, state.settings.unit_of(quantity))
    return reading.word


def name_of(state: State, reading: Reading) -> str:
    """What was read, and where: ``cranking compression, cylinder 3``."""
    kind = state.library.readings.get(reading.kind)
    name = kind.name if kind is not None else reading.kind
    own = kind.when if kind is not None and kind.complaint else ""
    beside = [condition for condition in reading.conditions if condition not in name and condition != own]
    conditions = f" ({', '.join(beside)})" if beside else ""
    return name + conditions + ("" if reading.place == ENGINE else f", {reading.place}")


def _is_work(entry: Entry) -> bool:
    return isinstance(entry.body, Work) and entry.body.do in DONE and entry.body.who == "here"


def _complains(state: State, reading: Reading) -> bool:
    kind = state.library.readings.get(reading.kind)
    if reading.kind == "code":
        return bool(reading.code)
    return kind is not None and kind.complaint and is_bad(state, reading)


def _lies_in(found: Place, places: Sequence[Place]) -> bool:
    """Whether work was done where something was found: of leads crossed between two cylinders, at both."""
    ends = {Place("cylinder", number) for number in found.name.split("-")} if "-" in found.name else {found}
    return found in places or ends <= set(places)


def _found(state: State, index: int, work: Work) -> str:
    faults = state.library.faults
    said = [
        entry.body.words or entry.line
        for entry in state.entries[:index]
        if isinstance(entry.body, Finding)
        and entry.body.seen
        and _same_part(faults[entry.body.fault].part if entry.body.fault in faults else entry.body.part, work.part)
        and (_lies_in(entry.body.place, work.places) or ENGINE in (entry.body.place, *work.places))
    ]
    return said[-1] if said else ""


def _same_part(one: str, other: str) -> bool:
    return bool(one) and (one == other or one.startswith(other) or other.startswith(one))


class Seen(msgspec.Struct, frozen=True, kw_only=True):
    """One thing that was read before a piece of work, and whatever was read of it since.

    ``times_bad`` of ``times`` it was not as it should be before; ``bad_after`` says it for each reading since.
    """

    name: str
    reading: Reading
    before: str
    after: str
    was_bad: bool
    times_bad: int
    times: int
    bad_after: list[bool]

    @property
    def is_level(self) -> bool:
        """A number that wanders from drive to drive, not a fact that is there or not."""
        return self.reading.value is not None

    @property
    def could_be_by_it(self) -> bool:
        """Whether the work can have put it right: a fact that was still bad when read next, it did not."""
        return bool(self.bad_after) and (self.is_level or not self.bad_after[0])


def seen_before_and_after(state: State, index: int) -> list[Seen]:
    """Everything read before the work at ``index``, with what was read of it since."""
    before, after = _all_readings(state, 0, index), _all_readings(state, index + 1, len(state.entries))
    return [
        Seen(
            name=name,
            reading=readings[-1],
            before=said_of(state, readings[-1]),
            after=said_of(state, after[name][-1]) if after.get(name) else "",
            was_bad=is_bad(state, readings[-1]),
            times_bad=sum(is_bad(state, reading) for reading in readings),
            times=len(readings),
            bad_after=[
                is_bad(state, reading) and not _is_another_trouble(state, readings[-1], reading)
                for reading in after.get(name, [])
            ],
        )
        for name, readings in before.items()
    ]


def is_bad(state: State, reading: Reading) -> bool:
    """Whether a reading is not as it should be, by its words, its code, or where the belief sees its level."""
    if reading.kind == "code":
        return bool(reading.code) and reading.word != "none"
    kind = state.library.readings.get(reading.kind)
    if kind is None:
        return False
    if reading.value is None:
        return reading.word not in (*NOT_SEEN, *JUDGED_GOOD, healthy_word(state.library, kind))
    low, high = as_it_should_be(state, kind)
    return (low is not None and reading.value.number < low) or (high is not None and reading.value.number > high)


def _is_another_trouble(state: State, before: Reading, after: Reading) -> bool:
    """Whether two words tell of different things: a plug that was wet and is dry now is not wet any more."""
    kind = state.library.readings.get(before.kind)
    return kind is not None and bool(kind.unordered) and after.word != before.word


def as_it_should_be(state: State, kind: ReadingKind) -> tuple[float | None, float | None]:
    """The span a number should be in: this car's window, else two standard deviations of a good one, base unit.

    A row that is only judged against the other cylinders has none.
    """
    window = state.car.windows.get(kind.id)
    if window is not None:
        return window.low, window.high
    if kind.per_step:
        return kind.offset - SPANS * kind.noise, kind.offset + SPANS * kind.noise
    levels = kind.levels or (state.library.ladders[kind.on].levels if kind.on else ())
    spread = kind.spread.get(levels[0]) if levels and not kind.relative else None
    if spread is None:
        return None, None
    if spread.at is not None and spread.spread is not None:
        return spread.at - SPANS * spread.spread, spread.at + SPANS * spread.spread
    return spread.low, spread.high


def _shown(state: State, index: int, works: Sequence[Work]) -> list[str]:
    """Readings of one thing from both sides of the work that do not say the same."""
    return [
        f"{one.name}: {one.before} before, {one.after} after"
        for one in seen_before_and_after(state, index)
        if one.could_be_by_it and one.before != one.after and any(bears_on(state, one.reading, work) for work in works)
    ]


def bears_on(state: State, reading: Reading, work: Work) -> bool:
    """Whether work can have changed a reading: it puts right what such a reading sees, and not at another cylinder."""
    found = code_at(state.library, reading.code) if reading.code else None
    if reading.kind == "code" and (found is None or reading.place.kind == "cylinder"):
        return reading.place in work.places and reading.place != ENGINE
    put_right = {fault.id for fault in state.library.faults.values() if cured_by(fault, work)}
    reach = reach_of(state.library)
    seen = reach.of_code(found[0]) if found is not None else reach.readings.get(reading.kind, frozenset())
    return bool(put_right & seen) and not _is_elsewhere(state, reading, work)


def _is_elsewhere(state: State, reading: Reading, work: Work) -> bool:
    """Whether a reading is of another cylinder, or of another bank, than the work."""
    if ENGINE in work.places or reading.place.kind not in ("cylinder", "bank"):
        return False
    if reading.place.kind == "cylinder":
        return reading.place not in work.places
    try:
        mine = state.layout.cylinders_at(state.layout.bank_place(reading.place.name))
    except Refused:
        return True  # a bank this engine does not have
    return not any(mine & state.layout.cylinders_at(place) for place in work.places)


def cured_by(fault: Fault, work: Work) -> bool:
    """Whether this work puts a kind of fault right."""
    return any(does(work.do, cure.do) and (cure.part or fault.part) == work.part for cure in fault.cures)


def _all_readings(state: State, start: int, end: int) -> dict[str, list[Reading]]:
    """The readings of each thing among some entries, in time order, by name and place.

    A word stands for the thing under whatever conditions it was said; a number only under its own. A code is read
    again, and gone, where a later line says that there are none; not where they were cleared and nothing was read on
    the car in between: no code comes back before the engine has run. One that was there before the first of these
    entries and is still remembered counts only once it was cleared: an old code says nothing of what was done since.
    """
    result: dict[str, list[Reading]] = {}
    just_cleared, old = False, set(_codes_named(state, start))
    for entry in state.entries[start:end]:
        body = entry.body
        if isinstance(body, Work):
            just_cleared = body.do == "cleared" or just_cleared
            old = set() if body.do == "cleared" else old
        if not isinstance(body, Reading) or body.doubt:
            continue
        if body.kind != "code":
            just_cleared = False
            name = name_of(state, body) if body.value is not None else _without_conditions(state, body)
            result.setdefault(name, []).append(body)
        elif not body.code and just_cleared:
            continue
        elif not body.code:
            for name in _codes_named(state, end):
                result.setdefault(name, []).append(msgspec.structs.replace(body, word="none"))
        elif not (body.state in REMEMBERED and f"code {body.code}" in old):
            result.setdefault(f"code {body.code}", []).append(body)
    return result


def _readings(state: State, start: int, end: int) -> dict[str, Reading]:
    return {name: readings[-1] for name, readings in _all_readings(state, start, end).items()}


def _without_conditions(state: State, reading: Reading) -> str:
    return name_of(state, msgspec.structs.replace(reading, conditions=()))


def _codes_named(state: State, end: int) -> list[str]:
    bodies = [entry.body for entry in state.entries[:end] if isinstance(entry.body, Reading) and not entry.body.doubt]
    return list(dict.fromkeys(f"code {body.code}" for body in bodies if body.kind == "code" and body.code))


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
