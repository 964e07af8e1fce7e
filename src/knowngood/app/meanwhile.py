"""What can be done while a part is on its way: a repair whose part was ordered and is not here leads no list."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.app.near_steps import waits
from knowngood.app.state import State
from knowngood.app.waiting import wait_words
from knowngood.app.what_it_tells import tells_something
from knowngood.planner.problem import CheckAt, Problem, Repair
from knowngood.planner.steps import Step


def awaited(state: State, step: Step) -> bool:
    """Whether a step is a repair whose part was ordered and has not come."""
    action = step.action
    return isinstance(action, Repair) and action.wait_days > 0.0 and state.stock.get(action.part) is not None


def meanwhile(state: State, problem: Problem, steps: Sequence[Step]) -> tuple[Step, ...]:
    """The steps; where the first waits for its part, what can be done now and is worth doing comes before it.

    That is a repair with its part at hand, or a check that tells something. Where there is none the repair stays
    first, with its wait: no check is made for having nothing else to do.
    """
    if not steps or not awaited(state, steps[0]):
        return tuple(steps)
    now = next((step for step in steps if not waits(problem, step.action) and _is_worth_it(step)), None)
    return tuple(steps) if now is None else (now, *(step for step in steps if step is not now))


def _is_worth_it(step: Step) -> bool:
    return tells_something(step) if isinstance(step.action, CheckAt) else True


def awaited_words(problem: Problem, steps: Sequence[Step], planned: Sequence[Step]) -> str:
    """Which planned repair waits for its part behind what is done meanwhile; empty where none does."""
    if steps[0] is planned[0]:
        return ""
    name = planned[0].action.name
    return f"{name[:1].upper()}{name[1:]} waits: {wait_words(problem, planned[0].action)}. Meanwhile this."
