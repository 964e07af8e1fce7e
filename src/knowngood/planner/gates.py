"""May it be connected, cranked, started, driven? By looks made, never by chances.

Every gate has its looks of a few minutes. A look that was not made refuses and
is named; a bad one refuses until it is put right; a good one holds until work
or standing that can disturb it. A gate governs what is advised, never what is
written down: a start that is typed is kept, and the answer names the look that
was missed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from knowngood.library.records import Gate, ReadingKind

GOOD, BAD, LIMITED, NOT_LOOKED = "good", "bad", "limited", "not looked"


@dataclass(frozen=True)
class Look:
    """A look that was made: of which kind, what it showed, and whether work since may have disturbed it."""

    kind: str
    word: str
    disturbed: bool = False


@dataclass(frozen=True)
class LookState:
    """One look of a gate: its kind of reading and how it stands."""

    kind: str
    name: str
    state: str
    stop: bool


@dataclass(frozen=True)
class GateState:
    """How a gate stands.

    Parameters
    ----------
    state : str
        ``good``, ``bad``, ``limited`` or ``not looked``.
    looks : tuple of LookState
    undone : tuple of str
        What was left undone and blocks it.
    limit : str
        What may be done while it is limited.
    """

    gate: Gate
    state: str
    looks: tuple[LookState, ...]
    undone: tuple[str, ...]
    limit: str = ""

    @property
    def is_open(self) -> bool:
        """Whether to go on."""
        return self.state == GOOD

    @property
    def may_be_overridden(self) -> bool:
        """ "I do it all the same" is for limited only, never where a stop item is bad or was not looked at."""
        return self.state == LIMITED

    @property
    def missing(self) -> tuple[LookState, ...]:
        """Looks to make now: those not made, stop items first."""
        unseen = [look for look in self.looks if look.state == NOT_LOOKED]
        return tuple(sorted(unseen, key=lambda look: not look.stop))

    @property
    def closing(self) -> tuple[LookState, ...]:
        """Looks that were bad."""
        return tuple(look for look in self.looks if look.state == BAD)


def _state_of(kind: ReadingKind, look: Look | None) -> str:
    if look is None or look.disturbed:
        return NOT_LOOKED
    if kind.words and look.word == kind.words[0]:
        return GOOD
    if look.word in ("good", "as it should be", "ok"):
        return GOOD
    return BAD if kind.stop else LIMITED


def gate_state(
    gate: Gate, readings: Mapping[str, ReadingKind], looks: Sequence[Look], undone: Sequence[str] = ()
) -> GateState:
    """How a gate stands after looks in time order; the last of each kind counts.

    The first word of a look's kind is the good one. A bad look at a stop item shuts the gate, at another item limits
    it; what was left undone shuts it.
    """
    last = {look.kind: look for look in looks}
    states = tuple(
        LookState(name, readings[name].name, _state_of(readings[name], last.get(name)), readings[name].stop)
        for name in gate.looks
        if name in readings
    )
    found = {look.state for look in states}
    if undone or BAD in found:
        state = BAD
    elif NOT_LOOKED in found:
        state = NOT_LOOKED
    else:
        state = LIMITED if LIMITED in found else GOOD
    return GateState(gate, state, states, tuple(undone), gate.limited if state == LIMITED else "")
