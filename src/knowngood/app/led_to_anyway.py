"""A check after whose every answer the same step comes next comes after that step.

Whatever it says, it changes nothing that is done next: the repair, the other check or the road test is paid all the
same. Made after that step, the check tells no less, and falls away where the step has made it needless. Where one
answer makes one do something else, it keeps its place.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from knowngood.planner.problem import CheckAt, Repair
from knowngood.planner.steps import PROVE, Step, as_it_is

MOST_MOVES = 3


def without_needless_checks(steps: Sequence[Step], foretold: Callable[[Step], Step] = as_it_is) -> tuple[Step, ...]:
    """The steps, of the first what each answer makes one do next; before it the step that all its answers lead to.

    Parameters
    ----------
    steps : sequence of Step
    foretold : callable
        A step with what each of its outcomes makes one do next.
    """
    ordered = (foretold(steps[0]), *steps[1:])
    for _ in range(MOST_MOVES):
        index = led_to(ordered)
        if index is None:
            break
        ordered = (foretold(ordered[index]), *ordered[:index], *ordered[index + 1 :])
    return ordered


def led_to(steps: Sequence[Step]) -> int | None:
    """Which of the further steps comes next after every answer of the first; ``None`` where answers differ."""
    then = [after.check or after.repair for after in steps[0].after]
    if len(then) < 2 or any(action != then[0] for action in then):
        return None
    return next((index for index, step in enumerate(steps) if index and _is(step.action, then[0])), None)


def _is(action: Repair | CheckAt, then: Repair | CheckAt | None) -> bool:
    """Whether a step is what comes next; ``None`` stands for proving it."""
    if then is None:
        return isinstance(action, CheckAt) and action.kind == PROVE
    return action == then
