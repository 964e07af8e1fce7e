"""No check is offered that the engine cannot or must not run for, or that a code has answered."""

from __future__ import annotations

import pytest

from knowngood.app.next_steps import advised, next_steps
from knowngood.app.possible import CRANKED, RUNNING, impossible_now, must_not_run, only_says_it_turns, only_says_which
from knowngood.app.state import State
from knowngood.app.tasks import checks_of, repairs_of
from knowngood.library.load import load
from knowngood.planner.steps import PROVE
from tests.told import state_after

CAR = "4 cylinders inline, coil on plug, port injection"


def state(*lines: str) -> State:
    """After these lines."""
    return state_after(CAR, *lines)


@pytest.mark.parametrize(
    ("lines", "out"),
    [
        (("shakes",), ()),
        (("cranks, will not start",), RUNNING),
        (("no crank",), (*RUNNING, *CRANKED)),
        (("cranks, will not start", "new fuel pump, no change"), RUNNING),
        (("cranks, will not start", "new fuel pump"), ()),
        (("cranks, will not start", "lt b1 +12 hot idle"), ()),
        (("shakes", "cranks, will not start"), RUNNING),
        (("cranks, will not start", "new fuel pump", "no spark on any cylinder", "crank rpm 0"), RUNNING),
    ],
)
def test_what_the_engine_does_follows_what_was_said_last(lines: tuple[str, ...], out: tuple[str, ...]) -> None:
    """A start that failed shuts running checks until something was done about it, or was read on the running engine."""
    assert impossible_now(state(*lines)) == frozenset(out)


def test_no_running_check_is_offered_for_a_car_that_does_not_start() -> None:
    """Neither an idle nor a drive nor a swap that is judged by a miss."""
    checks = load().checks
    offered = checks_of(state("cranks, will not start"))
    assert offered
    assert not [one.id for one in offered if one.id in checks and checks[one.id].engine in RUNNING]
    assert not [one.id for one in offered if one.kind == "swap"]


def test_nothing_that_runs_the_engine_is_advised_while_it_overcharges() -> None:
    """16.2 V at the battery: no idle, no drive and no proof until charging is put right (common practice)."""
    over = state("charging 16.2 V")
    assert must_not_run(over) == frozenset(RUNNING)
    checks = load().checks
    told = advised(over)
    assert told is not None
    ids = [step.action.id for step in told.advice.steps]
    assert PROVE not in ids
    assert not [name for name in ids if name in checks and checks[name].engine in RUNNING]
    assert ids[0] in ("replaced alternator engine", "alternator_tested")
    assert (
        must_not_run(state("charging 14.2 V"))
        == must_not_run(state("charging 16.2 V", "new alternator"))
        == frozenset()
    )


def test_which_cylinder_is_not_asked_where_a_code_has_said_it() -> None:
    """Heat of the header pipes compares cylinders: after P0304 it says nothing new; after P0300 it does."""
    assert only_says_which(state("P0304")) == frozenset({"header_temperature"})
    assert only_says_which(state("P0300")) == only_says_which(state("P0304", "P0302")) == frozenset()
    assert only_says_which(state("P0304", "new coil cyl 4")) == frozenset()
    assert "header_row" not in [one.id for one in checks_of(state("P0304", "misfires"))]
    assert "header_row" in [one.id for one in checks_of(state("P0300", "misfires"))]


def test_where_a_low_cylinder_leaks_is_asked_before_anything_is_reseated() -> None:
    """60 psi against 170 in the others and a misfire code: where the gas goes is asked before a plug is reseated.

    Common practice: a wet test or a leak-down; a look at the plug, or a hand over the oil filler, may come before it.
    """
    low = state("P0304", "compression 170 168 172 60")
    first = next_steps(low, advised(low))[:4]
    assert {"leakdown_check", "compression_wet_check"} & {step.what for step in first}
    assert "reseat" not in [step.do for step in first]


def test_a_strap_is_cleaned_before_it_is_replaced() -> None:
    """0.9 V lost in the ground while cranking: cleaning and reseating are planned, and come before a new strap."""
    lost = state("cranks slowly", "0.9 V drop on the ground side while cranking")
    assert {one.do for one in repairs_of(lost, cheaper_too=True) if one.part == "engine_ground"} >= {
        "reseated",
        "replaced",
    }
    told = advised(lost)
    assert told is not None
    order = [one.do for one in told.advice.order if one.part == "engine_ground"]
    assert order[0] in ("reseated", "cleaned")
    assert not [step.action.id for step in told.advice.steps[:1] if step.action.id.startswith("replaced")]


def test_which_cylinder_is_not_asked_where_its_compression_has_said_it() -> None:
    """60 psi against 171: heat of the header pipes says nothing new; two low ones, or work since, leave it open."""
    row = "comp 170 172 60 171 psi"
    assert only_says_which(state("misfires", row)) == frozenset({"header_temperature"})
    assert only_says_which(state("misfires", "comp 170 60 60 171 psi")) == frozenset()
    assert only_says_which(state("misfires", row, "new head gasket")) == frozenset()
    assert only_says_which(state("misfires", "comp 170 172 165 171 psi")) == frozenset()


@pytest.mark.parametrize(
    ("lines", "asked"),
    [
        (("shakes at hot idle",), False),
        (("no crank",), True),
        (("stood 5 years", "shakes at hot idle"), True),
    ],
)
def test_a_running_engine_is_not_turned_by_hand_to_see_whether_it_turns(lines: tuple[str, ...], asked: bool) -> None:
    """One that stood for long, or does not crank, is."""
    looks = {"turn_by_hand", "hand_turn_look", "engine_moves_look"}
    assert only_says_it_turns(state(*lines)) == (frozenset() if asked else looks)
