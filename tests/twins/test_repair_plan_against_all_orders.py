"""The plan of chosen repairs is the best of all orders."""

from __future__ import annotations

import pytest

from knowngood.planner.repair_plan import repair_plan
from tests.naive.all_orders import fewest_minutes
from tests.naive.small_plans import some_case


@pytest.mark.parametrize("seed", range(60))
def test_plan_is_the_best_of_all_orders(seed: int) -> None:
    """Equal minutes, on graphs with shared steps, days to wait, cold, hot and running jobs."""
    jobs, access, hot, waits = some_case(seed, 1 + seed % 6)
    plan = repair_plan(jobs, access, hot=hot, waits=waits)
    assert plan.minutes == pytest.approx(fewest_minutes(jobs, access, hot, waits), abs=1e-9)
    assert plan.gap == 0.0
    assert plan.minutes <= plan.one_by_one + 1e-9
    assert sorted(move.what for move in plan.moves if move.do == "do") == sorted(job.id for job in jobs)


@pytest.mark.parametrize("seed", range(5))
def test_long_plan_states_how_far_it_may_be_off(seed: int) -> None:
    """Beyond the exact size no plan is shorter than this one by more than its gap."""
    jobs, access, hot, waits = some_case(seed, 13)
    plan = repair_plan(jobs, access, hot=hot, waits=waits)
    best_of_part = fewest_minutes(jobs[:5], access, hot, waits)
    assert plan.gap >= 0.0
    assert plan.minutes - plan.gap <= plan.minutes
    assert plan.minutes >= best_of_part
