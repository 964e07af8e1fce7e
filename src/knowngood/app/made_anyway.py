"""A repair that is made anyway comes before a check that mostly tells whether it is needed.

Whoever makes such a check first saves at most what the repair adds in vain: its price, less what is paid all the same
where something is wrong there (:func:`knowngood.planner.candidates.in_vain_of`). Where the check itself costs more than
that, it does not pay for itself; what else it tells, it tells after the repair as well, and then without that fault in
the way. A strap that is bad in 9 of 10 draws is cleaned in five minutes; to crank once more to hear whether it is bad
takes longer than half a minute. A part that may be bought for nothing costs more than most looks.
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
    told = tells(state, check.action, kinds)
    for step in sorted(near, key=lambda step: step.in_vain):
        if step.in_vain > takes or not bears_on(state, step, complained):
            continue
        assert isinstance(step.action, Repair)
        gone = step.action.fixes
        if tells(state, check.action, which_is_behind(state, len(kinds), gone), gone) < MOSTLY * told:
            return step
    return None
