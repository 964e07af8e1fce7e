"""Circuit codes alone: the way to that part, whatever the number of cylinders (common practice; SAE J2012 names them).

A circuit code is set by the driver of one output or the input of one sensor: plug, wire, winding or sensor, driver.
Neither a feed that all share nor a loom hurt somewhere stands before those.
"""

from __future__ import annotations

import pytest

from knowngood.app.suspects import Suspected, suspected
from tests.told import state_after

HEAD = "coil on plug, port injection, naturally aspirated, flow meter, cam phaser, about 2003"
CARS = {4: f"4 cylinders inline, {HEAD}", 6: f"6 cylinders V, {HEAD}", 8: f"8 cylinders V, {HEAD}"}
OF_ALL = ("feed_lost", "fuse_blown", "main_relay", "reference_", "module_")

PARTS = {
    "P0010": {"phaser_valve_stuck"},
    "P0100": {"air_meter_dead", "air_meter_wire_broken"},
    "P0102": {"air_meter_reads_low", "air_meter_wire_broken"},
    "P0113": {"air_temp_off"},
    "P0115": {"coolant_sensor_open", "coolant_wire_broken"},
    "P0117": {"coolant_sensor_reads_hot"},
    "P0118": {"coolant_sensor_open", "coolant_wire_broken"},
    "P0122": {"throttle_sensor_dead", "throttle_wire_broken"},
    "P0130": {"oxygen_heater_dead", "oxygen_wire_broken"},
    "P0135": {"oxygen_heater_dead", "oxygen_wire_broken"},
    "P0141": {"rear_oxygen_dead"},
    "P0230": {"pump_plug_burnt", "pump_relay_dead", "pump_fuse_blown"},
    "P0325": {"other_sensor_wire_broken", "knock_sensor_dead"},
    "P0335": {"crank_sensor_dead", "crank_sensor_hot", "crank_wire_damaged"},
    "P0340": {"cam_sensor_dead", "cam_wire_damaged"},
    "P0443": {"purge_valve_open", "other_sensor_wire_broken"},
    "P0450": {"other_sensor_wire_broken"},
    "P0460": {"other_sensor_wire_broken"},
    "P0480": {"fan_motor_dead", "fan_relay_dead"},
    "P0500": {"speed_sensor_dead"},
    "P0523": {"oil_switch_false"},
    "P0627": {"pump_plug_burnt", "pump_relay_dead", "pump_fuse_blown"},
    "P0704": {"pedal_switch", "selector_switch"},
    "P0705": {"selector_switch"},
}


def after(car: str, line: str) -> list[Suspected]:
    """The suspects of a car of which one line is known."""
    return suspected(state_after(f"{car}\n{line}"))


@pytest.mark.parametrize(("kind", "first_code"), [("injector", 200), ("coil", 350)])
@pytest.mark.parametrize(
    ("cylinders", "which"), [(n, which) for n in (4, 6, 8) for which in (1, n // 2, n)], ids=lambda part: str(part)
)
def test_one_output_names_plug_wire_winding_and_driver_there(
    kind: str, first_code: int, cylinders: int, which: int
) -> None:
    """The first three are the plug, the wire and the part of that cylinder; its driver is among the first six."""
    found = after(CARS[cylinders], f"P0{first_code + which}")
    there = [one.kinds[0] for one in found if str(one.places[0]) == f"cylinder {which}"]
    assert [one.kinds[0] for one in found[:3]] == there[:3]
    assert {fault.split("_")[1] for fault in there[:3]} <= {"connector", "plug", "wire", "open", "short", "dead"}
    assert {fault.split("_")[0] for fault in there[:3]} == {kind}
    assert any(f"{kind}_driver_dead" in one.kinds for one in found[:6])


@pytest.mark.parametrize("cylinders", [4, 6, 8])
@pytest.mark.parametrize("code", sorted(PARTS))
def test_other_circuits_name_their_own_part_or_wire_first(code: str, cylinders: int) -> None:
    """Every part named here is among the first four; the first is one of them, and nothing that all share."""
    found = after(CARS[cylinders], code)
    assert found[0].kinds[0] in PARTS[code]
    assert PARTS[code] <= {fault for one in found[:4] for fault in one.kinds}
    assert not found[0].kinds[0].startswith(OF_ALL)
