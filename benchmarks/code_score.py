"""How many small faults put into belief, planner and measure the tests notice: ``python -m benchmarks.code_score``.

Two hundred faults, drawn from all there are by a fixed seed; ``python -m benchmarks.code_score 2 100`` draws a hundred
others, which say more: tests were written after what the first ones showed. Each is judged in a copy of the tree by
test files that pass there without it: its own, and the quickest that import its file or reach its line, some twenty
seconds of tests, so that the score is rather too low than too high; two minutes of computing count as noticed. What is
judged is kept in build/mutants.jsonl, so that a run that is stopped goes on where it was; a fault that was not noticed
is judged again when a test changes.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import sys
import time
from collections import Counter
from functools import cache
from itertools import accumulate
from pathlib import Path

from benchmarks.code_forks import passes
from benchmarks.code_mutants import Mutant, mutants
from benchmarks.code_reached import ROOMS, TOGETHER, Reached, run, state_of, test_files
from knowngood.proving.figures import Figure, line, share, write

SAMPLE, SEED, GOAL = 200, 1, 0.80
BRANCHES_GOAL = 0.95
JUDGED = Path("build/mutants.jsonl")
TREE = Path("build/mutants")
COPIED = ("src", "tests", "benchmarks", "tools", "docs", "requirements", "changelog.d")
NICE = 15
LONGEST_S = 120  # of computing
AT_ONCE, LEAST_FILES, MOST_S = 4, 8, 20.0


def sample(count: int = SAMPLE, seed: int = SEED) -> list[Mutant]:
    """Faults drawn from all of the rooms: those with the smallest keys, which are as good as dice."""
    every = [
        mutant
        for room in ROOMS
        for file in sorted(Path(f"src/knowngood/{room}").glob("*.py"))
        for mutant in mutants(file, seed)
    ]
    return sorted(every, key=lambda mutant: mutant.key)[:count]


def tests_of(mutant: Mutant, reached: Reached) -> list[str]:
    """Test files to judge a fault by: its own, then the quickest that import its file or reach it; twenty seconds."""
    room, name = mutant.file.parent.name, mutant.file.stem
    reaching = reached.files.get((mutant.file.as_posix(), mutant.line), frozenset())
    unknown_s = 0.0 if room == "measure" else 60.0

    def order(file: str) -> tuple[bool, float, str]:
        return (not Path(file).stem.startswith(f"test_{name}"), reached.seconds.get(file, unknown_s), file)

    ordered = sorted({*importers(room, name), *reaching} - set(TOGETHER), key=order)
    spent = accumulate(reached.seconds.get(file, unknown_s) for file in ordered)
    return [
        file for at, (file, sum_s) in enumerate(zip(ordered, spent, strict=True)) if at < LEAST_FILES or sum_s <= MOST_S
    ]


@cache
def importers(room: str, name: str) -> list[str]:
    """Test files that import a file of a room."""
    imports = re.compile(rf"knowngood\.{room}(\.{name} import| import [^\n]*\b{name}\b)")
    return [
        file.as_posix()
        for folder in ("tests/unit", "tests/outside", "tests/twins", "tests/property")
        for file in sorted(Path(folder).rglob("test_*.py"))
        if imports.search(file.read_text(encoding="utf-8"))
    ]


def judge(mutant: Mutant, tests: list[str]) -> str:
    """``noticed``, ``not noticed`` or ``not reached``, with the fault in the copied tree and out of it again."""
    tests = [one for one in tests if sound(one)]
    if not tests:
        return "not reached"
    file = TREE / mutant.file
    stat, kept = file.stat(), file.read_bytes()
    for old in file.parent.glob(f"__pycache__/{file.stem}.*.pyc"):
        old.unlink()
    file.write_text(mutant.source(), encoding="utf-8")
    noticed = False
    try:
        for part in (tests[:AT_ONCE], tests[AT_ONCE:]):  # all files of a run are read before the first test of it
            noticed = noticed or (bool(part) and not passes(part, TREE, longest_s=LONGEST_S))
    finally:
        file.write_bytes(kept)
        os.utime(file, ns=(stat.st_atime_ns, stat.st_mtime_ns))
    return "noticed" if noticed else "not noticed"


@cache
def sound(file: str) -> bool:
    """Whether a test file passes in the copied tree without any fault; one that does not judges none."""
    passed = passes([file], TREE)
    if not passed:
        print(f"{file} does not pass without any fault, so it judges none.", flush=True)
    return passed


def copy_tree() -> None:
    """The tree as it is, for faults to be put into."""
    shutil.rmtree(TREE, ignore_errors=True)
    for folder in COPIED:
        shutil.copytree(folder, TREE / folder)
    for file in Path().glob("*.*"):
        if file.is_file():
            shutil.copy2(file, TREE)


def score(seed: int = SEED, count: int = SAMPLE) -> dict[str, Figure]:
    """Judge what is not judged yet; the share noticed, of all and by room."""
    reached = run()
    tests_now = state_of(test_files())
    known = {}
    if JUDGED.exists():
        for text in JUDGED.read_text(encoding="utf-8").splitlines():
            one = json.loads(text)
            known[one["key"]] = one
    copy_tree()
    drawn = sample(count, seed)
    for number, mutant in enumerate(drawn, 1):
        before = known.get(mutant.key)
        source = state_of([mutant.file.as_posix()])
        if before and before["source"] == source and (before["verdict"] == "noticed" or before["tests"] == tests_now):
            continue
        verdict = judge(mutant, tests_of(mutant, reached))
        known[mutant.key] = {
            "key": mutant.key,
            "source": source,
            "tests": tests_now,
            "verdict": verdict,
            "where": f"{mutant.file.as_posix()}:{mutant.line}",
            "what": mutant.what,
        }
        with JUDGED.open("a", encoding="utf-8") as file:
            file.write(json.dumps(known[mutant.key]) + "\n")
        print(f"{number:>4} {verdict:<12} {mutant.file.as_posix()}:{mutant.line}  {mutant.what}", flush=True)
    verdicts = {mutant.key: known[mutant.key]["verdict"] for mutant in drawn}
    if seed != SEED:
        return {"code.mutation_score_others": share(Counter(verdicts.values())["noticed"], len(drawn), GOAL)}
    figures = {
        "code.branch_coverage": share(reached.taken, reached.branches, BRANCHES_GOAL),
        "code.mutation_score": share(Counter(verdicts.values())["noticed"], len(drawn), GOAL),
    }
    for room in ROOMS:
        here = [verdicts[mutant.key] for mutant in drawn if mutant.file.parent.name == room]
        figures[f"code.mutation_{room}"] = share(Counter(here)["noticed"], len(here))
    return figures


def survivors(seed: int = SEED, count: int = SAMPLE) -> list[str]:
    """Faults of the sample that no test noticed, one a line."""
    known = {one["key"]: one for one in map(json.loads, JUDGED.read_text(encoding="utf-8").splitlines())}
    judged = [known[mutant.key] for mutant in sample(count, seed) if mutant.key in known]
    return sorted(f"{one['where']}  {one['what']}  ({one['verdict']})" for one in judged if one["verdict"] != "noticed")


def main() -> int:
    """Judge, print, write."""
    os.nice(NICE)
    seed, count = (*map(int, sys.argv[1:]), *(SEED, SAMPLE)[len(sys.argv) - 1 :])
    began = time.perf_counter()
    figures = score(seed, count)
    print(*survivors(seed, count), sep="\n")
    for name, figure in figures.items():
        print(line(name, figure))
    write(
        figures,
        command=" ".join(["python -m benchmarks.code_score", *sys.argv[1:]]),
        seconds=time.perf_counter() - began,
    )
    return 0


if __name__ == "__main__":
    sys.exit(main())
