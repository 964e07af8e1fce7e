"""Timing one thing several times."""

from __future__ import annotations

import time
from collections.abc import Callable

RUNS = 5


def times_s(run: Callable[[], object], runs: int = RUNS) -> list[float]:
    """Seconds of each of some runs, after one that is not counted: it loads what it needs."""
    run()
    times = []
    for _ in range(runs):
        began = time.perf_counter()
        run()
        times.append(time.perf_counter() - began)
    return times
