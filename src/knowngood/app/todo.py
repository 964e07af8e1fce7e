"""What is left on a car: dangers, repairs not proved, suspects that may still be there, in the order to work it off."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from knowngood.app.bench import undone_words
from knowngood.app.pieces import DONE
from knowngood.app.proof import CAME_BACK, LOOK_AGAIN, NO_EFFECT, NOT_YET, STILL_THERE, proofs_of
from knowngood.app.state import State
from knowngood.app.suspects import UNLISTED
from knowngood.app.tasks import best_cure
from knowngood.app.urgency import urgency_of
from knowngood.belief.protocol import FaultAt
from knowngood.car import ENGINE
from knowngood.evidence import Entry, Finding, Work
from knowngood.planner.remains import COST, DANGER, HARM, Remaining, in_order
from knowngood.sheets.words import in_words

PROVE = "prove: "
LEFT_OVER = 0.07  # a residual chance worth keeping on the list
LEAST_LEFT = 0.01  # chance that a repair did not take, under which nobody drives out to read it again
SURE = 0.9  # there, whether or not it is behind anything that was noticed


def todo_of(state: State) -> list[Remaining]:
    """What is left on this car, in the order to work it off; residual chances included."""
    things = [
        Remaining(
            undone_words(one.what, str(one.place)), "left as it must not stay", DANGER, until="not cranked, not driven"
        )
        for one in state.undone
    ]
    for index, entry in enumerate(state.entries):
        found = entry.body
        if not isinstance(found, Finding) or not found.seen or found.fault:
            continue
        if not any(_puts_right(later, entry, found.part) for later in state.entries[index + 1 :]):
            things.append(Remaining(found.words or entry.line, "found; what caused it is not known", HARM))
    return in_order([*things, *_not_proved(state), *_still_suspected(state)])


def _puts_right(later: Entry, entry: Entry, part: str) -> bool:
    """Whether work on that part, or told in the same line, puts right what was found."""
    work = later.body
    if not isinstance(work, Work) or work.do not in DONE or work.effect in NO_EFFECT:
        return False
    return (later.at, later.line) == (entry.at, entry.line) or work.part == part != ""


def _not_proved(state: State) -> Iterator[Remaining]:
    """Repairs that came back or are not proved, each with the chance that is left of it.

    Who is suspected now is said once, however many came back.
    """
    why = ""
    for proof in proofs_of(state):
        if proof.verdict in (CAME_BACK, STILL_THERE):
            why = LOOK_AGAIN if why else proof.needs[0]
            yield Remaining(f"{proof.work}: {proof.verdict}", why, HARM)
        elif proof.verdict == NOT_YET and proof.read_before and proof.left >= LEAST_LEFT:
            still = f"still {in_words(proof.left)} that it is not right; {proof.needs[0]}"
            yield Remaining(f"{PROVE}{proof.work}", still, COST, proof.left)


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
        if name.startswith(UNLISTED) or not worth or not fault.cures:
            continue
        anywhere = state.belief.chance_of_any([at for _, at in there])  # dear: only of what may be on the list
        if anywhere < LEFT_OVER:
            continue
        cure = best_cure(fault.cures)
        part = state.library.parts.get(cure.part or fault.part)
        money = part.price if part is not None and cure.do == "replaced" else 0.0
        at_places = [at for chance, at in there if chance > leading / 2 and at.place != ENGINE]
        words = f"{fault.name}{_places_words(at_places)}"
        urgency, reason = urgency_of(state.library, fault)
        until = until_then(state, name)
        yield Remaining(words, in_words(anywhere), urgency, anywhere, cure.minutes, money, until, reason)


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
