"""The plan of chosen repairs is the best of all orders."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.planner.problem import AccessGraph, AccessTime
from knowngood.planner.repair_plan import ENGINE_STATES, Job, Waits, repair_plan
from tests.naive.all_orders import fewest_minutes


def some_case(seed: int, size: int) -> tuple[list[Job], AccessGraph, bool, Waits]:
    """A small access graph without circles, and jobs of every kind on it."""
    rng = np.random.default_rng(seed)
    names = [f"step {at}" for at in range(5)]
    steps = {
        name: AccessTime(
            float(rng.integers(1, 30)),
            float(rng.integers(1, 30)),
            tuple(before for before in names[:at] if rng.random() < 0.35),
            bool(rng.random() < 0.4),
        )
        for at, name in enumerate(names)
    }
    graph = AccessGraph(steps)
    opened = graph.needed(tuple(name for name in names if rng.random() < 0.2))
    jobs = [
        Job(
            id=f"job {at}",
            name=f"job {at}",
            minutes=float(rng.integers(1, 60)),
            access=tuple(name for name in names if rng.random() < 0.3),
            day=int(rng.integers(0, 3)) if rng.random() < 0.3 else 0,
            engine=str(rng.choice(ENGINE_STATES, p=(0.6, 0.15, 0.1, 0.15))),
        )
        for at in range(size)
    ]
    waits = Waits(warm_minutes=float(rng.integers(0, 20)), cool_minutes=float(rng.integers(0, 150)))
    return jobs, AccessGraph(steps, opened), bool(rng.random() < 0.5), waits


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
