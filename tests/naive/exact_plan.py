"""The best possible plan for a few faults, and what any policy costs: every state, every outcome, nothing sampled.

A state is what is believed (chances of the sets of faults that are there now),
which tests are left, what is open. Repairs put one fault right for sure. Tests
answer yes or no and are made once. The car is proved with everything closed;
the work ends when a proof passes. Everything that can happen uses something up,
so the recursion ends.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

import numpy as np

from knowngood.belief.protocol import Array

State = tuple[bytes, frozenset[int], frozenset[int]]
Action = tuple[str, int]
PROVE: Action = ("prove", 0)


@dataclass(frozen=True)
class Case:
    """A car with few faults.

    Parameters
    ----------
    prior : array (fault,)
        Independent chances; the car is known to be bad.
    repair_cost : array (fault,)
    group : tuple of int
        Which thing must be open for each repair (-1: none), then for each test.
    opening : array (group,)
        Cost to open and close again.
    test_cost : array (test,)
    yes : array (test, set)
        Chance of the answer yes in each set of faults; sets are numbers whose bits are the faults.
    proof_cost : float
    """

    prior: Array
    repair_cost: Array
    group: tuple[int, ...]
    opening: Array
    test_cost: Array
    yes: Array
    proof_cost: float

    @property
    def faults(self) -> int:
        return len(self.prior)

    @property
    def tests(self) -> int:
        return len(self.test_cost)

    def begin(self) -> State:
        """Known to be bad, nothing open, no test made."""
        sets = np.arange(2**self.faults)
        weight = np.ones(len(sets))
        for fault, chance in enumerate(self.prior):
            weight *= np.where(sets >> fault & 1, chance, 1.0 - chance)
        weight[0] = 0.0
        return pack(weight / weight.sum()), frozenset(range(self.tests)), frozenset()


def pack(weight: Array) -> bytes:
    """Chances as a key: twelve digits."""
    rounded: bytes = np.round(weight, 12).tobytes()
    return rounded


def weight_of(state: State) -> Array:
    """Chance of each set of faults."""
    return np.frombuffer(state[0])


@cache
def with_fault(faults: int) -> list[Array]:
    """For each fault, the numbers of the sets that hold it."""
    sets = np.arange(2**faults)
    return [sets[(sets >> fault & 1) == 1] for fault in range(faults)]


def actions(case: Case, state: State) -> list[Action]:
    """Everything that could make a difference."""
    weight = weight_of(state)
    some = [("repair", fault) for fault in range(case.faults) if weight[with_fault(case.faults)[fault]].sum() > 1e-11]
    proof = [PROVE] if weight[0] > 1e-11 else []
    return proof + some + [("test", test) for test in sorted(state[1])]


def results(case: Case, state: State, action: Action) -> tuple[float, list[tuple[float, State]]]:
    """What an action costs, and the states it leads to with their chances; a proof that passes leads nowhere."""
    weight, (_, tests, opened) = weight_of(state), state
    kind, which = action
    if kind == "prove":
        left = weight.copy()
        left[0] = 0.0
        failing = float(left.sum())
        then = [(failing, (pack(left / failing), tests, frozenset[int]()))] if failing > 1e-11 else []
        return case.proof_cost, then
    group = case.group[which if kind == "repair" else case.faults + which]
    cost = 0.0 if group < 0 or group in opened else float(case.opening[group])
    opened = opened if group < 0 else opened | {group}
    if kind == "repair":
        bad = with_fault(case.faults)[which]
        after = weight.copy()
        after[bad - (1 << which)] += after[bad]
        after[bad] = 0.0
        return cost + float(case.repair_cost[which]), [(1.0, (pack(after), tests, opened))]
    outcomes = []
    for chance in (case.yes[which], 1.0 - case.yes[which]):
        joint = weight * chance
        total = float(joint.sum())
        if total > 1e-11:
            outcomes.append((total, (pack(joint / total), tests - {which}, opened)))
    return cost + float(case.test_cost[which]), outcomes


def optimum(case: Case) -> float:
    """Expected cost of the best possible plan."""
    known: dict[State, float] = {}

    def best(state: State) -> float:
        if state not in known:
            least = np.inf
            for action in actions(case, state):
                cost, then = results(case, state, action)
                for chance, after in then:
                    if cost >= least:
                        break
                    cost += chance * best(after)
                least = min(least, cost)
            known[state] = least
        return known[state]

    return best(case.begin())


def cost_of(case: Case, policy: Callable[[State], Action]) -> float:
    """Expected cost of doing in every state what a policy says."""
    known: dict[State, float] = {}

    def spent(state: State) -> float:
        if state not in known:
            cost, then = results(case, state, policy(state))
            known[state] = cost + sum(chance * spent(after) for chance, after in then)
        return known[state]

    return spent(case.begin())
