"""Ordinary situations in the bay: in how many the program names, and does first, what a mechanic would."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from knowngood.app.answer import Answer
from knowngood.app.weigh import weigh_notes
from knowngood.library.load import load

FOLDERS = ("bay", "bay_second")
SETS: dict[str, dict[str, Any]] = {
    folder: {
        told["name"]: told
        for path in sorted((Path(__file__).parent / folder).glob("*.toml"))
        for told in tomllib.loads(path.read_text(encoding="utf-8"))["situation"]
    }
    for folder in FOLDERS
}
SITUATIONS = {name: told for situations in SETS.values() for name, told in situations.items()}
LEAST_KINDS = {"bay": 29, "bay_second": 27}
"""Situations whose first kind stands among the first three, as reached; 24 of the second at their first reading."""
LEAST_STEPS = {"bay": 18, "bay_second": 15}
"""Situations in which one of the first three steps is one of the first two checks, as reached.

19 of the first set before a can of fuel was a repair of its own: without fuel pressure the needle is now looked at
before the pump is listened to.
"""


@cache
def answer_to(name: str) -> Answer:
    """What the program says of one situation."""
    return weigh_notes(SITUATIONS[name]["notes"], load())


def said(name: str, first: int) -> list[list[str]]:
    """The kinds of fault of each of the first suspects."""
    return [[kind.fault for kind in suspect.kinds] for suspect in answer_to(name).suspects[:first]]


def named(name: str, first: int) -> set[str]:
    """The kinds of fault among the first suspects."""
    return {fault for kinds in said(name, first) for fault in kinds}


def steps(name: str) -> list[str]:
    """The first three steps."""
    return [step.what for step in answer_to(name).next[:3]]


def flat(groups: list[list[str]]) -> set[str]:
    """The names of all groups."""
    return {name for group in groups for name in group}


def share(met: list[str], of: int) -> str:
    """How many of all, in words."""
    return f"{len(met)} of {of} ({100 * len(met) / of:.0f} %)"


@pytest.mark.parametrize("name", SITUATIONS)
def test_every_line_is_read(name: str) -> None:
    """Nothing told is kept as a note only."""
    assert [line.text for line in answer_to(name).not_understood] == []


@pytest.mark.parametrize("folder", FOLDERS)
def test_first_kind_is_among_the_first_three(folder: str) -> None:
    """The kind a mechanic names first is one of the first three, in as many situations as were reached."""
    situations = SETS[folder]
    first = [name for name, told in situations.items() if named(name, 1) & set(told["first"])]
    met = [name for name, told in situations.items() if named(name, 3) & set(told["first"])]
    three = [
        name
        for name in met
        if all(named(name, 5) & set(group) for group in [SITUATIONS[name]["first"], *SITUATIONS[name]["also"]])
    ]
    of = len(situations)
    print(f"{folder}: first kind first: {share(first, of)}; among the first three: {share(met, of)}")
    print(f"{folder}: all three among the first five: {share(three, of)}")
    missed = [f"{name}: {said(name, 3)}" for name in situations if name not in met]
    assert len(met) >= LEAST_KINDS[folder], "\n".join(missed)


@pytest.mark.parametrize("folder", FOLDERS)
def test_one_of_the_first_steps_is_one_of_the_first_checks(folder: str) -> None:
    """One of the first three steps is one of the two checks a mechanic would do first."""
    situations = SETS[folder]
    met = [name for name, told in situations.items() if set(steps(name)) & flat(told["checks"])]
    print(f"{folder}: one of the first three steps is one of the first two checks: {share(met, len(situations))}")
    missed = [f"{name}: {steps(name)}" for name in situations if name not in met]
    assert len(met) >= LEAST_STEPS[folder], "\n".join(missed)


@pytest.mark.parametrize("name", SITUATIONS)
def test_expected_kinds_exist(name: str) -> None:
    """Every fault and check that is expected is the name of one."""
    library, told = load(), SITUATIONS[name]
    assert flat([told["first"], *told["also"]]) <= set(library.faults)
    assert {check for check in flat(told["checks"]) if not check.startswith("swap_")} <= set(library.checks)
