"""How fast and how exact the chances are, on the reference cars, beside a general-purpose library.

The judge is pyAgrum (exact lazy propagation, one thread) on the same network: every fault a variable, the worst of many
and counts of many as chains, nothing folded. Its network is built before the clock starts, and so is the plan of ours;
what is timed is from readings to the chance of every fault. ``belief.first_ms_c8`` is ours with the plan made, too.
Times are the processor's, of one thread, so that a busy machine does not blur the ratios.
"""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable

import numpy as np

from benchmarks.reference_cars import SIZES, ReferenceCar
from knowngood.belief.exact import ExactBelief
from knowngood.proving.figures import Figure
from tests.naive.agrum_belief import by_nodes

RUNS = 9
POSTERIOR_GOAL_MS = {8: 5.0, 12: 7.0}
RATIO_GOAL = 10.0
HISTORY_GOAL = 3.0


def timed_ms(run: Callable[[], object], runs: int = RUNS) -> tuple[float, float, float]:
    """Median, least and most of some runs after one that is not counted [ms]."""
    run()
    times = []
    for _ in range(runs):
        began = time.process_time()
        run()
        times.append(1000.0 * (time.process_time() - began))
    return statistics.median(times), min(times), max(times)


def rounded(value: float, digits: int = 3) -> float:
    """A value with so many digits that count."""
    return float(f"{value:.{digits}g}")


def figure(times: tuple[float, float, float], goal: float | None = None) -> Figure:
    """A time as a figure with its least and most."""
    return Figure(rounded(times[0]), RUNS, rounded(times[1]), rounded(times[2]), goal, at_least=False)


def posterior(belief: ExactBelief) -> object:
    """From the tables of the readings to every chance, on the plan there is."""
    return belief.anew().chances()


def posterior_figures() -> dict[str, Figure]:
    """Time, ratio and error of the chances, by number of cylinders; what a history costs."""
    found: dict[str, Figure] = {}
    for cylinders in SIZES:
        car = ReferenceCar(cylinders)
        belief = car.belief()
        ours = timed_ms(lambda belief=belief: posterior(belief))
        judge = by_nodes(belief)
        theirs = timed_ms(lambda judge=judge, belief=belief: judge.chances(belief.faults))
        error = float(np.abs(judge.chances(belief.faults) - belief.chances()).max())
        found[f"belief.posterior_ms_c{cylinders}"] = figure(ours, POSTERIOR_GOAL_MS.get(cylinders))
        found[f"belief.ratio_posterior_c{cylinders}"] = Figure(
            rounded(theirs[0] / ours[0]), RUNS, goal=RATIO_GOAL if cylinders == 8 else None
        )
        found[f"belief.error_c{cylinders}"] = Figure(rounded(error), len(belief.faults), goal=1e-9, at_least=False)
        if cylinders == 8:
            found["belief.first_ms_c8"] = figure(timed_ms(lambda car=car: car.belief().chances()))
            later = ReferenceCar(cylinders, history=True).belief()
            with_history = timed_ms(lambda later=later: posterior(later))
            found["belief.history_ratio"] = Figure(
                rounded(with_history[0] / ours[0]), RUNS, goal=HISTORY_GOAL, at_least=False
            )
    return found
