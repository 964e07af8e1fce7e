"""Small cars with wrong numbers, and what a policy that believes them pays."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.proving.judge import cost_of, knows_the_faults, optimum
from knowngood.proving.plain_rules import plain_one_step, repair_only
from knowngood.proving.small_advice import shipped
from knowngood.proving.small_cars import disturbed, random_case


def test_disturbing_nothing_changes_nothing() -> None:
    """With noise of 0 every chance stays; only what is misjudged in costs is left."""
    case = random_case(np.random.default_rng(1))
    same = disturbed(case, np.random.default_rng(2), sigma=0.0)
    assert same.prior == pytest.approx(case.prior)
    assert same.yes == pytest.approx(case.yes)
    assert same.group == case.group
    assert not np.allclose(same.repair_cost, case.repair_cost)


def test_disturbed_chances_have_the_noise_they_are_given() -> None:
    """Over many cars the log odds of a fault move by 1.0 on average (root of the mean square), to either side."""
    rng = np.random.default_rng(3)
    moved = []
    for _ in range(400):
        case = random_case(rng)
        wrong = disturbed(case, rng)
        moved += list(np.log(wrong.prior / (1 - wrong.prior)) - np.log(case.prior / (1 - case.prior)))
    assert np.sqrt(np.mean(np.square(moved))) == pytest.approx(1.0, abs=0.05)
    assert np.mean(moved) == pytest.approx(0.0, abs=0.08)


def test_answers_alike_stay_alike() -> None:
    """Two sets in which a test answers alike are still alike to who has the numbers wrong."""
    case = random_case(np.random.default_rng(4))
    wrong = disturbed(case, np.random.default_rng(5))
    for row, told in zip(case.yes, wrong.yes, strict=True):
        assert len(np.unique(row)) == len(np.unique(told))


@pytest.mark.parametrize("seed", range(5))
def test_costs_stand_in_order(seed: int) -> None:
    """Who knows the faults pays no more than the best plan, and that no more than any policy, whatever it believes."""
    rng = np.random.default_rng(seed)
    case = random_case(rng, 3, 2)
    wrong = disturbed(case, rng)
    best = optimum(case)
    assert knows_the_faults(case) <= best + 1e-9
    for policy in (shipped, plain_one_step, repair_only):
        assert cost_of(case, policy) >= best - 1e-9
        assert cost_of(case, policy, wrong) >= best - 1e-9
        assert cost_of(case, policy, case) == pytest.approx(cost_of(case, policy), abs=1e-9)
