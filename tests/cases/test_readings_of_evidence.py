"""Invented cars: what a line must raise and what it must leave alone, as a mechanic reads it (common practice)."""

from __future__ import annotations

import pytest

from knowngood.app.state import State, state_of
from knowngood.app.suspects import suspected
from knowngood.app.weigh import entries_of, is_understood
from knowngood.library.load import load
from knowngood.lines import read_notes

FOUR = "4 cylinders inline, coil on plug, port injection, naturally aspirated, about 2003"
SIX = "6 cylinders V, coil on plug, port injection, naturally aspirated, about 2003"
OLD = "4 cylinders inline, port injection, naturally aspirated, about 1994"


def weighed(*lines: str) -> State:
    """The state after a notes file of these lines, every one of which must be read."""
    notes = read_notes("\n".join(lines), load())
    assert [line for _, line, read in notes.lines if not is_understood(read)] == []
    return state_of(load(), entries_of(notes.lines))


def behind(state: State) -> dict[str, float]:
    """How likely each kind is behind what was found."""
    return state.kinds_behind


def chance_at(state: State, fault: str, place: str) -> float:
    """The chance of one kind at one place; a part that was moved is where it sits now."""
    at = next(at for at in state.belief.faults if at.fault == fault and str(at.place) == place)
    return float(state.belief.chances()[state.belief.model.column[at]])


def leading(state: State, count: int = 1) -> list[tuple[str, str]]:
    """The first suspects, each with its likeliest place."""
    return [(one.kinds[0], str(one.places[0])) for one in suspected(state)[:count]]


STOPS = ("crank_sensor_hot", "crank_sensor_dead", "pump_relay_hot", "pump_relay_dead", "coil_feed_lost", "module_dead")


def test_dead_cylinder_accuses_nothing_that_stops_the_engine() -> None:
    """An engine that misses on 2 runs: what takes spark or fuel from all of it at once is not behind that."""
    shown = behind(weighed(FOUR, "c2 dead", "P0302"))
    assert not any(shown.get(fault, 0.0) > 0.005 for fault in STOPS)


def test_no_spark_anywhere_still_accuses_what_all_share() -> None:
    """Cranks without spark on any: the signal or the feed of all coils, and no single coil."""
    shown = behind(weighed(FOUR, "will not start, cranks well", "no spark"))
    shared = ("crank_sensor_dead", "crank_wire_damaged", "coil_feed_lost", "main_relay_dead", "ecu_fuse_blown")
    assert sum(shown.get(fault, 0.0) for fault in shared) > 0.6
    assert shown.get("coil_dead", 0.0) < 0.07  # four of them, 12 in 1,000 each, whatever the complaint


@pytest.mark.parametrize(("code", "place"), [("P0202", "cylinder 2"), ("P0353", "cylinder 3")])
def test_circuit_code_names_the_way_to_that_one(code: str, place: str) -> None:
    """A circuit code of one injector or coil: its plug, wire, winding or driver, not a feed of all."""
    first = leading(weighed(FOUR, code), 3)
    kind = "injector" if code == "P0202" else "coil"
    assert {(fault.split("_")[0], where) for fault, where in first} == {(kind, place)}


def test_swap_is_read_by_where_it_missed_before() -> None:
    """Typed from the good cylinder to the bad one, the code that is still there says the part is not it."""
    before = weighed(FOUR, "P0303")
    stayed = weighed(FOUR, "P0303", "coil 1>3, now P0303")
    moved = weighed(FOUR, "P0303", "coil 3>1, now P0301")
    assert chance_at(stayed, "coil_dead", "cylinder 1") < chance_at(before, "coil_dead", "cylinder 3") / 4.0
    assert leading(moved) == [("coil_dead", "cylinder 1")]


def test_swap_that_moved_the_miss_either_way_round() -> None:
    """ "Coil 1>3, miss moved" after P0303: it is on 1 now, with the coil that was on 3."""
    assert leading(weighed(FOUR, "P0303", "coil 1>3, miss moved")) == [("coil_dead", "cylinder 1")]


def test_no_change_speaks_of_the_code_where_nothing_else_was_said() -> None:
    """A new cam sensor and the same code: its wire is left, far ahead of a second bad sensor."""
    shown = behind(weighed(FOUR, "P0340", "new cam sensor, no change"))
    assert shown["cam_wire_damaged"] > 0.6
    assert shown.get("cam_sensor_dead", 0.0) < 0.2


def test_nest_that_is_found_speaks_for_chewed_wires() -> None:
    """A nest in the engine bay of a car that shakes: wires of injectors and coils before worn parts."""
    with_nest, without = behind(weighed(SIX, "shakes", "nest found")), behind(weighed(SIX, "shakes"))
    for fault in ("injector_wire_broken", "coil_wire_broken"):
        assert with_nest[fault] > 3.0 * without.get(fault, 0.0)


def test_earlier_work_raises_what_it_disturbs_and_later_work_does_not() -> None:
    """Work on the intake before the shake may have left an injector plug off; work since cannot have caused it."""
    before = behind(weighed(FOUR, "throttle cleaned", "shakes"))
    after = behind(weighed(FOUR, "shakes", "throttle cleaned"))
    assert before["injector_connector_off"] > 3.0 * after.get("injector_connector_off", 0.0)


def test_fan_that_never_runs_does_not_clear_the_thermostat() -> None:
    """No hot coolant reaches the switch behind a shut thermostat: it stays among the first."""
    hot = behind(weighed(OLD, "needle in the red"))
    fan = behind(weighed(OLD, "needle in the red", "fan does not run"))
    assert fan["thermostat_shut"] > 1.5 * hot["thermostat_shut"]


def test_reference_that_swings_is_no_lost_feed() -> None:
    """A reference that goes from 0 to 5.8 V is pulled or shorted; a computer without feed shows a steady nothing."""
    state = weighed(FOUR, "will not start, cranks well", "5 V reference 0-5.8")
    assert {fault for fault, _ in leading(state, 2)} == {"reference_pulled_by_sensor", "reference_wire_shorted"}


def test_what_died_on_the_way_may_keep_it_from_starting() -> None:
    """It ran until it died; that is no word against what keeps it from starting since."""
    shown = behind(weighed(FOUR, "died while driving", "will not start, cranks well"))
    assert shown.get("main_relay_dead", 0.0) + shown.get("ecu_fuse_blown", 0.0) > 0.05
    assert shown.get("crank_sensor_dead", 0.0) > shown.get("crank_sensor_hot", 0.0)


def test_main_cable_is_suspected_with_the_clamps_after_battery_work() -> None:
    """Everything dark after a new battery: clamp and cable before the rest."""
    state = weighed(FOUR, "last done: battery replaced", "everything goes dark")
    assert {"clamps_poor", "battery_cable_poor"} <= {fault for fault, _ in leading(state, 3)}


def test_puff_at_the_joint_names_the_gasket_at_that_cylinder() -> None:
    """A hot puff at the joint beside 3: the gasket blows outward there."""
    assert leading(weighed(FOUR, "exhaust blows", "c3 hot puff", "P0303")) == [("gasket_outside", "cylinder 3")]


def test_spark_before_the_cap_leaves_what_comes_after_the_coil() -> None:
    """Distributor, fuel there, spark at the coil, no start, and nobody says that it was dry: cap and coil lead."""
    old = "4 cylinders inline, distributor with leads, port injection, naturally aspirated, about 1993"
    state = weighed(old, "will not start, cranks well", "fuel pressure good", "spark at the coil good")
    assert leading(state) == [("cap_damp", "engine")]
    assert behind(state).get("main_coil_dead", 0.0) < 0.02
    assert behind(state).get("module_dead", 0.0) < 0.02


def test_ground_that_was_tightened_is_no_suspect_any_more() -> None:
    """Found loose and tightened, and nothing changed: it was there, and is not what is looked for."""
    state = weighed(FOUR, "c2 dead", "engine ground loose", "engine ground tightened, no change")
    assert behind(state).get("engine_ground_poor", 0.0) < 0.4
    assert leading(state)[0][0] != "engine_ground_poor"
