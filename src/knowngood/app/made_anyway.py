"""A repair that is made anyway comes before a check that mostly tells whether it is needed.

Whoever makes such a check first saves at most what the repair costs in vain: its price times the chance that nothing
is wrong there. Where the check itself costs more than that, it does not pay for itself; what else it tells, it tells
after the repair as well, and then without that fault in the way. A strap that is bad in 9 of 10 draws is cleaned in
five minutes; to crank once more to hear whether it is bad takes longer than half a minute.
"""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.app.complained import behind_complaints
from knowngood.app.found_first import bears_on
from knowngood.app.state import State
from knowngood.app.telling import tells, which_is_behind
from knowngood.belief.protocol import Array
from knowngood.planner.problem import CheckAt, Problem, Repair
from knowngood.planner.steps import Step

MOSTLY = 0.5  # a check that tells less than this share once the repair is made told mostly of that repair


def made_anyway(state: State, problem: Problem, check: Step, near: Sequence[Step], kinds: Array) -> Step | None:
    """Of the near steps the repair that makes a check needless, the one that is cheapest in vain; else ``None``.

    Parameters
    ----------
    check : Step
        A check that would come first.
    near : sequence of Step
        Steps of like price.
    kinds : int array (draw,)
        Which suspect is behind in each draw.
    """
    assert isinstance(check.action, CheckAt)
    takes = check.minutes * problem.per_minute + check.money
    complained = behind_complaints(state)
    cheap = [(in_vain(state, problem, step), step) for step in near if bears_on(state, step, complained)]
    told = tells(state, check.action, kinds)
    for vain, step in sorted(cheap, key=lambda pair: pair[0]):
        assert isinstance(step.action, Repair)
        gone = step.action.fixes
        if vain <= takes and tells(state, check.action, which_is_behind(state, len(kinds), gone), gone) < MOSTLY * told:
            return step
    return None


def in_vain(state: State, problem: Problem, step: Step) -> float:
    """Money a repair costs, what comes off included, times the chance that nothing it puts right is behind.

    What is paid back for the part then is taken off.
    """
    assert isinstance(step.action, Repair)
    column = state.belief.model.column
    needed = state.behind_any([column[at] for at in step.action.fixes])
    paid = step.minutes * problem.per_minute + step.money + step.action.wait_days * problem.money_per_day
    return (paid - step.action.refund) * (1.0 - needed)
