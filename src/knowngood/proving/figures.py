"""Measured figures: printed, and merged into ``build/figures.json``."""

from __future__ import annotations

import json
import subprocess
from dataclasses import asdict, dataclass
from functools import cache
from pathlib import Path

FILE = Path("build/figures.json")
NOT_NAMED = 999  # the rank of what is among no suspects: behind any that is


@dataclass(frozen=True)
class Figure:
    """One measured figure.

    Parameters
    ----------
    value : float
    low, high : float or None
        95 % interval, where one is known.
    n : int
        Cases, lines or runs behind it.
    goal : float or None
        Set before the figure was first measured, or raised since; never lowered to what was reached.
    at_least : bool
        Whether the goal is a floor (else a ceiling).
    """

    value: float
    n: int
    low: float | None = None
    high: float | None = None
    goal: float | None = None
    at_least: bool = True

    @property
    def holds(self) -> bool | None:
        """Whether the goal is reached; ``None`` where none is set, or nothing was counted."""
        if self.goal is None or not self.n:
            return None
        return self.value >= self.goal if self.at_least else self.value <= self.goal


def share(hits: int, n: int, goal: float | None = None) -> Figure:
    """A share with its exact 95 % interval (Clopper and Pearson 1934, by scipy); of nothing it is 0 with ``n`` 0."""
    from scipy.stats import binomtest

    interval = binomtest(hits, n).proportion_ci(0.95) if n else None
    return Figure(
        value=round(hits / n, 4) if n else 0.0,
        n=n,
        low=round(float(interval.low), 4) if interval else None,
        high=round(float(interval.high), 4) if interval else None,
        goal=goal,
    )


@cache
def commit() -> str:
    """The commit of the checkout when first asked, and whether files differed from it: what a run began with."""

    def told(*words: str) -> str:
        return subprocess.run(["git", *words], capture_output=True, text=True, check=False).stdout.strip()

    changed = told("status", "--porcelain", "--untracked-files=no", "--", "src", "tests", "benchmarks")
    return told("rev-parse", "--short", "HEAD") + (" with changes" if changed else "")


def write(figures: dict[str, Figure], *, command: str, seconds: float, file: Path = FILE) -> None:
    """Merge figures into the file, with the command, the commit and the seconds they took."""
    known = json.loads(file.read_text()) if file.exists() else {}
    for name, figure in figures.items():
        known[name] = {
            **asdict(figure),
            "holds": figure.holds,
            "command": command,
            "commit": commit(),
            "seconds": round(seconds, 1),
        }
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(json.dumps(known, indent=1, sort_keys=True) + "\n")


def line(name: str, figure: Figure) -> str:
    """One figure as a line of text."""
    interval = f" ({figure.low:g} to {figure.high:g})" if figure.low is not None and figure.high is not None else ""
    reached = {True: "reached", False: "NOT reached", None: "nothing to count"}[figure.holds]
    goal = "" if figure.goal is None else f"  goal {figure.goal:g}: {reached}"
    return f"{name:<28} {figure.value:g}{interval}  n={figure.n}{goal}"
