"""What is as good as certain is put right before more is looked for.

Such a repair is paid for sooner or later. Where it can be behind what the
driver complains of, a mechanic makes it first: all that is read after it is
read without that fault (common practice). A worn tyre that was found waits: it
is no help in finding a misfire.
"""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.app.complained import behind_complaints
from knowngood.app.state import State
from knowngood.belief.protocol import FaultAt
from knowngood.planner.candidates import SURE
from knowngood.planner.problem import Repair
from knowngood.planner.steps import Step


def found_first(state: State, steps: Sequence[Step]) -> Step | None:
    """The first of these steps that puts right what is needed in any case and bears on a complaint; else ``None``."""
    complained = behind_complaints(state)
    return next((step for step in steps if is_needed(state, step) and bears_on(state, step, complained)), None)


def bears_on(state: State, step: Step, complained: frozenset[str]) -> bool:
    """Whether a step is a repair of what can be behind a complaint."""
    return isinstance(step.action, Repair) and _likeliest(state, _fixes(step)) in complained


def is_needed(state: State, step: Step) -> bool:
    """Whether a step puts right what is behind what was found in as good as every draw."""
    column = state.belief.model.column
    return state.behind_any([column[at] for at in _fixes(step)]) >= SURE


def _fixes(step: Step) -> tuple[FaultAt, ...]:
    return step.action.fixes if isinstance(step.action, Repair) else ()


def _likeliest(state: State, faults: Sequence[FaultAt]) -> str:
    return max(faults, key=lambda at: float(state.behind[state.belief.model.column[at]])).fault
