"""The best possible plan for a small car, and what any policy costs on it: every state, every outcome."""

from __future__ import annotations

from collections.abc import Callable
from itertools import product

import numpy as np

from knowngood.belief.protocol import Array
from knowngood.proving.small_cars import Action, Case, State, actions, results, weight_of, with_fault

Policy = Callable[[Case, State], Action]


def optimum(case: Case) -> float:
    """Expected cost of the best possible plan.

    Whoever knew the faults would pay at least their repairs, what lies before them, and one proof: an action that
    cannot beat the best one found, even with that foresight from there on, is not followed up.
    """
    foresight = _foresight(case)
    known: dict[State, float] = {}

    def least(state: State | None) -> float:
        return 0.0 if state is None else float(weight_of(state) @ foresight[state.opened])

    def best(state: State) -> float:
        if state in known:
            return known[state]
        ways = []
        for action in actions(case, state):
            cost, then = results(case, state, action)
            bounds = [chance * least(after) for chance, after in then]
            ways.append((cost + sum(bounds), then, bounds))
        lowest = np.inf
        for bound, then, bounds in sorted(ways, key=lambda way: way[0]):
            if bound >= lowest:
                break
            for (chance, after), part in zip(then, bounds, strict=True):
                if after is not None:
                    bound += chance * best(after) - part
                if bound >= lowest:
                    break
            lowest = min(lowest, bound)
        known[state] = lowest
        return lowest

    return best(case.begin())


def _foresight(case: Case) -> dict[frozenset[int], Array]:
    """For each set of open things, what each set of faults costs at least."""
    groups = len(case.opening)
    result = {}
    for some in product((False, True), repeat=groups):
        opened = frozenset(group for group in range(groups) if some[group])
        cost = np.full(2**case.faults, case.proof_cost)
        needed = np.zeros((groups, 2**case.faults), dtype=bool)
        for fault, sets in enumerate(with_fault(case.faults)):
            cost[sets] += case.repair_cost[fault]
            if case.group[fault] >= 0:
                needed[case.group[fault], sets] = True
        for group in range(groups):
            if group not in opened:
                cost += needed[group] * case.opening[group]
        result[opened] = cost
    return result


def knows_the_faults(case: Case) -> float:
    """Expected cost of whoever sees the faults: repairs what is wrong, proves once."""
    begin = case.begin()
    return float(weight_of(begin) @ _foresight(case)[frozenset()])


def cost_of(case: Case, policy: Policy, believed: Case | None = None) -> float:
    """Expected cost of doing in every state what a policy says.

    Parameters
    ----------
    case : Case
        The car as it is.
    policy : callable
        From a car as it is taken to be and a state of it to an action.
    believed : Case or None
        What the policy takes the car to be, where its numbers are wrong; what happens and what is paid is the car's.
        Where an answer comes that it held for impossible, it is given the car's own state: nothing else is left to
        think from.
    """
    if believed is None:
        return _cost(case, policy)
    known: dict[tuple[State, State], float] = {}

    def spent(state: State, taken: State) -> float:
        key = state, taken
        if key not in known:
            action = policy(believed, taken)
            cost, then = results(case, state, action)
            _, thought = results(believed, taken, action)
            for (chance, after), (_, taken_after) in zip(then, thought, strict=True):
                if after is not None:
                    cost += chance * spent(after, taken_after or after)
            known[key] = cost
        return known[key]

    return spent(case.begin(), believed.begin())


def _cost(case: Case, policy: Policy) -> float:
    known: dict[State, float] = {}

    def spent(state: State) -> float:
        if state not in known:
            cost, then = results(case, state, policy(case, state))
            known[state] = cost + sum(chance * spent(after) for chance, after in then if after is not None)
        return known[state]

    return spent(case.begin())
