"""The shipped planner against the best possible plan on small cars: every state, every outcome counted."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.planner.advice import advise
from knowngood.proving.judge import cost_of, optimum
from knowngood.proving.plain_rules import plain_one_step, repair_cost, repair_only
from knowngood.proving.small_advice import problem_in, shipped
from knowngood.proving.small_cars import Case, random_case
from tests.naive import exact_plan

CASES = 30
SEED = 2011


@pytest.fixture(scope="module")
def cases() -> list[tuple[Case, float]]:
    """Seeded cars with the cost of the best possible plan."""
    rng = np.random.default_rng(SEED)
    drawn = [random_case(rng) for _ in range(CASES)]
    return [(case, optimum(case)) for case in drawn]


def test_judge_leaves_no_plan_out(cases: list[tuple[Case, float]]) -> None:
    """The judge, which follows up only what can still be the best, finds what trying everything finds."""
    for case, best in cases[:6]:
        assert best == pytest.approx(exact_plan.optimum(case), abs=1e-9)


def test_excess_over_the_best_plan(cases: list[tuple[Case, float]], capsys: pytest.CaptureFixture[str]) -> None:
    """Several faults, noisy tests, access: far under the plain one-step rule, and under 2 % on average."""
    ours = np.array([cost_of(case, shipped) / best for case, best in cases])
    plain = np.array([cost_of(case, plain_one_step) / best for case, best in cases])
    bare = np.array([cost_of(case, repair_only) / best for case, best in cases])
    with capsys.disabled():
        for name, ratio in (("shipped", ours), ("plain one step", plain), ("repairs only", bare)):
            excess = 100.0 * (ratio - 1.0)
            print(
                f"\n{name}: {excess.mean():.2f} % over the best plan "
                f"(p90 {np.percentile(excess, 90):.1f}, most {excess.max():.1f}, n={CASES}, seed {SEED})",
                end="",
            )
    assert (ours >= 1.0 - 1e-9).all()
    assert ours.mean() < plain.mean()
    assert ours.mean() - 1.0 < 0.02


def test_price_is_never_below_the_best_plan(cases: list[tuple[Case, float]]) -> None:
    """What the planner says it will cost can be reached: no less than the best plan, no more than repairs only."""
    for case, best in cases:
        advice = advise(problem_in(case, case.begin()))
        assert advice.exact
        assert advice.step.cost >= best - 1e-6
        assert advice.step.cost <= advice.replace_now + 1e-9
        assert advice.replace_now <= repair_cost(case, case.begin()) + 1e-6


def test_price_is_kept(cases: list[tuple[Case, float]]) -> None:
    """Going on with the planner's own advice costs no more than it said at the start."""
    for case, _ in cases[:15]:
        said = advise(problem_in(case, case.begin())).step.cost
        assert cost_of(case, shipped) <= said * 1.02 + 1e-6
