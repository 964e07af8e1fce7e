"""What was found and shuts a gate before the engine runs is put right before anything else.

A nest in the engine bay burns, a pipe that drips fuel burns, an engine without coolant seizes: until that is put right
nothing may be connected, cranked or started, so no other step leads far, whatever it costs (common practice). Where
several gates are shut the first of the job comes first. A worn tyre shuts only the road: it waits. Fuel that is smelt
is looked for before all of it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from knowngood.app.bench import may_of
from knowngood.app.found_looks import shown_by
from knowngood.app.possible import fuel_smelt, looks_for_fuel
from knowngood.app.state import State
from knowngood.belief.protocol import FaultAt
from knowngood.library.job_records import Gate
from knowngood.library.records import ReadingKind
from knowngood.planner.gates import RUN
from knowngood.planner.problem import CheckAt, Repair
from knowngood.planner.steps import Step

Shut = tuple[Gate, tuple[ReadingKind, ...]]
"""A gate and those of its own looks that were bad."""

FOUND = 0.8  # chance from which on what a bad look shows is put right, not looked for


def gate_opened(state: State, step: Step) -> Gate | None:
    """The first gate up to the start that a repair opens; ``None`` where what shuts it is not as good as known."""
    there = _as_good_as_known(state, step)
    return _first_of(state, there, _shut(state)) if there else None


def opens_gate(state: State, steps: Sequence[Step]) -> Step | None:
    """Of some steps the repair that opens the earliest gate, before it the look for fuel smelt; ``None`` where none."""
    if fuel_smelt(state):
        looked = next((s for s in steps if isinstance(s.action, CheckAt) and looks_for_fuel(s.action)), None)
        if looked is not None:
            return looked
    shut = tuple(_shut(state))
    order = [gate.id for gate, _ in shut]
    opened = [(_first_of(state, _as_good_as_known(state, step), shut), step) for step in steps] if shut else []
    found = [(order.index(gate.id), step) for gate, step in opened if gate is not None]
    return min(found, key=lambda pair: pair[0])[1] if found else None


def _as_good_as_known(state: State, step: Step) -> list[FaultAt]:
    """What a repair puts right that is as good as known to be there."""
    column = state.belief.model.column
    fixes = step.action.fixes if isinstance(step.action, Repair) else ()
    return [at for at in fixes if state.behind[column[at]] >= FOUND]


def _first_of(state: State, there: Sequence[FaultAt], shut: Iterable[Shut]) -> Gate | None:
    return next((gate for gate, bad in shut if any(_shows(state, bad, at) for at in there)), None)


def _shut(state: State) -> Iterator[Shut]:
    """Gates up to the start, in the order of the job, each with its own looks that were bad."""
    for name, gate in state.library.gates.items():
        bad = tuple(
            state.library.readings[look.kind] for look in may_of(state, name).closing if look.kind in gate.looks
        )
        if bad:
            yield gate, bad
        if name == RUN:
            return


def _shows(state: State, bad: Sequence[ReadingKind], at: FaultAt) -> bool:
    """Whether one of these looks is bad by a fault, by itself or by a reading that settles it."""
    library = state.library
    return any(shown_by(library, kind, library.faults[at.fault]) for kind in bad)
