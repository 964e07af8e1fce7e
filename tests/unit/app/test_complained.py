"""What cannot be behind a complaint is listed after what can, however certain it is."""

from __future__ import annotations

from knowngood.app.complained import behind_complaints
from knowngood.app.state import State
from knowngood.app.suspects import suspected
from tests.told import state_after

CAR = "4 cylinders inline, coil on plug, port injection, flow meter"
FOUND = "brake pipes rusted\n"


def state(*lines: str) -> State:
    """Of a car and some lines."""
    return state_after(CAR, *lines)


def leading(of: State) -> str:
    """The first kind of the first suspect."""
    return suspected(of)[0].kinds[0]


def test_a_found_brake_pipe_is_no_answer_to_a_misfire() -> None:
    """It is certain, so it leads while nothing is complained of, and stands behind once a misfire is told."""
    assert leading(state(FOUND)) == "brake_pipes_rusted"
    told = state(FOUND, "P0302, shakes")
    assert "brake_pipes_rusted" not in behind_complaints(told)
    assert leading(told) in behind_complaints(told)
    assert next(one for one in suspected(told) if "brake_pipes_rusted" in one.kinds).behind > 0.97


def test_codes_and_complaints_count_and_denials_do_not() -> None:
    """A code of a run is that of its cylinder's; "no" and "no codes" complain of nothing."""
    assert "coil_dead" in behind_complaints(state("P0303"))
    assert "coil_dead" in behind_complaints(state("shakes"))
    assert behind_complaints(state("no codes, does not shake")) == frozenset()
    assert behind_complaints(state("compression 170 168 172 60")) == frozenset()
