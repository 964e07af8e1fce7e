"""What was found off and put back is work: no more suspected, and proved like any other."""

from __future__ import annotations

import pytest

from knowngood.app.proof import proofs_of
from knowngood.app.state import State
from knowngood.evidence import Undone, Work
from tests.told import state_after

CAR = "4 cylinders inline, coil on plug, port injection"


def told(*lines: str) -> State:
    """After these lines."""
    return state_after(CAR, *lines)


def chance(state: State, fault: str) -> float:
    """Where it is likeliest."""
    chances = zip(state.belief.faults, state.belief.chances(), strict=True)
    return max(float(one) for at, one in chances if at.fault == fault)


@pytest.mark.parametrize("back", ["put the earth strap back on", "earth strap plugged back in"])
def test_strap_found_off_and_put_back_is_not_suspected(back: str) -> None:
    """And its proof compares what was read before it and after."""
    before, drop = "found: earth strap off at gearbox", "drop engine to body while cranking 0.7 V"
    off = told(drop, before)
    on = told(drop, before, back, "drop engine to body while cranking 0.05 V")
    assert chance(off, "engine_ground_poor") > 0.99
    assert chance(on, "engine_ground_poor") < 0.1
    assert [proof.work for proof in proofs_of(on)] == ["reseated engine ground strap"]


def test_what_was_only_left_so_is_no_work() -> None:
    """A coil unplugged for a test and plugged back in was never at fault."""
    state = told("coil 3 left unplugged", "coil 3 plugged back in")
    assert not any(isinstance(entry.body, Work) for entry in state.entries)
    assert any(isinstance(entry.body, Undone) for entry in state.entries)
    assert not state.undone


@pytest.mark.parametrize(
    "right",
    ["swapped leads 1 and 2 back, still shakes", "swapped leads 1 and 2", "put leads 1 and 2 right"],
)
def test_leads_found_crossed_and_changed_back_are_not_suspected(right: str) -> None:
    """They are not to be put right once more, also where the engine still shakes: it may have more than one fault."""
    car = "4 cylinders, coil pack with leads, port injection\nshakes at idle\nplug leads 1 and 2 crossed\n"

    def after(*lines: str) -> State:
        return state_after(car, *lines)

    assert chance(after(), "leads_crossed") > 0.99
    mended = after(right)
    assert chance(mended, "leads_crossed") < 0.5
    assert [(work.do, str(work.places[0])) for work in works(mended)] == [("reseated", "leads 1-2")]


def test_a_swap_of_other_leads_leaves_what_was_found() -> None:
    """3 with 4 is a test of its own."""
    car = "4 cylinders, coil pack with leads, port injection\nplug leads 1 and 2 crossed\nswapped leads 3 and 4"
    assert [work.do for work in works(state_after(car))] == ["swapped"]


def works(state: State) -> list[Work]:
    """All work that was told."""
    return [entry.body for entry in state.entries if isinstance(entry.body, Work)]
