"""Cars with few faults, drawn: the kind of problem on which planners are compared with the best possible plan."""

from __future__ import annotations

import numpy as np

from tests.naive.exact_plan import Case


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
