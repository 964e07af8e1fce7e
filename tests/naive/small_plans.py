"""Small access graphs without circles, with jobs of every kind on them."""

from __future__ import annotations

import numpy as np

from knowngood.planner.problem import AccessGraph, AccessTime
from knowngood.planner.repair_plan import ENGINE_STATES, Job, Waits


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
