"""How near the shipped planner comes to the best possible plan, on small cars where that can be counted out.

Cars are drawn with seeds of their own, so that any one can be looked at again.
A policy's cost is exact for a car; the interval is over cars.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass

import numpy as np

from knowngood.belief.protocol import Array
from knowngood.proving.drawn_again import over_cars
from knowngood.proving.figures import Figure
from knowngood.proving.judge import Policy, cost_of, knows_the_faults, optimum
from knowngood.proving.plain_rules import plain_one_step, repair_only
from knowngood.proving.simulated_pool import PROCESSES
from knowngood.proving.small_advice import shipped
from knowngood.proving.small_cars import disturbed, random_case

POLICIES: dict[str, Policy] = {"": shipped, ".one_step": plain_one_step, ".repairs_only": repair_only}
SMALL, LARGER = (4, 3), (5, 4)


@dataclass(frozen=True)
class Kind:
    """Cars drawn alike: how many faults and tests, which seeds."""

    faults: int
    tests: int
    seeds: range


@dataclass(frozen=True)
class Excess:
    """One car: % over the best plan by policy, with the right numbers and with disturbed ones."""

    over: dict[str, float]
    over_disturbed: dict[str, float]


def figures_of_small_plans(full: bool) -> dict[str, Figure]:
    """Excess over the best possible plan [%], with 95 % intervals.

    Parameters
    ----------
    full : bool
        All cars (200 of each kind); else 200 of the smaller and 60 of the larger.
    """
    small = Kind(*SMALL, range(1, 201))
    larger = Kind(*LARGER, range(1001, 1201 if full else 1061))
    jobs = [(kind.faults, kind.tests, seed) for kind in (larger, small) for seed in kind.seeds]
    with ProcessPoolExecutor(min(PROCESSES, os.cpu_count() or 1)) as pool:
        outcomes = list(pool.map(_judged, jobs))
    of_larger, of_small = outcomes[: len(larger.seeds)], outcomes[len(larger.seeds) :]
    figures: dict[str, Figure] = {}
    for name in (*POLICIES, ".knows_the_faults"):
        ours = name == ""
        figures.update(_mean_p90_most("planner.excess_4x3", name, [one.over[name] for one in of_small], 1.0, 3.0, ours))
        figures.update(
            _mean_p90_most("planner.excess_5x4", name, [one.over[name] for one in of_larger], 2.0, 5.0, ours)
        )
    for name in POLICIES:
        wrong = np.array([one.over_disturbed[name] for one in of_small])
        figures[f"planner.excess_disturbed_mean{name}"] = _figure(wrong, np.mean, 9.0 if name == "" else None)
    return figures


def _judged(job: tuple[int, int, int]) -> Excess:
    """One car, every policy."""
    faults, tests, seed = job
    rng = np.random.default_rng(seed)
    case = random_case(rng, faults, tests)
    best = optimum(case)
    over = {name: 100.0 * (cost_of(case, policy) / best - 1.0) for name, policy in POLICIES.items()}
    over[".knows_the_faults"] = 100.0 * (knows_the_faults(case) / best - 1.0)
    if (faults, tests) != SMALL:
        return Excess(over, {})
    believed = disturbed(case, rng)
    wrong = {name: 100.0 * (cost_of(case, policy, believed) / best - 1.0) for name, policy in POLICIES.items()}
    return Excess(over, wrong)


def _mean_p90_most(
    stem: str, name: str, over: Sequence[float], mean: float, p90: float, ours: bool
) -> dict[str, Figure]:
    values = np.array(over)
    return {
        f"{stem}_mean{name}": _figure(values, np.mean, mean if ours else None),
        f"{stem}_p90{name}": _figure(values, lambda each: np.percentile(each, 90), p90 if ours else None),
        f"{stem}_max{name}": Figure(round(float(values.max()), 2), len(values)),
    }


def _figure(values: Array, statistic: Callable[[Array], np.floating], goal: float | None) -> Figure:
    return over_cars(lambda rows: float(statistic(values[rows])), len(values), goal, digits=2)
