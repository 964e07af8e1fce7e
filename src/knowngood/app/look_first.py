"""No repair comes before a look that costs less than it spares.

The price of a repair that comes first counts the road test that may end it all; the price of a check does not count
what may come right after its answer. So a hose that is split in one case of three came before the look at it. Here the
two are set against each other by themselves: the part at once, or the look, and the part unless that speaks against it.
That says what a look spares at most; one whose answers move no suspect clearly spares nothing but luck of the draws.
For the few that may pay, each answer is then priced with what comes next: where after none of them anything is better
than the part, nothing is spared, however dear it is.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

import numpy as np

from knowngood.app.seen_again import without_false_alarms
from knowngood.app.state import State
from knowngood.app.telling import DRAWN, outcomes_in_draws, shown_in_draws
from knowngood.app.what_it_tells import tells_something
from knowngood.belief.protocol import Array, Bools
from knowngood.planner.problem import CheckAt, Problem, Repair
from knowngood.planner.steps import Step, not_known

ALMOST_NEVER = 1e-12
MOST_PRICED = 3  # looks of which each answer is priced with what comes next


def look_first(
    state: State,
    problem: Problem,
    buy: Step,
    looks: Sequence[Step],
    spared_by: Callable[[Step, Repair], float] = not_known,
) -> Step | None:
    """Of some checks the one that spares most of buying a part in vain, beyond what it costs; ``None`` where none does.

    Parameters
    ----------
    buy : Step
        A repair that would come first.
    looks : sequence of Step
        Checks that could be made at once.
    spared_by : callable
        What a look spares before a repair, each answer priced with what comes next.
    """
    assert isinstance(buy.action, Repair)
    matters = without_false_alarms(state).matters
    assert matters is not None
    looks = [step for step in looks if tells_something(step)]
    columns = [state.belief.model.column[at] for at in buy.action.fixes]
    needed = np.asarray(matters[:DRAWN, columns].any(axis=1), dtype=bool).reshape(-1)
    waiting = buy.action.wait_days * problem.money_per_day
    price = buy.minutes * problem.per_minute + buy.money + waiting - buy.action.refund
    checks = [step.action for step in looks if isinstance(step.action, CheckAt)]
    shown = shown_in_draws(state, checks, len(needed))
    takes = [step.minutes * problem.per_minute + step.money for step in looks]
    gains = [
        spared(outcomes_in_draws(state, check, len(needed), shown=shown), needed, price) - cost
        for check, cost in zip(checks, takes, strict=True)
    ]
    best = sorted((index for index, gain in enumerate(gains) if gain > 0.0), key=lambda index: -gains[index])
    return next(
        (looks[index] for index in best[:MOST_PRICED] if spared_by(looks[index], buy.action) > takes[index]), None
    )


def spared(like: Array, needed: Bools, price: float) -> float:
    """Money that a look before a repair spares, at most.

    Whoever repairs at once pays the price for nothing as often as nothing is wrong there. After the look he waits where
    an answer makes it less likely than before. Waiting in vain is counted too: as the repair came first, putting it off
    where it is needed costs at least as much as all that repairing at once wastes. With ``p`` before and ``p_o`` after
    an answer that leaves ``(p - p_o) / p`` of the price, and all of the waste where the look is sure.

    Parameters
    ----------
    like : array (outcome, draw)
        Chance of each outcome in each draw; draws are alike in weight.
    needed : bool array (draw,)
        Whether the repair is needed.
    price : float

    Examples
    --------
    >>> sure = np.array([[1.0, 0.0, 0.0], [0.0, 1.0, 1.0]])
    >>> round(spared(sure, np.array([True, False, False]), 30.0), 6)
    20.0
    """
    before = float(needed.mean())
    if before <= ALMOST_NEVER:
        return 0.0
    chance, both = like.mean(axis=1), (like * needed).mean(axis=1)
    return price / before * float(np.maximum(chance * before - both, 0.0).sum())
