"""The shipped planner as a policy on a small car: each state is handed to it through the belief protocol."""

from __future__ import annotations

import numpy as np

from knowngood.planner.advice import advise
from knowngood.planner.problem import AccessGraph, AccessTime, CheckAt, Problem, Repair
from tests.naive.exact_plan import PROVE, Action, Case, State, weight_of
from tests.naive.toy_belief import Toy, ask, fault


def problem_in(case: Case, state: State) -> Problem:
    """A state as the planner sees it; money only, at one a minute."""
    names = [f"f{index}" for index in range(case.faults)]
    sets = np.array([[number >> index & 1 for index in range(case.faults)] for number in range(2**case.faults)], bool)

    def answers(test: int):
        def chances(there: frozenset[str]) -> tuple[float, float]:
            yes = float(case.yes[test][sum(1 << int(name[1:]) for name in there)])
            return yes, 1.0 - yes

        return ("yes", "no"), chances

    belief = Toy(tuple(map(fault, names)), sets, weight_of(state), {f"t{test}": answers(test) for test in state[1]})
    access = AccessGraph(
        {f"g{index}": AccessTime(float(cost)) for index, cost in enumerate(case.opening)},
        frozenset(f"g{index}" for index in state[2]),
    )
    group = [() if index < 0 else (f"g{index}",) for index in case.group]
    return Problem(
        belief=belief,
        repairs=tuple(
            Repair(
                id=name, name=name, fixes=(fault(name),), minutes=float(case.repair_cost[index]), access=group[index]
            )
            for index, name in enumerate(names)
        ),
        checks=tuple(
            CheckAt(
                id=f"t{test}",
                name=f"t{test}",
                asks=(ask(f"t{test}"),),
                minutes=float(case.test_cost[test]),
                access=group[case.faults + test],
            )
            for test in sorted(state[1])
        ),
        access=access,
        rate_per_hour=60.0,
        proof_minutes=case.proof_cost,
    )


def shipped(case: Case, state: State) -> Action:
    """What the shipped planner does first."""
    action = advise(problem_in(case, state)).step.action
    if isinstance(action, CheckAt) and action.kind == "prove":
        return PROVE
    return ("repair" if isinstance(action, Repair) else "test"), int(action.id[1:])
