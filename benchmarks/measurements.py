"""How long a measurement takes from typed text to result, and how many published rows the tests assert.

A row of the reference tables is asserted when the id of a test in ``tests/outside/measure`` begins with it
(``r3.04-0.8mm``). Only rows that were seen or computed count (``rows.toml`` beside those tests holds the marks); rows
from memory count apart. Rows left out stand with their reason in the two lists there.
"""

from __future__ import annotations

import re
import statistics
import subprocess
import sys
import tomllib
from functools import cache
from pathlib import Path

from benchmarks.timing import times_s
from knowngood.app.measuring import measure, topics
from knowngood.app.measuring_typed import split_options
from knowngood.proving.figures import Figure

OUTSIDE = Path(__file__).parent.parent / "tests" / "outside" / "measure"
RUNS = 25
SLOWEST_US = 1000.0
LEAST_ROWS = 150.0


def measurement_figures() -> dict[str, Figure]:
    """Slowest topic [µs, median of its runs, reading and showing included]; rows asserted, from memory, left out."""
    slowest = max(topic_us(name) for name in topics())
    asserted, left_out = rows_asserted(), rows_left_out()
    memory = {row for row in asserted if "M" in row_marks()[row].split("+")}
    seen = len(asserted - memory)
    return {
        "measure.slowest_us": Figure(round(slowest, 0), len(topics()), goal=SLOWEST_US, at_least=False),
        "measure.reference_rows_asserted": Figure(seen, seen, goal=LEAST_ROWS),
        "measure.reference_rows_from_memory": Figure(len(memory), len(memory)),
        "measure.reference_rows_left_out": Figure(len(left_out - asserted), len(left_out)),
    }


def topic_us(name: str) -> float:
    """Median time of a topic's example [µs], after one run that loads what it needs."""
    topic = topics()[name]
    ordered, named = split_options(topic.example.split(), topic)
    return 1e6 * statistics.median(times_s(lambda: measure(name, ordered, named), RUNS))


@cache
def asserted_ids() -> tuple[tuple[str, str], ...]:
    """Row, and the rest of the id, of every test that asserts one, by what the test runner itself collects."""
    command = [sys.executable, "-m", "pytest", "--collect-only", "-q", "-p", "no:cacheprovider", str(OUTSIDE)]
    listed = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    return tuple(re.findall(r"\[r(\d+\.\d\d)(.*)\]", listed))


def rows_asserted() -> set[str]:
    """Rows that a test's id begins with."""
    return {row for row, _ in asserted_ids()}


@cache
def row_marks() -> dict[str, str]:
    """Mark of every row (``S``, ``C``, ``S2``, ``M`` or several joined), from the list beside the tests."""
    sections = tomllib.loads((OUTSIDE / "rows.toml").read_text(encoding="utf-8"))["marks"]
    return {
        f"{section}.{row:02}": mark
        for section, marks in sections.items()
        for row, mark in enumerate(marks.split(), start=1)
    }


def rows_left_out() -> set[str]:
    """Rows in the lists of those left out, spans such as ``12.01 to 12.05`` taken apart."""
    found: set[str] = set()
    for file in sorted(OUTSIDE.glob("left_out_*.md")):
        for first_cell in re.findall(r"^\| (\d[^|]*) \|", file.read_text(encoding="utf-8"), re.MULTILINE):
            for part in first_cell.split(","):
                ends = re.findall(r"(\d+)\.(\d\d)", part)
                section = ends[0][0]
                low, high = int(ends[0][1]), int(ends[-1][1])
                found |= {f"{section}.{row:02}" for row in range(low, high + 1)}
    return found


if __name__ == "__main__":
    for name in topics():
        print(f"{name:<14}{topic_us(name):8.0f} µs")
    print(measurement_figures())
