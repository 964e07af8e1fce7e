"""How much the library knows, where its numbers are from, and how fast it is read and held to its rules."""

from __future__ import annotations

import statistics
import subprocess
import sys
from collections import Counter

from knowngood.library.load import load
from knowngood.library.records import Library
from knowngood.library.rules.sources import PLAIN_SOURCES
from knowngood.library.separation import Separation
from knowngood.library.shape import leaves
from knowngood.library.tables import KINDS
from knowngood.proving.figures import Figure, share

RUNS = 5
LOAD = "from knowngood.library.load import load; work = load"
VALIDATE = "from knowngood.library.load import read, every_problem; draft = read(); work = lambda: every_problem(draft)"
TIMED = "; import time; began = time.perf_counter(); work(); print(time.perf_counter() - began)"


def library_figures() -> dict[str, Figure]:
    """Counts with the goals of the plan, shares of sources, times of fresh interpreters."""
    library = load()
    goals = {"faults": 220, "checks": 150, "codes": 150, "parts": 120, "access": 80}
    names = {"access": "access_steps"}
    counts = {
        f"library.{names.get(place, place)}": Figure(len(getattr(library, place)), 1, goal=float(goal))
        for place, goal in goals.items()
    }
    unseen = len(Separation(library).unseen())
    return {
        **counts,
        "library.unseen_faults": Figure(unseen, len(library.faults), goal=0.0, at_least=False),
        **source_figures(library),
        "library.load_ms": _fresh_ms(LOAD, 300.0),
        "library.validate_ms": _fresh_ms(VALIDATE, 2000.0),
    }


def source_figures(library: Library) -> dict[str, Figure]:
    """Of all source marks in the records, the shares that are published, common practice and memory; those without."""
    marks: Counter[str] = Counter()
    for kind in KINDS:
        for record in getattr(library, kind.place).values():
            for keys, value in leaves(record):
                if keys[-1] == "source":
                    known = value in library.sources
                    marks["published" if known else value if value in PLAIN_SOURCES else "unsourced"] += 1
    total = marks.total()
    return {
        "library.unsourced": Figure(marks["unsourced"], total, goal=0.0, at_least=False),
        "library.share_published": share(marks["published"], total),
        "library.share_common_practice": share(marks["common practice"], total),
        "library.share_memory": share(marks["memory"], total),
    }


def _fresh_ms(work: str, goal: float) -> Figure:
    """Median, least and most of several new interpreters, imports left out [ms]."""
    times = []
    for _ in range(RUNS):
        said = subprocess.run([sys.executable, "-c", work + TIMED], capture_output=True, check=True, text=True).stdout
        times.append(1000.0 * float(said))
    return Figure(
        round(statistics.median(times), 1), RUNS, round(min(times), 1), round(max(times), 1), goal, at_least=False
    )
