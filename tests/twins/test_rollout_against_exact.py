"""Playing a plan through against counting it out: on small cars both know every fault set."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.planner.bound import at_least
from knowngood.planner.pricing import Pricing
from knowngood.planner.ranking import FULL, ranked
from knowngood.planner.refine import refine
from knowngood.planner.rollout import play
from knowngood.proving.judge import cost_of, knows_the_faults, optimum
from knowngood.proving.small_advice import problem_in, shipped
from knowngood.proving.small_cars import Case, random_case


def small(seed: int) -> Case:
    """Four faults, three tests."""
    return random_case(np.random.default_rng(seed))


@pytest.mark.parametrize("seed", range(1, 13))
def test_playing_it_through_costs_what_following_costs(seed: int) -> None:
    """The leading step played through with the same effort is priced as the judge prices following the planner.

    Points reached less than once in fifty keep their first price: hence the one per cent.
    """
    case = small(seed)
    pricing = Pricing(problem_in(case, case.begin()), seed=1, most=600)
    *_, last = play(pricing, ranked(pricing), effort=FULL)
    assert last.costs[0] == pytest.approx(cost_of(case, shipped), rel=0.01)
    assert min(last.costs) >= optimum(case) * (1.0 - 1e-9)
    assert last.waiting == 0


@pytest.mark.parametrize("seed", range(1, 13))
def test_bound_is_between_foresight_and_the_best_plan(seed: int) -> None:
    """No plan ends below it; it asks no less than the repairs needed and one proof, everything open."""
    case = small(seed)
    bound = at_least(Pricing(problem_in(case, case.begin()), seed=1, most=600))
    assert bound <= optimum(case) * (1.0 + 1e-9)
    free = Case(case.prior, case.repair_cost, case.group, 0.0 * case.opening, case.test_cost, case.yes, case.proof_cost)
    assert bound >= knows_the_faults(free) * (1.0 - 1e-9)


@pytest.mark.parametrize("seed", range(1, 13))
def test_refined_advice_is_no_worse_where_it_changes(seed: int) -> None:
    """Where another step comes first in the end, going on from it is cheaper than from the first answer."""
    case = small(seed)
    problem = problem_in(case, case.begin())
    advice = refine(problem)
    assert advice.played > 0
    assert advice.step.cost >= optimum(case) * (1.0 - 1e-9)
    if advice.changed_from is not None:
        assert advice.step.cost < advice.changed_from.cost
