"""Gates with what a hand needs at each look: how to look, its words, how it stands."""

from __future__ import annotations

from dataclasses import dataclass

from knowngood.app.bench import may_of, say_of
from knowngood.app.state import State
from knowngood.library.records import Check
from knowngood.planner.gates import BAD, GOOD, LIMITED, NOT_LOOKED, GateState


@dataclass(frozen=True)
class LookToMake:
    """One look of a gate.

    Parameters
    ----------
    field : str
        The field its answer goes in (:mod:`knowngood.app.taps`).
    name, how : str
        What is looked at, and how.
    words : tuple of str
        The good one first.
    state : str
        ``good``, ``bad``, ``limited`` or ``not looked``.
    stop : bool
        A bad one shuts the gate.
    say : str
        The line that says it was made and was good.
    cautions : tuple of str
    """

    field: str
    name: str
    how: str
    words: tuple[str, ...]
    state: str
    stop: bool
    say: str
    cautions: tuple[str, ...] = ()

    @property
    def is_good(self) -> bool:
        """Whether it was made and was good."""
        return self.state == GOOD

    @property
    def is_missing(self) -> bool:
        """Whether it is to be made."""
        return self.state == NOT_LOOKED


def gate_short(state: GateState) -> str:
    """How a gate stands, in one sentence."""
    if state.is_open:
        return "yes, every look was made and is good"
    if state.undone or state.closing:
        return "no, until what is wrong is put right"
    if state.missing:
        count = len(state.missing)
        return f"not yet: {count} {'look' if count == 1 else 'looks'} to make"
    return f"limited: {state.limit}"


def gates_of(state: State) -> list[GateState]:
    """Every gate in the order of the job."""
    return [may_of(state, name) for name in state.library.gates]


def gate_looks(state: State, name: str) -> tuple[GateState, list[LookToMake]]:
    """A gate and its looks, those not made first, bad ones next.

    Raises
    ------
    Refused
        There is no such gate.
    """
    gate = may_of(state, name)
    looks = []
    for look in gate.looks:
        kind = state.library.readings[look.kind]
        check = how_to_look(state, look.kind)
        cautions = tuple(
            state.library.cautions[one].text
            for one in (check.cautions if check else ())
            if one in state.library.cautions
        )
        how = check.how if check is not None else ""
        field = f"word|{kind.id}|engine"
        looks.append(
            LookToMake(field, look.name, how, kind.words, look.state, look.stop, say_of(kind), cautions=cautions)
        )
    order = {NOT_LOOKED: 0, BAD: 1, LIMITED: 2}
    return gate, sorted(looks, key=lambda look: (order.get(look.state, 3), not look.stop))


def how_to_look(state: State, kind: str) -> Check | None:
    """The check that takes a look and the least beside it; None for one that is only told."""
    checks = [check for check in state.library.checks.values() if kind in check.reads]
    return min(checks, key=lambda one: len(one.reads)) if checks else None
