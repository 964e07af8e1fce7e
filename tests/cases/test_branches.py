"""Cars whose fault sits on a fuse, relay, splice or ground: lines as typed, and what a mechanic would say first.

Common practice throughout: volts are read behind a branch under load, a drop across it; what is dead together hangs on
one thing, and the last good point and the first bad one name what lies between.
"""

from __future__ import annotations

import pytest

from knowngood.app.state import State
from knowngood.app.suspects import suspected
from tests.told import state_after

FOUR = "4 cylinders inline, coil on plug, port injection, about 2003"
EIGHT = "8 cylinders V, coil on plug, port injection, about 2003"


def after(*lines: str) -> State:
    """The car after lines as typed."""
    return state_after(*lines)


def first(state: State, count: int) -> list[str]:
    """The kinds of the first suspects, with the bank where there is one."""
    return [
        f"{kind} {place.name}".rstrip()
        for one in suspected(state)[:count]
        for kind in one.kinds
        for place in one.places[:1]
    ]


def chance(state: State, fault: str) -> float:
    """Chance that a fault is there at one place at least."""
    return max(p for at, p in zip(state.belief.faults, state.belief.chances(), strict=True) if at.fault == fault)


def test_volts_before_and_none_behind_name_what_lies_between() -> None:
    """12.3 V behind the main relay and none behind the pump fuse: the pump's relay or its fuse, not the main relay."""
    state = after(FOUR, "cranks, no start", "volts at the main relay 12.3 v", "volts at the pump fuse 0 v")
    assert set(first(state, 2)) <= {"pump_relay_dead", "pump_fuse_blown", "pump_relay_hot"}
    assert chance(state, "main_relay_dead") < 0.02


def test_volts_behind_the_relay_too_leave_the_fuse() -> None:
    """And 12.2 V behind the pump relay: the fuse."""
    state = after(FOUR, "cranks, no start", "volts at the pump relay 12.2 v", "volts at the pump fuse 0 v")
    assert first(state, 1) == ["pump_fuse_blown"]


def test_coils_and_injectors_dead_together_hang_on_one_thing() -> None:
    """No feed at coils and none at injectors: the main relay or the main fuse before two broken splices."""
    state = after(FOUR, "cranks, no start", "coil feed voltage none", "injector feed voltage none")
    assert chance(state, "main_relay_dead") > 5 * chance(state, "coil_feed_lost")


def test_drop_over_a_relay_is_its_own_contact() -> None:
    """0.9 V lost in the main relay under load: its contact, not what comes before it."""
    state = after(FOUR, "hard to start", "drop over the main relay 0.9 v")
    assert first(state, 1) == ["contact_poor_main_relay"]
    assert chance(state, "contact_poor_main_fuse") < 0.02


def test_ground_of_one_head_explains_its_dead_bank() -> None:
    """Four cylinders of one bank miss and its ground drops 0.6 V: that ground, not four coils."""
    state = after(EIGHT, "P0302", "P0304", "P0306", "P0308", "drop at the head ground bank 2 0.6 v")
    assert first(state, 1) == ["coil_ground_bank_lost 2"]
    assert chance(state, "coil_ground_bank_lost") > 2 * chance(state, "coil_feed_bank_lost") > 0.0


def test_one_bank_dead_asks_for_what_the_bank_shares() -> None:
    """Misfire codes of a whole bank raise what its coils share; those of two cylinders of different banks do not."""
    bank = after(EIGHT, "P0302", "P0304", "P0306", "P0308")
    mixed = after(EIGHT, "P0301", "P0302")
    for fault in ("coil_ground_bank_lost", "coil_feed_bank_lost"):
        assert chance(bank, fault) > 10 * chance(mixed, fault)


@pytest.mark.parametrize("line", ["volts at the pump fuse 12.3 v", "drop over the pump relay 0.05 v"])
def test_good_at_a_branch_clears_it(line: str) -> None:
    """A good reading under load lowers what lies on the way to it."""
    before, then = after(FOUR, "cranks, no start"), after(FOUR, "cranks, no start", line)
    assert chance(then, "pump_relay_dead") < 0.2 * chance(before, "pump_relay_dead")
