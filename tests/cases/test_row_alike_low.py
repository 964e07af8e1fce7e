"""All cylinders alike and low: before a belt is touched the row is taken again (common practice)."""

from __future__ import annotations

import pytest

from knowngood.app.state import State
from knowngood.app.todo import todo_of
from knowngood.app.urgency import urgency_of
from knowngood.library.load import load
from knowngood.planner.remains import COMFORT
from tests.told import state_after

LIBRARY = load()
CAR = "4 cylinders inline, coil on plug, port injection"


def told(notes: str) -> State:
    """The state after some notes."""
    return state_after(CAR, notes)


def chance(state: State, fault: str) -> float:
    """That it is there."""
    return next(
        float(one) for at, one in zip(state.belief.faults, state.belief.chances(), strict=True) if at.fault == fault
    )


@pytest.mark.parametrize("row", ["100 102 99 101", "110 112 109 111"])
def test_row_alone_does_not_accuse_the_belt(row: str) -> None:
    """A slow starter, a shut throttle and a gauge that reads low are far commoner than a tooth (from memory)."""
    alone = told(f"comp {row} psi\n")
    assert chance(alone, "timing_one_tooth") < 0.3
    assert chance(alone, "compression_taken_low") > 0.6


def test_row_that_was_taken_well_does() -> None:
    """The look at how it was taken parts the two."""
    well = told("comp 110 112 109 111 psi\nhow compression was taken: so\n")
    assert chance(well, "timing_one_tooth") > 2 * chance(told("comp 110 112 109 111 psi\n"), "timing_one_tooth")


def test_belt_just_done_and_no_power_accuse_it_first() -> None:
    """With what else a tooth does it leads."""
    belt = told("done last: timing belt\nno power\ncomp 110 112 109 111 psi\n")
    assert chance(belt, "timing_one_tooth") > 0.7


def test_how_a_row_was_taken_does_not_get_worse_by_driving() -> None:
    """It is nothing of the car, so nothing of what is left waits for it."""
    assert urgency_of(LIBRARY, LIBRARY.faults["compression_taken_low"])[0] == COMFORT
    assert urgency_of(LIBRARY, LIBRARY.faults["rings_worn"])[0] != COMFORT
    assert all("taken" not in one.what for one in todo_of(told("comp 172 170 171 175 psi\n")))
