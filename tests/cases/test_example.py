"""The example car goes from intake to a proven repair as a mechanic would expect."""

from __future__ import annotations

from pathlib import Path

import pytest

from knowngood.app.bench import may_of
from knowngood.app.example import BEFORE_WORK, NICKNAME, example_lines, tell_example
from knowngood.app.todo import todo_of
from knowngood.app.workshop import Workshop
from knowngood.library.load import load


def chance(workshop: Workshop, code: str, fault: str, place: str = "engine") -> float:
    """Chance of one fault at one place now."""
    state = workshop.state(code)
    return next(
        float(value)
        for at, value in zip(state.belief.faults, state.belief.chances(), strict=True)
        if at.fault == fault and str(at.place) == place
    )


def test_every_line_of_the_example_is_understood(tmp_path: Path) -> None:
    """Nothing of it is kept as a note only."""
    _, said = tell_example(tmp_path, load(), until="")
    assert [line.text for line in said if not line.counts] == []


def test_three_faults_are_suspected_before_the_work(tmp_path: Path) -> None:
    """A dead cylinder 2 by its coil or injector circuit, a leak behind the meter, and the engine ground."""
    code, _ = tell_example(tmp_path, load(), BEFORE_WORK)
    with Workshop(tmp_path, load()) as workshop:
        answer = workshop.answer(code)
        leading = [suspect.fault for suspect in answer.suspects]
        assert "engine_ground_poor" in leading[:3]
        assert any("vacuum_hose" in fault for fault in leading[:6])
        at_two = [s.fault for s in answer.suspects[:6] if s.places[0].place == "cylinder 2"]
        assert any(fault.startswith(("coil", "injector")) for fault in at_two)
        assert answer.next, "there is a next step"
        assert (answer.next[0].do, answer.next[0].what) == ("reseat", "engine_ground"), "0.9 V lost over it, 5 min"
        assert answer.next[0].why


def test_work_and_proof_clear_what_was_wrong(tmp_path: Path) -> None:
    """After the three repairs and clean readings none of the three is suspected; things are still left to do."""
    code, _ = tell_example(tmp_path, load(), until="")
    with Workshop(tmp_path, load()) as workshop:
        assert chance(workshop, code, "engine_ground_poor") < 0.05
        assert chance(workshop, code, "coil_plug_not_on", "cylinder 2") < 0.1
        assert chance(workshop, code, "vacuum_hose_chewed") < 0.05
        state = workshop.state(code)
        assert len(todo_of(state)) >= 2
        assert not may_of(state, "road").is_open, "the road needs its looks, whatever runs well"


def test_example_is_told_once(tmp_path: Path) -> None:
    """A second telling finds the car that is there."""
    library = load()
    first, said = tell_example(tmp_path, library)
    second, again = tell_example(tmp_path, library)
    assert (first, again) == (second, [])
    assert len(said) == len(example_lines(BEFORE_WORK))
    with Workshop(tmp_path, library) as workshop:
        assert [job.nickname for job in workshop.jobs()] == [NICKNAME]


@pytest.mark.parametrize("word", ["road", "start"])
def test_gate_names_what_to_look_at(tmp_path: Path, word: str) -> None:
    """Before the looks are made the answer is no, with the looks named, stop items first."""
    code, _ = tell_example(tmp_path, load(), BEFORE_WORK)
    with Workshop(tmp_path, load()) as workshop:
        gate = may_of(workshop.state(code), word)
        assert gate.missing
        stops = [look.stop for look in gate.missing]
        assert stops == sorted(stops, reverse=True)
