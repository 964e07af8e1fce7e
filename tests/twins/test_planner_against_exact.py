"""The judge of plans against figures counted out elsewhere; then the planner on perfect tests and without access.

Noisy tests with access are in ``test_planner_against_exact_plan.py``. Figures the planner must stay under are those of
the plain one-step rule in these two kinds of problem, measured for this project with another program on other draws:
6.0 % with perfect tests, 5.3 % without access. On the draws used here the plain rule must be beaten as well.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

import numpy as np
import pytest

from knowngood.belief.protocol import Array
from knowngood.proving.judge import Policy, cost_of, optimum
from knowngood.proving.plain_rules import plain_one_step
from knowngood.proving.small_advice import shipped
from knowngood.proving.small_cars import PROVE, Action, Case, State, pack, random_case, weight_of

SEED = 2011
CASES = 10


@dataclass(frozen=True)
class OneFault(Case):
    """Exactly one fault is there, with the chances of ``prior``."""

    def begin(self) -> State:
        weight = np.zeros(2**self.faults)
        weight[2 ** np.arange(self.faults)] = self.prior
        return State(pack(weight), frozenset(range(self.tests)), frozenset())


def case_of(kind: type[Case], prior: list[float], cost: list[float], proof: float, **more: object) -> Case:
    """No tests and nothing to open, unless told."""
    fields = {
        "group": (-1,) * len(prior),
        "opening": np.zeros(0),
        "test_cost": np.zeros(0),
        "yes": np.zeros((0, 2 ** len(prior))),
    } | more
    return kind(prior=np.array(prior), repair_cost=np.array(cost), proof_cost=proof, **fields)


def in_order(case: Case, order: tuple[int, ...], proofs: tuple[bool, ...]) -> float:
    """What the judge says an order costs: proofs come before the repairs that are marked, and in the end."""
    sets = np.arange(2**case.faults)

    def policy(case: Case, state: State) -> Action:
        weight = weight_of(state)
        for at, fault in enumerate(order):
            if weight[(sets >> fault & 1) == 1].sum() > 1e-11:
                sure = weight[0] < 1e-11
                return PROVE if proofs[at] and not sure else ("repair", fault)
        return PROVE

    return cost_of(case, policy)


def test_judge_finds_the_best_order_of_independent_faults() -> None:
    """A .5 for 10, B .3 for 5, C .1 for 1, free proof: C A B 12.678832 of all six orders, C B A 13.043796."""
    case = case_of(Case, [0.5, 0.3, 0.1], [10.0, 5.0, 1.0], 0.0)
    assert optimum(case) == pytest.approx(12.678832, abs=1e-6)
    assert in_order(case, (2, 0, 1), (True,) * 3) == pytest.approx(12.678832, abs=1e-6)
    assert in_order(case, (2, 1, 0), (True,) * 3) == pytest.approx(13.043796, abs=1e-6)


def test_judge_puts_the_proof_off() -> None:
    """One fault, A .5 for 2, B .3 for 3, C .2 for 4, proofs at 5: 11.8 with one after A and B, 12.8 each time."""
    case = case_of(OneFault, [0.5, 0.3, 0.2], [2.0, 3.0, 4.0], 5.0)
    assert optimum(case) == pytest.approx(11.8, abs=1e-6)
    assert in_order(case, (0, 1, 2), (False, False, True)) == pytest.approx(11.8, abs=1e-6)
    assert in_order(case, (0, 1, 2), (False, True, True)) == pytest.approx(12.8, abs=1e-6)


def test_judge_closes_before_the_proof() -> None:
    """K opens for 6; A in K .35 for 4; B in K .25 for 1; C .40 for 8; free proof, K closed for it: 14.2."""
    case = case_of(OneFault, [0.35, 0.25, 0.40], [4.0, 1.0, 8.0], 0.0, group=(0, 0, -1), opening=np.array([6.0]))
    assert optimum(case) == pytest.approx(14.2, abs=1e-6)


@pytest.mark.parametrize(("asking", "cost"), [(0.0, 11.5), (3.4, 14.9), (3.6, 15.0)])
def test_judge_asks_where_it_pays(asking: float, cost: float) -> None:
    """A or B, 10 each: 15 unasked. Asked (yes: A .8, B .1): 10 + (.5 x .2 + .5 x .1) x 10 = 11.5 and the price."""
    yes = np.array([[0.0, 0.8, 0.1, 0.0]])
    case = case_of(OneFault, [0.5, 0.5], [10.0, 10.0], 0.0, group=(-1,) * 3, test_cost=np.array([asking]), yes=yes)
    assert optimum(case) == pytest.approx(cost, abs=1e-9)


def perfect(case: Case) -> Case:
    """Tests see every fault they watch, and raise no false alarm."""
    return replace(case, yes=(case.yes > 0.5).astype(float))


def no_access(case: Case) -> Case:
    """Nothing has to come off."""
    return replace(case, group=(-1,) * len(case.group))


@pytest.mark.parametrize(("kind", "plain_rule"), [(perfect, 6.0), (no_access, 5.3)])
def test_mean_excess_is_under_the_plain_rule(
    kind: Callable[[Case], Case], plain_rule: float, capsys: pytest.CaptureFixture[str]
) -> None:
    """Four faults, three tests; advised anew after every outcome, repair and proof."""
    rng = np.random.default_rng(SEED)
    cases = [kind(random_case(rng)) for _ in range(CASES)]
    best = np.array([optimum(case) for case in cases])

    def excess(policy: Policy) -> Array:
        """Money over the best plan of each car, in %."""
        spent = [cost_of(case, policy) for case in cases]
        return 100.0 * (np.array(spent) / best - 1.0)

    ours, plain = excess(shipped), excess(plain_one_step)
    with capsys.disabled():
        print(
            f"\n{kind.__name__}, % over the best plan: shipped {ours.mean():.2f} (most {ours.max():.1f}), "
            f"plain one step {plain.mean():.2f} (most {plain.max():.1f}), n={CASES}, seed {SEED}"
        )
    assert (ours > -1e-6).all()
    assert ours.mean() < min(plain_rule, float(plain.mean()))
