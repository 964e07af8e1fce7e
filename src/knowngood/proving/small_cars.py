"""Cars with so few faults that every plan there is can be tried: what can happen on them, and how they are drawn.

A state is what is believed (chances of the sets of faults that are there now),
which tests are left, what is open. Repairs put one fault right for sure. Tests
answer yes or no and are made once. The car is proved with everything closed;
the work ends when a proof passes. Everything that can happen uses something up,
so every recursion over states ends.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cache
from typing import NamedTuple

import numpy as np

from knowngood.belief.protocol import Array
from knowngood.proving.simulated_worlds import moved

Action = tuple[str, int]
PROVE: Action = ("prove", 0)
NEVER = 1e-11  # a chance under this is none
COST_NOISE = 0.25  # standard deviation in log of what a disturbed cost is off; fixed before the first figure


class State(NamedTuple):
    """What is believed (:func:`pack`), which tests are left, which things are open."""

    belief: bytes
    tests: frozenset[int]
    opened: frozenset[int]


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
        """How many there are."""
        return len(self.prior)

    @property
    def tests(self) -> int:
        """How many there are."""
        return len(self.test_cost)

    def begin(self) -> State:
        """Known to be bad, nothing open, no test made."""
        sets = np.arange(2**self.faults)
        weight = np.ones(len(sets))
        for fault, chance in enumerate(self.prior):
            weight *= np.where(sets >> fault & 1, chance, 1.0 - chance)
        weight[0] = 0.0
        return State(pack(weight / weight.sum()), frozenset(range(self.tests)), frozenset())


def pack(weight: Array) -> bytes:
    """Chances as a key: twelve digits."""
    rounded: bytes = np.round(weight, 12).tobytes()
    return rounded


def weight_of(state: State) -> Array:
    """Chance of each set of faults."""
    return np.frombuffer(state.belief)


@cache
def with_fault(faults: int) -> list[Array]:
    """For each fault, the numbers of the sets that hold it."""
    sets = np.arange(2**faults)
    return [sets[(sets >> fault & 1) == 1] for fault in range(faults)]


def actions(case: Case, state: State) -> list[Action]:
    """Everything that could make a difference."""
    weight = weight_of(state)
    some = [("repair", fault) for fault in range(case.faults) if weight[with_fault(case.faults)[fault]].sum() > NEVER]
    proof = [PROVE] if weight[0] > NEVER else []
    return proof + some + [("test", test) for test in sorted(state.tests)]


def results(case: Case, state: State, action: Action) -> tuple[float, list[tuple[float, State | None]]]:
    """What an action costs, and the states it leads to with their chances.

    A proof that passes leads nowhere and is left out. The list is as long for any two states: where something
    cannot happen there is no state.
    """
    weight, tests, opened = weight_of(state), state.tests, state.opened
    kind, which = action
    if kind == "prove":
        left = weight.copy()
        left[0] = 0.0
        return case.proof_cost, [_scaled(left, tests, frozenset[int]())]
    group = case.group[which if kind == "repair" else case.faults + which]
    cost = 0.0 if group < 0 or group in opened else float(case.opening[group])
    opened = opened if group < 0 else opened | {group}
    if kind == "repair":
        bad = with_fault(case.faults)[which]
        after = weight.copy()
        after[bad - (1 << which)] += after[bad]
        after[bad] = 0.0
        return cost + float(case.repair_cost[which]), [(1.0, State(pack(after), tests, opened))]
    yes = weight * case.yes[which]
    left_over = tests - {which}
    answers = [_scaled(yes, left_over, opened), _scaled(weight - yes, left_over, opened)]
    return cost + float(case.test_cost[which]), answers


def _scaled(joint: Array, tests: frozenset[int], opened: frozenset[int]) -> tuple[float, State | None]:
    total = float(joint.sum())
    return (total, State(pack(joint / total), tests, opened)) if total > NEVER else (0.0, None)


def random_case(rng: np.random.Generator, faults: int = 4, tests: int = 3) -> Case:
    """Chances .05 to .35, costs 2 to 150, two things to open, tests that see 75 to 98 % with 2 to 15 % false alarms.

    A test watches one fault or two. Costs are even in log; the proof costs 5 to 30.
    """
    sets = np.arange(2**faults)
    yes = []
    for _ in range(tests):
        miss = np.full(len(sets), 1.0 - rng.uniform(0.02, 0.15))
        for fault in rng.choice(faults, size=rng.integers(1, 3), replace=False):
            miss = np.where(sets >> fault & 1, miss * (1.0 - rng.uniform(0.75, 0.98)), miss)
        yes.append(1.0 - miss)
    return Case(
        prior=rng.uniform(0.05, 0.35, faults),
        repair_cost=np.exp(rng.uniform(np.log(2.0), np.log(150.0), faults)),
        group=tuple(int(group) for group in rng.integers(-1, 2, faults + tests)),
        opening=rng.uniform(5.0, 40.0, 2),
        test_cost=np.exp(rng.uniform(np.log(2.0), np.log(50.0), tests)),
        yes=np.array(yes),
        proof_cost=float(rng.uniform(5.0, 30.0)),
    )


def disturbed(case: Case, rng: np.random.Generator, sigma: float = 1.0) -> Case:
    """The same car as someone knows it whose numbers are wrong.

    Log odds of every chance get noise of ``sigma``: of each fault, and of each test's yes with nothing its faults do
    and with each set of them. Every cost is multiplied by exp of noise of 0.25, as one misjudges minutes and prices.
    """

    def chances(true: Array) -> Array:
        return moved(true, sigma * rng.standard_normal(true.shape))

    def costs(true: Array) -> Array:
        wrong: Array = true * np.exp(COST_NOISE * rng.standard_normal(true.shape))
        return wrong

    answers = []
    for row in case.yes:
        distinct, back = np.unique(row, return_inverse=True)
        answers.append(chances(distinct)[back])
    return replace(
        case,
        prior=chances(case.prior),
        repair_cost=costs(case.repair_cost),
        opening=costs(case.opening),
        test_cost=costs(case.test_cost),
        yes=np.array(answers).reshape(case.yes.shape),
        proof_cost=float(costs(np.array([case.proof_cost]))[0]),
    )
