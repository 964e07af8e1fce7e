"""What was told otherwise settles the looks of gates, and keeps the engine off until a second witness has spoken."""

from __future__ import annotations

import pytest

from knowngood.app.bench import may_of
from knowngood.app.next_steps import advised
from knowngood.app.possible import RUNNING, must_not_run
from knowngood.app.state import State
from knowngood.library.load import load
from knowngood.planner.steps import PROVE
from tests.told import state_after

CAR = "4 cylinders inline, coil on plug, port injection"
OIL = "oil_pressure_look"


def state(*lines: str) -> State:
    """After these lines."""
    return state_after(CAR, *lines)


def bad_at_start(*lines: str) -> list[str]:
    """The looks that shut the gate of the start after these lines."""
    return [look.kind for look in may_of(state(*lines), "start").closing]


@pytest.mark.parametrize(
    ("lines", "bad"),
    [
        (("oil lamp flickers at hot idle",), [OIL]),
        (("oil lamp stays on",), [OIL]),
        (("oil pressure 0.4 bar at hot idle",), [OIL]),
        (("oil pressure 2 bar at hot idle",), []),
        (("oil lamp stays on", "oil pressure 2 bar at hot idle"), []),
        (("oil pressure look: good", "oil lamp flickers at hot idle"), [OIL]),
        (("oil lamp flickers at hot idle", "oil pressure look: good"), []),
        (("oil lamp flickers at hot idle", "replaced oil pressure switch"), []),
        (("oil lamp flickers at hot idle", "replaced spark plugs"), [OIL]),
        (("fuel leaks at the rail",), ["fuel_tight_look", "fuel_smell_look"]),
        (("oil level: not on the stick",), ["oil_there_look"]),
        (("shakes",), []),
    ],
)
def test_what_was_told_settles_a_look(lines: tuple[str, ...], bad: list[str]) -> None:
    """The lamp shuts the start and the gauge opens it again; so does work on what may be behind the lamp."""
    assert bad_at_start(*lines) == bad
    assert must_not_run(state(*lines)) >= (frozenset(RUNNING) if bad else frozenset())


@pytest.mark.parametrize(
    ("lines", "bad"),
    [
        (("smell look: good", "smells of petrol at the back"), ["fuel_smell_look"]),
        (("smells of petrol", "smell look: good"), []),
        (("smells of petrol", "replaced fuel hose"), []),
        (("smells rich",), []),
        (("exhaust smells of fuel",), []),
    ],
)
def test_smell_of_petrol_shuts_until_it_is_looked_at_again(lines: tuple[str, ...], bad: list[str]) -> None:
    """However good the look was before; what comes out of the tail pipe is a mixture and no leak."""
    assert bad_at_start(*lines) == bad


def test_engine_is_not_run_to_find_out_why_the_oil_lamp_flickers() -> None:
    """No idle, no listening and no drive is advised; the gauge while it is cranked is (common practice)."""
    told = advised(state("oil lamp flickers at hot idle"))
    assert told is not None
    ids = [step.action.id for step in told.advice.steps]
    checks = load().checks
    assert "oil_pressure_cranked" in ids
    assert PROVE not in ids
    assert not [name for name in ids if name in checks and checks[name].engine in RUNNING]
