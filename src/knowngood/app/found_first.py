"""What is as good as certain is put right before more is looked for.

Such a repair is paid for sooner or later. Where it can be behind what the
driver complains of, a mechanic makes it first: all that is read after it is
read without that fault (common practice). A worn tyre that was found waits: it
is no help in finding a misfire.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from knowngood.app.state import State
from knowngood.belief.protocol import FaultAt
from knowngood.evidence import Reading
from knowngood.library.reach import reached, tells
from knowngood.library.records import ReadingKind
from knowngood.planner.candidates import SURE
from knowngood.planner.problem import Repair
from knowngood.planner.steps import Step


def found_first(state: State, steps: Sequence[Step]) -> Step | None:
    """The first of these steps that puts right what is needed in any case and bears on a complaint; else ``None``."""
    for step in steps:
        if is_needed(state, step) and step.action.wait_days == 0.0 and _bears_on_a_complaint(state, _fixes(step)):
            return step
    return None


def is_needed(state: State, step: Step) -> bool:
    """Whether a step puts right what is behind what was found in as good as every draw."""
    column = state.belief.model.column
    return state.behind_any([column[at] for at in _fixes(step)]) >= SURE


def _fixes(step: Step) -> tuple[FaultAt, ...]:
    return step.action.fixes if isinstance(step.action, Repair) else ()


def _bears_on_a_complaint(state: State, faults: Sequence[FaultAt]) -> bool:
    likely = max(faults, key=lambda at: float(state.behind[state.belief.model.column[at]]))
    fault = state.library.faults[likely.fault]
    reach = reached(state.library, fault)
    return any(tells(state.library, kind, kind.chance or kind.spread or None, fault.id, reach) for kind in _told(state))


def _told(state: State) -> Iterator[ReadingKind]:
    """Complaints that were told, as kinds of reading, each once."""
    kinds = {
        entry.body.kind
        for entry in state.entries
        if isinstance(entry.body, Reading) and not entry.body.doubt and entry.body.word not in ("no", "starts")
    }
    for name in sorted(kinds):
        kind = state.library.readings.get(name)
        if kind is not None and kind.complaint:
            yield kind
