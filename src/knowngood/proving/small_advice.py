"""The shipped planner as a policy on a small car: each state is handed to it through the belief protocol."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from knowngood.belief.protocol import Array, Ask, Bools, FaultAt, Scenarios
from knowngood.car import ENGINE
from knowngood.planner.advice import advise
from knowngood.planner.problem import AccessGraph, AccessTime, CheckAt, Problem, Repair
from knowngood.proving.small_cars import PROVE, Action, Case, State, weight_of

ANSWERS = ("yes", "no")


@dataclass(frozen=True)
class SmallBelief:
    """Chances of the sets of faults of a small car: fills the protocol by counting."""

    case: Case
    weight: Array

    @cached_property
    def faults(self) -> tuple[FaultAt, ...]:
        """All of the engine as a whole."""
        return tuple(FaultAt(f"f{index}", ENGINE) for index in range(self.case.faults))

    @cached_property
    def sets(self) -> Bools:
        """Every set of faults (set, fault)."""
        numbers = np.arange(2**self.case.faults)
        return np.array([numbers >> fault & 1 for fault in range(self.case.faults)], dtype=bool).T

    def chances(self) -> Array:
        """Chance of each fault (fault,)."""
        return self.weight @ self.sets

    def outcomes(self, ask: Ask) -> tuple[str, ...]:
        """Yes and no, whatever is asked."""
        return ANSWERS

    def likelihood(self, ask: Ask, present: Bools) -> Array:
        """Chance of either answer in each set that is given (answer, set)."""
        yes = self.case.yes[int(ask.reading[1:])][present @ (1 << np.arange(self.case.faults))]
        return np.stack([yes, 1.0 - yes])

    def outcome_chances(self, ask: Ask) -> tuple[Array, Array]:
        """Chance of either answer (answer,), and of each fault after it (answer, fault)."""
        joint = self.likelihood(ask, self.sets) * self.weight
        chance = joint.sum(axis=1)
        return chance, (joint @ self.sets) / np.maximum(chance, 1e-300)[:, None]

    def given(self, ask: Ask, outcome: str) -> SmallBelief:
        """The belief after an answer; an answer of no chance leaves no number."""
        joint = self.likelihood(ask, self.sets)[ANSWERS.index(outcome)] * self.weight
        return replace(self, weight=joint / joint.sum())

    def scenarios(self, most: int, rng: np.random.Generator) -> Scenarios:
        """Every set that has a chance; ``most`` and ``rng`` are not needed where all are counted."""
        some = self.weight > 0
        return Scenarios(self.weight[some], self.sets[some], exact=True)


def problem_in(case: Case, state: State) -> Problem:
    """A state as the planner sees it; money only, at one a minute."""
    belief = SmallBelief(case, weight_of(state))
    access = AccessGraph(
        {f"g{index}": AccessTime(float(cost)) for index, cost in enumerate(case.opening)},
        frozenset(f"g{index}" for index in state.opened),
    )
    group = [() if index < 0 else (f"g{index}",) for index in case.group]
    return Problem(
        belief=belief,
        repairs=tuple(
            Repair(id=f"f{index}", name=f"f{index}", fixes=(at,), minutes=float(cost), access=group[index])
            for index, (at, cost) in enumerate(zip(belief.faults, case.repair_cost, strict=True))
        ),
        checks=tuple(
            CheckAt(
                id=f"t{test}",
                name=f"t{test}",
                asks=(Ask(f"t{test}", ENGINE),),
                minutes=float(case.test_cost[test]),
                access=group[case.faults + test],
            )
            for test in sorted(state.tests)
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
