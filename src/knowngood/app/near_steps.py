"""Of steps whose prices no draw can tell apart, the one that tells most about what is behind comes first.

Prices come from some hundred drawn fault sets; within 3 %, or five minutes'
worth, their order is chance. Of checks more than that: what one of them saves
it saves as well when it is made second, so its place in the row is worth less
than its price says. There a mechanic takes what can be done at once before what
has to be waited for, then the check that decides most for what it takes, and a
check before a part. Checks that tell about as much keep the order of their
prices. A check that mostly tells whether a repair is needed does not come
before that repair where it costs more than the repair would in vain. That a
part has to be waited for is in its price already: it makes no check worth more.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence

from knowngood.app.found_first import found_first
from knowngood.app.look_first import look_first
from knowngood.app.made_anyway import made_anyway
from knowngood.app.opens_gate import opens_gate
from knowngood.app.state import State
from knowngood.app.telling import shown_in_draws, tells, which_is_behind
from knowngood.belief.protocol import Array, Ask
from knowngood.planner.advice import TOSS_UP_MINUTES, TOSS_UP_SHARE
from knowngood.planner.problem import CheckAt, Problem, Repair
from knowngood.planner.steps import Step, not_known

AS_MUCH_SHARE = 0.8  # checks that tell this share of what the best tells for its money tell as much
ORDER_SHARE = 2.0 * TOSS_UP_SHARE  # of the cheapest: up to two toss-ups dearer, checks go by what they tell, and
# what was found and is paid for in any case goes first: its price knows less of the checks that may follow it
GETTING_READY = 10.0  # minutes any step takes beside its own: hands, light, tools; common practice


def by_telling(
    state: State,
    problem: Problem,
    steps: Sequence[Step],
    spared_by: Callable[[Step, Repair], float] = not_known,
    unlooked: float = math.inf,
) -> tuple[Step, ...]:
    """The steps; those whose prices do not settle which of them comes first ordered by what they tell.

    Of checks, one that has to be waited for (a tool that is lent out, an engine that must cool) comes after one that
    has not; other work does not come forward for being at hand, its price has the waiting in it.
    Repairs keep to their prices: a part is not put before a check for being sure, nor after one that tells nothing.
    So where a repair or a proof is cheapest it stays first, also where its part has yet to come: checks at 2 minutes
    each, all within what the draws can tell, would else be made one after the other before it. But a repair waits for a
    look that costs less than it spares. A check that leads to more money than going on without it is not drawn forward,
    however much it tells. ``spared_by``, ``unlooked``: as the advice has them.
    """
    if len(steps) < 2:
        return tuple(steps)
    alike = steps[0].cost + max(TOSS_UP_MINUTES * problem.per_minute, TOSS_UP_SHARE * steps[0].cost)
    further = max(alike, (1.0 + ORDER_SHARE) * steps[0].cost)
    found = opens_gate(state, steps) or found_first(state, [step for step in steps if step.cost <= further])
    if found is not None:
        return (found, *(step for step in steps if step is not found))
    if not _asks(steps[0]):
        looks = [step for step in steps if _asks(step) and not waits(problem, step.action)]
        first = steps[0].action
        look = look_first(state, problem, steps[0], looks, spared_by) if isinstance(first, Repair) else None
        return tuple(steps) if look is None else (look, *(step for step in steps if step is not look))
    checks_to = min(further, max(unlooked, steps[0].cost))
    near = [step for step in steps if step.cost <= (checks_to if _asks(step) else alike)]
    kinds = which_is_behind(state)
    checks = [step.action for step in near if isinstance(step.action, CheckAt)]
    shown = shown_in_draws(state, checks, len(kinds))
    told = {id(step): _told_for_its_money(state, problem, step, kinds, shown) for step in near}
    at_once = [step for step in near if not waits(problem, step.action)]
    later = [step for step in near if waits(problem, step.action)]
    rest = [step for step in steps if id(step) not in told]
    ordered = (*_most_first(at_once, told), *_most_first(later, told), *rest)
    if not _asks(ordered[0]):
        return tuple(steps)
    made = made_anyway(state, problem, ordered[0], near, kinds)
    return ordered if made is None else (made, *(step for step in ordered if step is not made))


def _told_for_its_money(state: State, problem: Problem, step: Step, kinds: Array, shown: Mapping[Ask, Array]) -> float:
    """Bits a check tells for what it takes, getting ready included; nothing for what is no check."""
    if not isinstance(step.action, CheckAt):
        return 0.0
    takes = problem.per_minute * (step.minutes + GETTING_READY) + step.money
    return max(0.0, tells(state, step.action, kinds, shown=shown)) / max(
        takes, 1e-9
    )  # rounding leaves a little less than nothing


def _asks(step: Step) -> bool:
    """Whether a step is a check, rather than a repair or a proof."""
    return isinstance(step.action, CheckAt) and bool(step.action.asks)


def waits(problem: Problem, action: Repair | CheckAt) -> bool:
    """Whether a step has to be waited for."""
    return action.wait_days > 0.0 or (isinstance(action, CheckAt) and problem.heat_minutes(action) > 0.0)


def _most_first(steps: Sequence[Step], told: dict[int, float]) -> list[Step]:
    """Those that tell as much as the best of them first, in the order they stand in; then of the rest likewise."""
    result, rest = [], list(steps)
    while rest:
        enough = AS_MUCH_SHARE * max(told[id(step)] for step in rest)
        result += [step for step in rest if told[id(step)] >= enough]
        rest = [step for step in rest if told[id(step)] < enough]
    return result
