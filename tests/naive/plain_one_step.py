"""The plain one-step rule that a planner must beat: test now or never, over repairs in order of chance over cost.

A repair is proved each time. Kept as the figure to stay under, and as a trap known from the literature (Langseth and
Jensen 2003: 21.5 % over the best on their models).
"""

from __future__ import annotations

import numpy as np

from tests.naive.exact_plan import PROVE, Action, Case, State, actions, results, weight_of


def repair_only(case: Case, state: State) -> Action:
    """Prove after each repair, else the best chance over cost."""
    weight = weight_of(state)
    if weight[0] > 1e-11:
        return PROVE
    sets = np.arange(len(weight))
    repairs = [which for kind, which in actions(case, state) if kind == "repair"]
    return "repair", max(repairs, key=lambda fault: weight[(sets >> fault & 1) == 1].sum() / case.repair_cost[fault])


def repair_cost(case: Case, state: State) -> float:
    """Expected cost of going on without tests."""
    cost, then = results(case, state, repair_only(case, state))
    return cost + sum(chance * repair_cost(case, after) for chance, after in then)


def plain_one_step(case: Case, state: State) -> Action:
    """The test that lowers the expected cost most if repairs follow it; else the next repair."""
    bare = repair_cost(case, state)
    best, choice = bare, repair_only(case, state)
    for test in sorted(state[1]):
        cost, then = results(case, state, ("test", test))
        total = cost + sum(chance * repair_cost(case, after) for chance, after in then)
        if total < best - 1e-9:
            best, choice = total, ("test", test)
    return choice
