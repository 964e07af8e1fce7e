"""Invented cars behave as an experienced mechanic would expect; what was expected was written before asking."""

from __future__ import annotations

import tomllib
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from knowngood.app.answer import Answer
from knowngood.app.weigh import weigh_notes
from knowngood.library.load import load
from knowngood.lines import read_notes

FOLDER = Path(__file__).parent / "invented"
CARS = {path.stem: tomllib.loads(path.read_text(encoding="utf-8")) for path in sorted(FOLDER.glob("*.toml"))}

LEAST_NEXT = 15
"""Cars on which a step that a mechanic would take comes first. The order of steps moves with every change of the
planner, so they are counted, not pinned one by one; the count may only grow."""


@cache
def answer_to(car: str) -> Answer:
    """What the program says of one car."""
    return weigh_notes(CARS[car]["notes"], load())


def expected() -> list[Any]:
    """Every group of faults, by car; one that is not met yet must stay unmet until its reason is taken away."""
    params = []
    for car, told in CARS.items():
        for number, group in enumerate(told["expect"], start=1):
            reason = group.get("unmet", "")
            marks = [pytest.mark.xfail(strict=True, reason=reason)] if reason else []
            params.append(pytest.param(car, group, id=f"{car}-{number}", marks=marks))
    return params


@pytest.mark.parametrize("car", CARS)
def test_every_line_is_read(car: str) -> None:
    """Nothing told of the car is kept as a note only."""
    assert [line.text for line in answer_to(car).not_understood] == []


@pytest.mark.parametrize(("car", "group"), expected())
def test_suspects_are_those_of_a_mechanic(car: str, group: dict[str, Any]) -> None:
    """One of the expected faults stands among the first suspects, at the expected place."""
    leading = answer_to(car).suspects[: group["top"]]
    found = [(kind.fault, suspect.places[0].place) for suspect in leading for kind in suspect.kinds]
    assert any(fault in group["any_of"] and group.get("place", place) == place for fault, place in found), found


def test_next_steps_are_those_of_a_mechanic() -> None:
    """On at least as many cars as before one of the expected steps is among the first; the others are named."""
    unmet = {
        f"{car}: {[step.what for step in answer_to(car).next[: group['top']]]}"
        for car, told in CARS.items()
        for group in told["next"]
        if not any(step.what in group["any_of"] for step in answer_to(car).next[: group["top"]])
    }
    assert len(CARS) - len(unmet) >= LEAST_NEXT, "\n".join(sorted(unmet))


@pytest.mark.parametrize("car", CARS)
def test_first_step_buys_nothing_in_vain(car: str) -> None:
    """The first step does not replace what nobody would replace first."""
    first = answer_to(car).next[0]
    assert not (first.do == "replace" and first.what in CARS[car]["not_first"]), first.name


LAYOUTS = (
    {("inline", n) for n in (1, 2, 3, 4, 5, 6)} | {("V", n) for n in (6, 8, 10, 12)} | {("flat", n) for n in (4, 6)}
)
SYSTEMS = {
    "ignition": {"distributor", "pair coil", "coil and lead", "coil on plug"},
    "injection": {"single point", "port", "direct"},
    "air_meter": {"flow meter", "manifold pressure"},
    "turbo": {True},
}


def test_every_layout_and_system_is_among_the_cars() -> None:
    """No kind of engine is judged by others only."""
    cars = [read_notes(told["notes"], load()).car for told in CARS.values()]
    assert LAYOUTS - {(car.form or "inline", car.cylinders) for car in cars} == set()
    assert {name: kinds - {getattr(car, name) for car in cars} for name, kinds in SYSTEMS.items()} == {
        name: set() for name in SYSTEMS
    }


@pytest.mark.parametrize("car", CARS)
def test_expected_kinds_exist(car: str) -> None:
    """Every fault, check and part that is expected is the name of one."""
    library = load()
    told = CARS[car]
    faults = {name for group in told["expect"] for name in group["any_of"]}
    checks = {name for group in told["next"] for name in group["any_of"] if not name.startswith("swap_")}
    assert faults <= set(library.faults), faults - set(library.faults)
    assert checks <= set(library.checks), checks - set(library.checks)
    assert set(told["not_first"]) <= set(library.parts)
