"""How fast and how exact the chances are, on the reference cars, beside a general-purpose library.

The judge is pyAgrum (exact lazy propagation, one thread) on the same network: every fault a variable, the worst of many
and counts of many as chains, nothing folded. Its network is built before the clock starts, and so is the plan of ours;
what is timed is from readings to the chance of every fault. ``belief.first_ms_c8`` is ours with the plan made, too.
Times are the processor's, of one thread, so that a busy machine does not blur the ratios.
"""

from __future__ import annotations

import statistics
import subprocess
import sys
import time
from collections.abc import Callable, Mapping, Sequence

import numpy as np

from benchmarks.reference_cars import SIZES, ReferenceCar
from knowngood.belief.elimination import Array
from knowngood.belief.exact import ExactBelief
from knowngood.belief.protocol import Ask
from knowngood.proving.figures import Figure
from tests.naive.agrum_belief import by_nodes

RUNS = 9
POSTERIOR_GOAL_MS = {8: 5.0, 12: 7.0}
RATIO_GOAL = 10.0
OUTCOMES_GOAL_MS = {8: 100.0, 12: 130.0}
OUTCOMES_RATIO_GOAL = 300.0
HISTORY_GOAL = 3.0
COLD_START_GOAL_MS = 1000.0


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
        if cylinders == 12:
            later = ReferenceCar(cylinders, history=True).belief()
            found["belief.history_ms_c12"] = figure(timed_ms(lambda later=later: posterior(later)))
            off = float(np.abs(by_nodes(later).chances(later.faults) - later.chances()).max())
            found["belief.error_history_c12"] = Figure(rounded(off), len(later.faults), goal=1e-9, at_least=False)
    return found


def outcome_figures(most_judge_s: float) -> dict[str, Figure]:
    """Every chance under every outcome of every check that remains, ours and the judge's, all of them or none.

    The judge is asked outcome by outcome, on its network with a child for each check; what it already knows it keeps.
    It is left out at the sizes where it would need longer than ``most_judge_s``, by the time of one outcome in eight.
    """
    found: dict[str, Figure] = {}
    for cylinders in SIZES:
        car = ReferenceCar(cylinders)
        asks = car.remaining
        belief = car.belief().prepared(asks)
        ours = timed_ms(lambda belief=belief, asks=asks: belief.anew().outcome_chances_of(asks))
        found[f"belief.outcomes_ms_c{cylinders}"] = figure(ours, OUTCOMES_GOAL_MS.get(cylinders))
        answers = dict(zip(asks, belief.outcome_chances_of(asks), strict=True))
        judge = OutcomeJudge(belief, asks)
        seconds, off_chance, off_fault, outcomes = judge.against(answers, step=8)
        if seconds * 8 <= most_judge_s:
            seconds, off_chance, off_fault, outcomes = judge.against(answers, step=1)
            found[f"belief.ratio_outcomes_c{cylinders}"] = Figure(
                rounded(1000.0 * seconds / ours[0]), outcomes, goal=OUTCOMES_RATIO_GOAL if cylinders == 8 else None
            )
        found[f"belief.error_outcomes_c{cylinders}"] = Figure(rounded(off_fault), outcomes, goal=1e-6, at_least=False)
        found[f"belief.error_of_outcome_c{cylinders}"] = Figure(
            rounded(off_chance), outcomes, goal=1e-9, at_least=False
        )
    return found


def start_figures() -> dict[str, Figure]:
    """From a fresh process to the chances of the eight-cylinder reference car, by the wall: nothing is compiled."""
    code = "from benchmarks.reference_cars import ReferenceCar; ReferenceCar(8).belief().chances()"
    times = []
    for _ in range(RUNS):
        began = time.perf_counter()
        subprocess.run([sys.executable, "-c", code], check=True)
        times.append(1000.0 * (time.perf_counter() - began))
    return {"belief.cold_start_ms": figure((statistics.median(times), min(times), max(times)), COLD_START_GOAL_MS)}


class OutcomeJudge:
    """The judge with a two-state child for each check, seen as one outcome after the other."""

    def __init__(self, belief: ExactBelief, asks: Sequence[Ask]) -> None:
        self.belief = belief
        judge = by_nodes(belief)
        self.children = {
            ask: judge.variable(
                belief.built.table_of[ask].shape[1],
                [judge.nodes[belief.built.node_of[ask]]],
                belief.built.table_of[ask],
            )
            for ask in asks
        }
        self.engine = judge.engine(belief.faults)
        self.variables = judge.variables(belief.faults)
        self.engine.makeInference()
        self.known = self.engine.evidenceProbability()

    def against(self, answers: Mapping[Ask, tuple[Array, Array]], step: int) -> tuple[float, float, float, int]:
        """Of each ``step``-th check: seconds, worst error of an outcome and of a fault under it, outcomes."""
        seconds = off_chance = off_fault = 0.0
        outcomes = 0
        for ask in list(answers)[::step]:
            chance, there = answers[ask]
            for outcome in range(len(chance)):
                began = time.process_time()
                self.engine.addEvidence(self.children[ask], outcome)
                self.engine.makeInference()
                likelihood = self.engine.evidenceProbability()
                faults = np.array([self.engine.posterior(variable)[1] for variable in self.variables])
                self.engine.eraseEvidence(self.children[ask])
                seconds += time.process_time() - began
                off_chance = max(off_chance, abs(likelihood / self.known - chance[outcome]))
                off_fault = max(off_fault, float(np.abs(faults - there[outcome]).max()))
                outcomes += 1
        return seconds, off_chance, off_fault, outcomes
