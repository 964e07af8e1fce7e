"""Stages of the job with how each stands: from looking before buying to the car that comes back."""

from __future__ import annotations

import msgspec

from knowngood.app.bench import gate_words, looks_of, may_of, say_of, undone_said, undone_words
from knowngood.app.state import State
from knowngood.errors import Problem, Refused
from knowngood.library.job_records import Gate, Stage
from knowngood.planner.gates import BAD, GOOD, LIMITED, NOT_LOOKED, GateState, Look, gate_state

BUY = "buy"
_WORDS = {GOOD: "passed", BAD: "shut", LIMITED: "limited", NOT_LOOKED: "not looked yet"}


class StageState(msgspec.Struct, frozen=True, kw_only=True):
    """How a stage stands.

    Parameters
    ----------
    state : str
        ``good``, ``bad``, ``limited`` or ``not looked``; empty for a stage without looks.
    good, looks : int
        Looks that were good, of how many.
    bad, missing : tuple of str
        Names of the looks that were bad or limit it, and of those not made.
    undone : tuple of str
        What was left undone and shuts it.
    """

    id: str
    name: str
    state: str
    good: int
    looks: int
    bad: tuple[str, ...]
    missing: tuple[str, ...]
    undone: tuple[str, ...]
    says: str


def stages_of(state: State) -> list[StageState]:
    """Every stage in the order of the job."""
    return [_stands(stage, stage_of(state, stage.id)) for stage in state.library.stages.values()]


def stage_of(state: State, name: str) -> GateState:
    """How the looks of a stage stand: those of its gate, or its own.

    Raises
    ------
    Refused
        There is no such stage; those there are, are named.
    """
    stage = state.library.stages.get(name)
    if stage is None:
        raise Refused(Problem(f"There is no stage '{name}'.", f"Stages: {', '.join(state.library.stages)}."))
    if stage.gate:
        return may_of(state, stage.gate)
    own = Gate(id=stage.id, name=stage.name, looks=stage.looks, limited=stage.limited, source=stage.source)
    # what was left undone stops the car from being driven, not from being looked at
    undone = [] if stage.id == BUY else [undone_words(one.what, str(one.place)) for one in state.undone]
    looks = looks_of(state)
    if stage.id == BUY:
        # later work makes no look at the seller's car unmade
        looks = tuple(Look(look.kind, look.word) for look in looks)
    return gate_state(own, state.library.readings, looks, undone)


def stage_words(state: State) -> list[str]:
    """Each stage in a line: how it stands, what is bad, how many looks are missing."""
    lines = []
    for stage in stages_of(state):
        if not stage.looks:
            lines.append(f"{stage.name}: {stage.says}")
            continue
        made = f"{stage.good} of {stage.looks} looks good"
        undone = f"; left undone: {'; '.join(stage.undone)}" if stage.undone else ""
        bad = f"; not good: {'; '.join(stage.bad)}" if stage.bad else ""
        lines.append(f"{stage.name}: {_WORDS[stage.state]} ({made}{undone}{bad})")
    return lines


def look_words(state: State, name: str) -> list[str]:
    """What is to be looked at for a stage, line by line, with what to type when it is good."""
    stands = stage_of(state, name)
    readings = state.library.readings
    if name in state.library.gates:
        return list(gate_words(stands, readings))
    if stands.state == GOOD:
        return [f"{stands.gate.name}: every look was made and is good."]
    lines = [f"{stands.gate.name}: {_WORDS[stands.state]}."]
    lines += [undone_said(words) for words in stands.undone]
    lines += [f"not good: {look.name}" for look in stands.looks if look.state in (BAD, LIMITED)]
    lines += [
        f"look: {look.name}{' (stop item)' if look.stop else ''}; say '{say_of(readings[look.kind])}'"
        for look in stands.looks
        if look.state == NOT_LOOKED
    ]
    return lines


def _stands(stage: Stage, gate: GateState) -> StageState:
    return StageState(
        id=stage.id,
        name=stage.name,
        state=gate.state if gate.looks else "",
        good=sum(look.state == GOOD for look in gate.looks),
        looks=len(gate.looks),
        bad=tuple(look.name for look in gate.looks if look.state in (BAD, LIMITED)),
        missing=tuple(look.name for look in gate.looks if look.state == NOT_LOOKED),
        undone=gate.undone,
        says=stage.limited,
    )
