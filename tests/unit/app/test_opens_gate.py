"""What was found and shuts a gate before the engine runs comes first; so does the look for fuel that is smelt."""

from __future__ import annotations

import pytest

from knowngood.app.answer import NextStep
from knowngood.app.next_steps import advised, next_steps
from knowngood.app.possible import CRANKED, POWERED, RUNNING, must_not_run, without_power
from knowngood.app.weigh import weigh_notes
from knowngood.library.load import load
from tests.told import state_after

CAR = "4 cylinders inline, coil on plug, port injection, flow meter"
NEST, EMPTY, FLAT = "mouse nest under the intake", "coolant empty in the bottle", "battery cranking 3.2 V"
SMELT = "smells of petrol"


def steps(*lines: str) -> list[NextStep]:
    """What is to be done next."""
    state = state_after(CAR, *lines)
    return next_steps(state, advised(state))


@pytest.mark.parametrize(
    ("lines", "first", "gate"),
    [
        (("stood 5 years", NEST, FLAT, EMPTY), ("clear", "nest"), "connect the battery"),
        (("P0302", "shakes at idle", NEST), ("clear", "nest"), "connect the battery"),
        (("P0302", "shakes at idle", EMPTY), ("refill", "coolant"), "start the engine"),
    ],
)
def test_what_shuts_the_earliest_gate_is_put_right_first(
    lines: tuple[str, ...], first: tuple[str, str], gate: str
) -> None:
    """A nest comes before battery, coolant and every check; coolant before a misfire is looked for."""
    step = steps(*lines)[0]
    assert step.name.startswith(first[0])
    assert first[1] in step.name
    assert step.why == f"It was found not as it should be; until it is put right do not {gate}."


def test_a_tyre_shuts_only_the_road() -> None:
    """Worn tyres that were found do not come before a misfire."""
    assert "tyre" not in steps("P0302", "shakes at idle", "tyres bald, seen")[0].name.lower()


def test_nothing_that_needs_the_battery_is_advised_on_a_flat_one() -> None:
    """On 3.2 V no lamp lights: checks with the key on, cranked or running wait for a battery."""
    state = state_after(CAR, "stood 5 years", FLAT)
    assert without_power(state) == frozenset(POWERED)
    checks = load().checks
    offered = [step.what for step in next_steps(state, advised(state)) if step.what in checks]
    assert not [name for name in offered if checks[name].engine in POWERED]


@pytest.mark.parametrize(
    "lines", [(), (FLAT, "new battery"), (FLAT, "lt b1 +12 hot idle"), ("battery at rest 12.6 V",)]
)
def test_a_battery_that_is_good_or_was_jumped_keeps_nothing_back(lines: tuple[str, ...]) -> None:
    """A new battery, and a reading of the running engine since, say that there is power."""
    assert without_power(state_after(CAR, "stood 5 years", *lines)) == frozenset()


def test_fuel_that_is_smelt_is_looked_for_before_anything_cranks_or_runs() -> None:
    """No injector is unplugged at idle on an engine that smells of fuel: first a lamp along the lines."""
    for lines in (("shakes at idle", SMELT), ("hard to start hot", SMELT, "fuel pressure 2.1 bar", "P0172 stored")):
        first = steps(*lines)[0]
        assert load().checks[first.what].reads[0] in ("fuel_leak_look", "fuel_tight_look")
        assert weigh_notes("\n".join((CAR, *lines)), load()).alike == []
    assert must_not_run(state_after(CAR, "shakes at idle", SMELT)) == frozenset((*CRANKED, *RUNNING))


@pytest.mark.parametrize("looked", ["fuel lines dry", "fuel tight: good", "replaced fuel hose"])
def test_fuel_that_was_looked_for_keeps_nothing_back(looked: str) -> None:
    """Dry, or mended, since it was smelt."""
    assert must_not_run(state_after(CAR, "shakes at idle", SMELT, looked)) == frozenset()


@pytest.mark.parametrize("said", ["smells of petrol at the tailpipe", "petrol smell from the exhaust"])
def test_a_smell_at_the_tail_pipe_is_a_rich_engine(said: str) -> None:
    """It keeps nothing back: what does not burn comes out there."""
    assert must_not_run(state_after(CAR, "shakes at idle", said)) == frozenset()


def test_fuel_found_wet_shuts_cranking_too() -> None:
    """Cranking makes pressure and sparks."""
    assert must_not_run(state_after(CAR, "fuel leaks at the rail")) == frozenset((*CRANKED, *RUNNING))
