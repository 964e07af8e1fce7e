"""``make bench``: how fast, printed and written into build/figures.json. Medians of five, files in cache."""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

os.environ.setdefault("OMP_NUM_THREADS", "1")  # before numpy is imported: one thread for us and for the judge

import benchmarks.code_score
import benchmarks.finishing
import benchmarks.package
import benchmarks.reliability
from benchmarks.belief_figures import outcome_figures, posterior_figures, start_figures
from benchmarks.grid_figures import grid_figures
from benchmarks.growth_figures import growth_figures
from benchmarks.library_figures import library_figures
from benchmarks.line_figures import line_figures
from benchmarks.measurements import measurement_figures
from benchmarks.memory import memory_figure
from benchmarks.page_figures import page_figures
from benchmarks.page_rules import rule_figures
from benchmarks.planning import planning_figures
from benchmarks.timing import RUNS, times_s
from knowngood.app.weigh import weigh_notes
from knowngood.library.load import load
from knowngood.proving.figures import Figure, line, write

NOTES = Path(__file__).parent / "eight.txt"


def median_ms(run: Callable[[], object]) -> Figure:
    """Median, least and most of five runs after one that is not counted [ms]."""
    times = [1000.0 * seconds for seconds in times_s(run)]
    return Figure(round(statistics.median(times), 1), RUNS, round(min(times), 1), round(max(times), 1))


def main() -> int:
    """Measure, print, write."""
    began = time.perf_counter()
    library = load()
    text = NOTES.read_text(encoding="utf-8")
    python = [sys.executable, "-m", "knowngood.cli"]
    figures = {
        **benchmarks.finishing.finishing_figures(),
        "weigh.ms_c8": _goal(median_ms(lambda: weigh_notes(text, library)), 500.0),
        "cli.help_ms": _goal(
            median_ms(lambda: subprocess.run([*python, "--help"], capture_output=True, check=True)), 400.0
        ),
        "cli.weigh_ms": median_ms(
            lambda: subprocess.run([*python, "weigh", str(NOTES)], capture_output=True, check=True)
        ),
    }
    figures["weigh.memory_mb"] = memory_figure(NOTES)
    figures.update(library_figures())
    figures.update(line_figures(library))
    figures.update(posterior_figures())
    figures.update(growth_figures())
    figures.update(outcome_figures(most_judge_s=60.0))
    figures.update(grid_figures(library))
    figures.update(start_figures())
    figures["belief.memory_mb"] = figures["weigh.memory_mb"]
    figures.update(measurement_figures())
    figures.update(page_figures())
    figures.update(rule_figures())
    figures.update(planning_figures(library, NOTES))
    for name, figure in figures.items():
        print(line(name, figure))
    write(figures, command="make bench", seconds=time.perf_counter() - began)
    if os.environ.get("FULL"):
        for slow in (benchmarks.package, benchmarks.code_score, benchmarks.reliability):
            subprocess.run([sys.executable, "-m", slow.__name__], check=True)
    return 0


def _goal(figure: Figure, goal: float) -> Figure:
    return Figure(figure.value, figure.n, figure.low, figure.high, goal, at_least=False)


if __name__ == "__main__":
    sys.exit(main())
