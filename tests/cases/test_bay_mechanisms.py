"""What mechanics hold true of mechanisms: each compares two cars that differ in one line (common practice)."""

from __future__ import annotations

from functools import cache

import pytest

from knowngood.library.fitted_values import CAR_VALUES
from knowngood.library.load import load
from knowngood.lines import read_notes
from tests.told import state_after

FOUR = "petrol, 4 cylinders inline, coil on plug, port injection, flow meter, 140000 km"


@cache
def chances(*lines: str) -> dict[str, float]:
    """Chance of each fault, at whichever of its places it is highest."""
    belief = state_after(*lines).belief
    result: dict[str, float] = {}
    for at, chance in zip(belief.faults, belief.chances(), strict=True):
        result[at.fault] = max(float(chance), result.get(at.fault, 0.0))
    return result


@pytest.mark.parametrize(
    ("fault", "before", "line"),
    [
        ("fuel_filter_blocked", (FOUR,), "pings under load"),
        ("thermostat_shut", (FOUR,), "pings under load"),
        ("leads_crossed", ("petrol, 4 cylinders inline, distributor, port injection",), "spits back"),
        ("intake_valve_leaks", (FOUR,), "spits back"),
        ("plugs_drowned", (FOUR,), "cranks, no start"),
        ("egr_open", (FOUR,), "vacuum 45 kPa"),
        ("plug_well_water", (FOUR, "misfires"), "done last: engine wash"),
        ("exhaust_blocked", (FOUR,), "will not rev past 3000"),
        ("tank_hose_split", (FOUR, "cranks, no start"), "fuel pressure 0.4 bar"),
        ("coolant_sensor_reads_cold", (FOUR,), "black smoke"),
        ("thermostat_open", (FOUR,), "uses much fuel"),
        ("head_cracked_in", (FOUR, "loses coolant", "white smoke"), "cooling pressure holds"),
        ("timing_one_tooth", (FOUR, "done last: timing belt"), "no power"),
        ("purge_valve_open", (FOUR,), "lt -14 idle, -2 2500"),
        ("purge_valve_open", (FOUR,), "lt +12 idle, +3 2500"),
        ("purge_valve_open", (FOUR,), "smells of fuel"),
    ],
)
def test_line_makes_it_likelier(fault: str, before: tuple[str, ...], line: str) -> None:
    """With the line the fault is likelier by a fifth at least than without."""
    assert chances(*before, line)[fault] > 1.2 * chances(*before)[fault]


@pytest.mark.parametrize(
    ("fault", "before", "line"),
    [
        ("thermostat_open", (FOUR,), "lt -20 idle, -18 2500"),
        ("pump_check_valve", (FOUR,), "hard to start cold"),
        ("throttle_sensor_worn", (FOUR, "hesitates"), "compression 175 173 176 174 psi"),
    ],
)
def test_line_leaves_it_as_it_was(fault: str, before: tuple[str, ...], line: str) -> None:
    """The line does not bear on the fault: it makes it likelier by a tenth at most."""
    assert chances(*before, line)[fault] <= 1.1 * chances(*before)[fault]


def test_valve_timing_lowers_all_alike() -> None:
    """A row that is low and alike does not speak against a tooth off; one cylinder low among good ones does."""
    belt = (FOUR, "done last: timing belt", "no power")
    alike = chances(*belt, "compression 125 123 126 124 psi")["timing_one_tooth"]
    one_low = chances(*belt, "compression 175 173 90 174 psi")["timing_one_tooth"]
    assert alike > 0.9 * chances(*belt)["timing_one_tooth"]
    assert one_low < 0.9 * alike


def test_equipment_follows_the_year() -> None:
    """No immobiliser, throttle motor or second oxygen sensor is suspected of a car of 1990 as it is of one of 2008."""
    old, new = (chances(f"petrol, 4 cylinders inline, port injection, about {year}") for year in (1990, 2008))
    for fault in ("key_not_known", "rear_oxygen_dead", "throttle_not_learned"):
        assert old[fault] < 0.3 * new[fault], fault
    assert new["regulator_diaphragm"] < 0.3 * old["regulator_diaphragm"]
    pickup, coils = (
        chances(f"petrol, 4 cylinders inline, {how}")["crank_sensor_dead"] for how in ("distributor", "pair coil")
    )
    assert pickup < 0.6 * coils


def test_every_system_a_record_asks_for_can_be_told() -> None:
    """What `needs` may name is heard in a line of the car, with "with a" before it, or by itself."""
    for system in CAR_VALUES["systems"]:
        told = [read_notes(f"petrol, 4 cylinders inline, {how}{system}", load()).car for how in ("with a ", "")]
        assert any(system in car.systems for car in told), system
