"""Plain rules that a planner must beat: repairs in order of chance over cost, and the one-step rule over them.

A repair is proved each time. The one-step rule (test now or never) is a trap known from the literature.

References
----------
Langseth and Jensen, Decision theoretic troubleshooting of coherent systems, Reliability Engineering and System Safety
80 (2003), 49: 21.5 % over the best on their models (from memory).
"""

from __future__ import annotations

from knowngood.proving.small_cars import (
    NEVER,
    PROVE,
    Action,
    Case,
    State,
    actions,
    results,
    weight_of,
    with_fault,
)


def repair_only(case: Case, state: State) -> Action:
    """Prove after each repair, else the best chance over cost."""
    weight = weight_of(state)
    if weight[0] > NEVER:
        return PROVE
    repairs = [which for kind, which in actions(case, state) if kind == "repair"]
    sets = with_fault(case.faults)
    return "repair", max(repairs, key=lambda fault: weight[sets[fault]].sum() / case.repair_cost[fault])


def repair_cost(case: Case, state: State) -> float:
    """Expected cost of going on without tests."""
    cost, then = results(case, state, repair_only(case, state))
    return cost + sum(chance * repair_cost(case, after) for chance, after in then if after is not None)


def plain_one_step(case: Case, state: State) -> Action:
    """The test that lowers the expected cost most if repairs follow it; else the next repair."""
    best, choice = repair_cost(case, state), repair_only(case, state)
    for test in sorted(state.tests):
        cost, then = results(case, state, ("test", test))
        total = cost + sum(chance * repair_cost(case, after) for chance, after in then if after is not None)
        if total < best - 1e-9:
            best, choice = total, ("test", test)
    return choice
