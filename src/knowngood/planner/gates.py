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

from knowngood.library.healthy import JUDGED_GOOD, NOT_SEEN
from knowngood.library.job_records import Gate
from knowngood.library.records import ReadingKind

GOOD, BAD, LIMITED, NOT_LOOKED = "good", "bad", "limited", "not looked"
TURNED, RUN, MOVED = "crank", "start", "yard"  # gates from which the engine turns, runs, and the car moves


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
    def missing(self) -> tuple[LookState, ...]:
        """Looks to make now: those not made, stop items first."""
        unseen = [look for look in self.looks if look.state == NOT_LOOKED]
        return tuple(sorted(unseen, key=lambda look: not look.stop))

    @property
    def closing(self) -> tuple[LookState, ...]:
        """Looks that were bad."""
        return tuple(look for look in self.looks if look.state == BAD)


def _state_of(kind: ReadingKind, look: Look | None) -> str:
    if look is None or look.word in NOT_SEEN or look.disturbed:
        return NOT_LOOKED
    if look.word in JUDGED_GOOD or (kind.words and look.word == kind.words[0]):
        return GOOD
    return BAD if kind.stop else LIMITED


def gate_state(
    gate: Gate,
    readings: Mapping[str, ReadingKind],
    looks: Sequence[Look],
    undone: Sequence[str] = (),
    gates: Sequence[Gate] = (),
) -> GateState:
    """How a gate stands after looks in time order; the last of each kind counts.

    The first word of a look's kind is the good one; one that could not be told is not made. A bad look at a stop item
    shuts the gate, at another item limits it; what was left undone shuts it.

    Parameters
    ----------
    gate : Gate
    readings : mapping of str to ReadingKind
        Kinds of looks by name; a look whose kind is not in it is passed over.
    looks : sequence of Look
        In the order of time.
    undone : sequence of str
        What was left as it must not stay, in words.
    gates : sequence of Gate
        All gates in the order of the job. A stop item that is bad shuts every gate after the one that asks for it. One
        of the engine (asked for before the car moves) shuts running altogether, and leaves cranking for the check that
        decides it: limited.
    """
    last = {look.kind: look for look in looks}
    own = tuple(_look_state(readings[name], last.get(name)) for name in gate.looks if name in readings)
    shut, limit = _from_other_gates(gate, gates, readings, last)
    states = (*own, *shut)
    found = {look.state for look in states}
    if undone or BAD in found:
        state = BAD
    elif NOT_LOOKED in found:
        state = NOT_LOOKED
    else:
        state = LIMITED if limit or LIMITED in found else GOOD
    return GateState(gate, state, states, tuple(undone), gate.limited if state == LIMITED else "")


def _look_state(kind: ReadingKind, look: Look | None) -> LookState:
    return LookState(kind.id, kind.name, _state_of(kind, look), kind.stop)


def _from_other_gates(
    gate: Gate, gates: Sequence[Gate], readings: Mapping[str, ReadingKind], last: Mapping[str, Look]
) -> tuple[tuple[LookState, ...], bool]:
    """Bad stop items other gates ask for that shut this one, and whether one of them limits it."""
    order = [each.id for each in gates]
    if gate.id not in order:
        return (), False
    at, shut, limit = order.index(gate.id), [], False
    for name in dict.fromkeys(name for each in gates for name in each.looks):
        if name in gate.looks or name not in readings:
            continue
        state = _look_state(readings[name], last.get(name))
        if state.state != BAD:
            continue
        home = next(index for index, each in enumerate(gates) if name in each.looks)
        of_engine = _between(order, TURNED, home, MOVED)
        if home < at or (of_engine and gate.id == RUN):
            shut.append(state)
        elif of_engine and gate.id == TURNED:
            limit = True
    return tuple(shut), limit


def _between(order: Sequence[str], first: str, index: int, end: str) -> bool:
    """Whether a gate stands from ``first`` on and before ``end``."""
    return first in order and end in order and order.index(first) <= index < order.index(end)
