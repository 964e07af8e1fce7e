"""Which test file reaches which line of belief, planner and measure, and whether both ways of each branch are taken.

Each test file runs alone under coverage.py, so that a line knows the files that reach it. The same run says how much of
the branches the tests of these rooms take between them.
"""

from __future__ import annotations

import hashlib
import json
import os
import time
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from benchmarks.code_forks import passes

ROOMS = ("belief", "planner", "measure")
FOLDER = Path("build/reached")
TESTS = ("tests/unit/belief", "tests/unit/planner", "tests/twins", "tests/outside", "tests/property")
TOGETHER = ("tests/unit/measure", "tests/outside/measure")  # quick ones, each folder as one
OTHERS = (
    "routes",
    "sheets",
    "units",
    "journal",
    "lines",
    "entry_forms",
    "measure_topic_errors",
    "measure_dirty_topics",
)
"""Tests of other rooms that stand in the same folders."""
MEASURED = [f"src/knowngood/{room}/*" for room in ROOMS]


@dataclass(frozen=True)
class Reached:
    """What the tests reach.

    Parameters
    ----------
    files : dict
        Source file and line -> the test files that reach it.
    seconds : dict
        Test file -> how long it ran under coverage [s].
    branches, taken : int
        Ways out of branches there are, and that are taken.
    missing : dict
        Source file -> the lines, and the branches as pairs of lines, that no test takes.
    """

    files: dict[tuple[str, int], frozenset[str]]
    seconds: dict[str, float]
    branches: int
    taken: int
    missing: dict[str, list[object]]


def test_files() -> list[str]:
    """The test files of these rooms, by folder where they are quick; the examples in a room's docstrings are one."""
    files = [file for folder in TESTS for file in sorted(Path(folder).rglob("test_*.py"))]
    wanted = [
        file.as_posix()
        for file in files
        if file.parent.name != "measure" and not any(file.stem.startswith(f"test_{other}") for other in OTHERS)
    ]
    return [*(f"src/knowngood/{room}" for room in ROOMS), *TOGETHER, *wanted]


def run(files: Iterable[str] | None = None) -> Reached:
    """Run the test files that were not run since they or the rooms changed, then read what all reached."""
    import coverage

    FOLDER.mkdir(parents=True, exist_ok=True)
    seconds_file, states_file = FOLDER / "seconds.json", FOLDER / "states.json"
    seconds: dict[str, float] = json.loads(seconds_file.read_text()) if seconds_file.exists() else {}
    states: dict[str, str] = json.loads(states_file.read_text()) if states_file.exists() else {}
    wanted = list(files or test_files())
    rooms_now = state_of([f"src/knowngood/{room}" for room in ROOMS])
    for file in wanted:
        data, now = _data_of(file), f"{rooms_now} {state_of([file])}"
        if data.exists() and states.get(file) == now:
            continue
        began = time.perf_counter()
        one = coverage.Coverage(data_file=os.fspath(data), branch=True, context=file, include=MEASURED, messages=False)
        one.erase()
        if not passes([file], measured=one):
            print(f"{file} does not pass; what it reaches counts all the same, but it judges no fault.")
        seconds[file] = round(time.perf_counter() - began, 2)
        states[file] = now
        seconds_file.write_text(json.dumps(seconds, indent=1, sort_keys=True))
        states_file.write_text(json.dumps(states, indent=1, sort_keys=True))
    data_files = [os.fspath(_data_of(file)) for file in wanted if _data_of(file).exists()]
    both = coverage.Coverage(data_file=os.fspath(FOLDER / "both"), branch=True, messages=False)
    both.erase()
    both.combine(data_files, strict=True, keep=True)
    return _read(both, seconds)


def state_of(paths: list[str]) -> str:
    """Changes when one of these files, or a file of one of these folders, does."""
    digest = hashlib.sha256()
    for path in paths:
        found = [Path(path)] if Path(path).is_file() else sorted(Path(path).glob("*.py"))
        for file in found:
            digest.update(file.read_bytes())
    return digest.hexdigest()[:16]


def _data_of(file: str) -> Path:
    return FOLDER / f"one.{file.replace('/', '_')}"


def _read(both: object, seconds: dict[str, float]) -> Reached:
    import coverage

    assert isinstance(both, coverage.Coverage)
    report = FOLDER / "both.json"
    both.json_report(
        outfile=os.fspath(report), show_contexts=True, include=[f"src/knowngood/{room}/*" for room in ROOMS]
    )
    told = json.loads(report.read_text())
    files: dict[tuple[str, int], frozenset[str]] = {}
    missing: dict[str, list[object]] = {}
    for name, one in told["files"].items():
        for line, contexts in one["contexts"].items():
            files[name, int(line)] = frozenset(contexts)
        left: list[object] = [*one["missing_lines"], *one["missing_branches"]]
        if left:
            missing[name] = left
    return Reached(files, seconds, told["totals"]["num_branches"], told["totals"]["covered_branches"], missing)


if __name__ == "__main__":
    reached = run()
    for name, left in reached.missing.items():
        print(name, *left)
    print(f"branches taken: {reached.taken} of {reached.branches}")
