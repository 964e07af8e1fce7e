"""What was done, what is apart, what is left, and what may be done next with the car."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

import msgspec

from knowngood.app.state import State
from knowngood.app.tasks import best_cure
from knowngood.belief.protocol import FaultAt
from knowngood.car import ENGINE
from knowngood.errors import Problem, Refused
from knowngood.evidence import Finding, Reading, Work
from knowngood.library.records import ReadingKind
from knowngood.planner.gates import GateState, Look, gate_state
from knowngood.planner.remains import COST, DANGER, HARM, WAIT, Remaining, in_order
from knowngood.sheets.words import in_words

LEFT_OVER = 0.05  # a residual chance worth keeping on the list
SURE = 0.9  # there, whether or not it is behind anything that was noticed
WORSE_BY_DRIVING = ("burn", "oil_pressure", "heat", "knock", "coolant_loss", "gas_in_coolant", "oil_use")


class WorkLine(msgspec.Struct, frozen=True):
    """One piece of work in the journal."""

    at: str
    what: str
    effect: str
    minutes: float | None
    price: float | None


class WorkSheet(msgspec.Struct, frozen=True):
    """What was done, what is apart, what was left, what it has cost."""

    done: list[WorkLine]
    apart: list[str]
    undone: list[str]
    minutes: float
    money: float


def work_of(state: State) -> WorkSheet:
    """The work of a job so far."""
    lines = [
        WorkLine(entry.at[:16], work_words(state, entry.body), entry.body.effect, entry.body.minutes, entry.body.price)
        for entry in state.entries
        if isinstance(entry.body, Work)
    ]
    access = state.library.access
    return WorkSheet(
        done=lines,
        apart=[access[step].name if step in access else step for step in sorted(state.open_access)],
        undone=[undone_words(one.what, str(one.place)) for one in state.undone],
        minutes=sum(line.minutes or 0.0 for line in lines),
        money=sum(line.price or 0.0 for line in lines),
    )


def undone_words(what: str, place: str) -> str:
    """``unplugged, cylinder 3``."""
    return what if place == "engine" else f"{what}, {place}"


def work_words(state: State, work: Work) -> str:
    """``swapped ignition coil cylinder 4 with cylinder 2``."""
    part = state.library.parts.get(work.part)
    name = part.name if part is not None else work.part.replace("_", " ")
    where = ", ".join(str(place) for place in work.places if place != ENGINE)
    to = f" with {work.to}" if work.to is not None else ""
    return " ".join(word for word in (work.do, name, where + to) if word)


def todo_of(state: State) -> list[Remaining]:
    """What is left on this car, in the order to work it off; residual chances included."""
    things = [
        Remaining(
            undone_words(one.what, str(one.place)), "left as it must not stay", DANGER, until="not cranked, not driven"
        )
        for one in state.undone
    ]
    for entry in state.entries:
        if isinstance(entry.body, Finding) and entry.body.seen and not entry.body.fault:
            things.append(Remaining(entry.body.words or entry.line, "found; what caused it is not known", HARM))
    return in_order([*things, *_still_suspected(state)])


def _still_suspected(state: State) -> Iterator[Remaining]:
    """Kinds of fault that may well be there still, each once with the places it may be at."""
    chances = state.belief.chances()
    places: dict[str, list[tuple[float, FaultAt]]] = {}
    for at, chance in zip(state.belief.faults, chances, strict=True):
        places.setdefault(at.fault, []).append((float(chance), at))
    for name, there in places.items():
        fault = state.library.faults[name]
        leading = max(chance for chance, _ in there)
        worth = state.kinds_behind[name] > LEFT_OVER or leading > SURE
        if name.startswith("unlisted") or not worth or not fault.cures:
            continue
        anywhere = state.belief.chance_of_any([at for _, at in there])  # dear: only of what may be on the list
        if anywhere < LEFT_OVER:
            continue
        cure = best_cure(fault)
        part = state.library.parts.get(cure.part or fault.part)
        money = part.price if part is not None and cure.do == "replaced" else 0.0
        at_places = [at for chance, at in there if chance > leading / 2 and at.place != ENGINE]
        words = f"{fault.name}{_places_words(at_places)}"
        brings = [state.library.faults[other].name for other in fault.leads_to]
        urgency = DANGER if fault.stop else HARM if _harms(state, there[0][1]) else COST if brings else WAIT
        why = f"{in_words(anywhere)}{f'; in time {brings[0]}' if brings else ''}"
        yield Remaining(words, why, urgency, anywhere, cure.minutes, money, until_then(state, name))


def until_then(state: State, fault: str) -> str:
    """What is not done to the car until a fault is put right; empty where nothing is in danger."""
    return "; ".join(until.say for until in state.library.until_then.values() if fault in until.faults)


def _places_words(places: Sequence[FaultAt]) -> str:
    if not places:
        return ""
    names = [at.place.name for at in places]
    if len(names) == 1:
        return f", {places[0].place}"
    return f", {places[0].place.kind} {', '.join(names[:-1])} or {names[-1]}"


def _harms(state: State, at: FaultAt) -> bool:
    return any(act.on in WORSE_BY_DRIVING for act in state.library.faults[at.fault].acts)


def looks_of(state: State) -> list[Look]:
    """Looks that were made, with whether work since can have disturbed them."""
    result: list[Look] = []
    for entry in state.entries:
        body = entry.body
        if isinstance(body, Reading) and not body.doubt:
            result.append(Look(body.kind, body.word or "bad"))
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
    return kind in touched or any(state.library.faults[fault].part in touched for fault in record.direct)


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
        lines += [f"left undone: {words}" for words in state.undone]
        lines += [f"bad: {look.name}" for look in state.closing]
    elif state.missing:
        lines.append(f"{state.gate.name}: not yet. Look first:")
    else:
        lines.append(f"{state.gate.name}: limited. {state.limit}")
    for look in state.missing:
        words = f"look: {look.name}{' (stop item)' if look.stop else ''}"
        lines.append(f"{words}; say '{say_of(readings[look.kind])}'" if readings is not None else words)
    return lines
