"""One value met at two places: lines as typed, and which step of its way a mechanic would then look at.

Common practice throughout: where two readings of one truth agree, what is before both is right or wrong together; where
they disagree, it is what lies between them.
"""

from __future__ import annotations

from knowngood.app.state import State
from tests.told import state_after

CAR = "4 cylinders inline, coil on plug, port injection, about 2003"


def after(*lines: str) -> State:
    """The car after lines as typed, each of which counts."""
    state = state_after(CAR, *lines)
    assert state.belief.entries_in() or not lines
    return state


def chance(state: State, *faults: str) -> float:
    """Chance of the likeliest of some faults."""
    return max(p for at, p in zip(state.belief.faults, state.belief.chances(), strict=True) if at.fault in faults)


def test_needle_in_the_red_and_a_cool_housing_accuse_the_needles_own_way() -> None:
    """92 degrees at the housing while it idles: the needle's own sensor rises, what overheats at idle falls.

    What overheats on the move only stays, and rises with it.
    """
    alone = after("needle in the red")
    both = after("needle in the red", "thermostat housing 92 C")
    assert chance(both, "gauge_sensor_lies") > 3 * chance(alone, "gauge_sensor_lies")
    assert chance(both, "gauge_sensor_lies") > chance(both, "fan_motor_dead", "fan_relay_dead", "cooling_air_locked")
    assert chance(both, "fan_motor_dead") < 0.5 * chance(alone, "fan_motor_dead")


def test_needle_and_housing_that_agree_clear_the_needle() -> None:
    """Needle in the red and 118 degrees at the housing: it is hot."""
    both = after("needle in the red", "thermostat housing 118 C")
    assert chance(both, "gauge_sensor_lies", "gauge_dead") < 0.05


def test_computer_far_off_and_a_warm_housing_accuse_sensor_or_wire() -> None:
    """The computer shows 20, the housing has 90: the coolant sensor, its plug or wire, and no thermostat."""
    state = after("coolant temp 20 C hot idle", "thermostat housing 90 C")
    assert chance(state, "coolant_sensor_reads_cold", "coolant_wire_broken", "coolant_sensor_open") > 0.15
    assert chance(state, "thermostat_open") < 0.1


def test_sensor_that_is_right_at_its_pins_leaves_the_wire() -> None:
    """Lost at the computer's plug, in its table at the sensor: the wire between."""
    state = after("throttle sensor at its pins smooth", "throttle sweep nothing")
    assert chance(state, "throttle_wire_broken") > 4 * chance(state, "throttle_sensor_dead")
    before = after("throttle sweep nothing")
    assert chance(state, "throttle_wire_broken") > chance(before, "throttle_wire_broken")


def test_speed_on_the_reader_and_a_dead_needle_accuse_the_instrument() -> None:
    """The computer has the road speed: the sensor is right."""
    state = after("speedo dead", "speed reading follows")
    assert chance(state, "speedometer_dead") > 5 * chance(state, "speed_sensor_dead")


def test_oil_lamp_and_a_gauge_of_ones_own_accuse_the_switch() -> None:
    """The lamp stays on with 2 bar on a gauge: the switch."""
    state = after("oil lamp stays on", "oil pressure 2 bar hot idle")
    assert chance(state, "oil_switch_false") > 0.5
    assert chance(state, "oil_pump_worn") < 0.05


def test_volts_at_the_battery_and_fewer_at_the_computer_accuse_its_feed() -> None:
    """14.2 V at the posts, 11.2 V in the computer: what lies between, not the alternator."""
    between = ("ecu_feed_poor", "ecu_ground_poor", "fuse_box_wet", "contact_poor_main_relay", "ecu_plug_wet")
    state = after("charging voltage 14.2 v", "module voltage 11.2 v")
    assert chance(state, *between) > 0.1
    lower = after("charging voltage 12.3 v", "module voltage 12.1 v")
    assert chance(lower, *between) < 0.5 * chance(state, *between)


def test_tank_dipped_and_the_needle_accuse_the_sender() -> None:
    """Fuel seen in the tank, the needle at its end: the sender or the instrument, and the tank is not empty."""
    state = after("fuel gauge empty", "tank level fuel there")
    alone = after("fuel gauge empty")
    assert chance(state, "fuel_sender_stuck") > chance(alone, "fuel_sender_stuck")
    assert chance(state, "fuel_sender_stuck") > 10 * chance(state, "tank_empty")
    assert chance(state, "tank_empty") < 0.15 * chance(alone, "tank_empty")
