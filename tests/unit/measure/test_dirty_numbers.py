"""No number that is none gets through: every argument of every computation is tried with nan and infinity."""

import inspect
import math
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from knowngood.errors import KnownGoodError
from knowngood.measure.compression_puffs import BuildUp
from knowngood.measure.tyre import TyreSize
from tests.unit.measure.computations import computations, is_se
from tests.unit.measure.examples import EXAMPLES

ENGINE = {"displacement_l": 2.0, "speed_rpm": 800.0, "manifold_kpa": 35.0, "intake_c": 40.0}
HISTORY = {"chance_before": 0.3, "times_shown": 2, "wanted": 0.02}
COUNTS = {"before": 3, "before_exposure": 10.0, "after": 1, "after_exposure": 10.0}

WITHOUT_ERRORS: dict[str, dict[str, Any]] = {
    "air_flow.meter_check": {"air_flow_g_s": 4.0, **ENGINE},
    "battery.charge_by_gravity": {"gravity": 1.19},
    "battery.charge_by_voltage": {"rest_v": 12.24, "rest_h": 24.0},
    "before_after.chance_to_see": {"change": 4.0, "between_sd": 1.4, "sessions": 3},
    "before_after.session_change": {"before": [1.0], "after": [5.0], "between_sd": 1.4},
    "before_after.sessions_needed": {"change": 4.0, "between_sd": 1.4},
    "brake_dust.dust_methods": {"brake_pairs_a_week": 1, "clutches_a_week": 0},
    "charging.charging_verdict": {"charging_v": 12.4, "temperature_c": 20.0},
    "charging.charging_window": {"temperature_c": 20.0},
    "charging.ripple_word": {"ripple_v": 0.9},
    "coil.secondary_kv": {"primary_v": 400.0},
    "coil.winding_word": {"ohms": 0.35, "low_ohm": 0.5, "high_ohm": 0.7},
    "compression_expected.expected_gauge": {"ratio": 9.5, "closing_deg": 50.0, "stroke_mm": 88.0, "rod_mm": 148.0},
    "compression_puffs.puff_pattern": {
        "grown": BuildUp(0.3, 0.02, 560.0, 28.0, True), "last_kpa": 800.0, "usual_kpa": 1200.0, "wet_kpa": 1050.0,
    },
    "compression_puffs.snap_pattern": {"snap_shares": [0.80, 0.82, 0.79, 0.55], "place": 3},
    "cooling.coolant_standing": {"coolant_c": 90.0, "minutes_running": 20.0},
    "counting.count_limits": {"count": 3},
    "counting.none_seen": {"tries": 30},
    "counting.none_seen_events": {"confidence": 0.95},
    "counting.rate_ratio": COUNTS,
    "counting.same_rate": COUNTS,
    "counting.share_limits": {"count": 3, "tries": 10},
    "crank_orders.order_of_firing": {"cylinders": 6},
    "crank_orders.phase_step_deg": {"cylinders": 6},
    "crank_orders.torque_orders": {"cylinders": 4, "dead": [1]},
    "draw.draw_verdict": {"draw_ma": 240.0, "waited_min": 45.0},
    "fuel_blend.air_for_formula": {"carbon": 8.0, "hydrogen": 18.0},
    "fuel_blend.blend_trim": {"ethanol_pct": 10.0},
    "ignition_breakdown.breakdown_kv": {"gap_mm": 0.8, "pressure_kpa": 1000.0},
    "lead.lead_kind": {"ohm_per_metre": 12750.0},
    "lead.plug_resistor": {"ohms": 4800.0},
    "leakdown.check_setting": {"set_kpa": 552.0, "held_at_top": True},
    "leakdown.leak_word": {"percent": 28.0},
    "leakdown.standard_orifice": {"bore_mm": 84.0},
    "meter.meter_limit": {"reading": 120.0, "percent": 1.0, "digits": 3, "resolution": 0.1},
    "meter.meter_se": {"reading": 120.0, "percent": 1.0, "digits": 3, "resolution": 0.1},
    "misfire.clustering": {"counts": [0, 0, 9, 8, 0]},
    "misfire.cylinder_shares": {"misfires": {1: 2, 2: 96}},
    "misfire.dead_cylinder_pct": {"cylinders": 6},
    "misfire.firings": {"revolutions": 200.0, "cylinders": 4},
    "misfire.misfire_rate": {"misfires": 3, "revolutions": 200.0, "cylinders": 4},
    "misfire_change.blocks_needed": {"share_before": 0.2},
    "misfire_change.clean_revolutions_needed": {"misfires": 6, "revolutions": 1000.0},
    "misfire_change.misfire_change": {"before": [1, 0, 2], "after": [0, 0, 0]},
    "misfire_rules.window_standing": {"misfires": 31, "revolutions": 200.0, "cylinders": 4, "window": "catalyst"},
    "oil.oil_standing": {"oil_c": 100.0},
    "oxygen.narrow_band_word": {"signal_v": 0.82},
    "plug_gap.odd_gaps": {"gaps_mm": [1.1, 1.1, 0.5, 1.1]},
    "proof.chance_left": {"chance_before": 0.3, "shows_in_one": 0.2, "clean_drives": 5},
    "proof.clean_drives_from_history": {**HISTORY, "drives": 10},
    "proof.clean_drives_needed": {"chance_before": 0.3, "shows_in_one": 0.2, "wanted": 0.02},
    "proof.clean_run_needed": {**HISTORY, "over_km": 100.0},
    "road_speed.highest_lawful_shown": {"true_kmh": 80.0},
    "sealing_air.standard_air": {"altitude_m": 1500.0},
    "sealing_flow.critical_ratio": {"gamma": 1.4},
    "sealing_path.parts_heard": {"openings": ["exhaust"], "percent": 40.0},
    "sensors_coolant.coolant_range": {"temperature_c": 20.0},
    "sensors_open_short.open_or_short": {"plugged_v": 4.98, "supply_v": 5.0, "unplugged_v": 4.99, "bridged_v": 0.01},
    "sensors_rail.line_through": {"first": (0.79, 20.0), "second": (4.0, 101.32)},
    "sensors_wheel.wheel": {"positions": 60, "missing": 2},
    "starter.check_cranking": {"cranked_s": 10.0, "rested_s": 60.0},
    "thermistor.beta_of": {"first": (25.0, 2044.0), "second": (100.0, 175.7)},
    "thermistor.fit_curve": {"points": [(-20.0, 15971.0), (25.0, 2044.0), (100.0, 175.7)]},
    "tightening.force_of_torque": {"thread_mm": 12.0, "torque_nm": 96.0},
    "tightening.torque_for_force": {"thread_mm": 12.0, "force_kn": 40.0},
    "trim.trim_standing": {"total_pct": 5.0, "se_pct": 2.0},
    "trim_pattern.trim_pattern": {
        "air_flow_g_s": [3.0, 12.0], "trim_pct": [18.0, 4.0], "meter": "air_flow", "rated_flow_g_s": 100.0,
    },
    "tyre.rolling_circumference": {"diameter_mm": 632.0},
    "tyre.size_change": {"old": TyreSize(185.0, 70.0, 14.0, "radial"), "new": TyreSize(195.0, 50.0, 15.0, "radial")},
    "wire.awg_area": {"gauge": 14.0},
    "wire.current_for_drop": {"drop_v": 0.5, "area_mm2": 2.5, "length_m": 4.0},
    "wire.largest_resistance": {"area_mm2": 2.5, "length_m": 4.0},
    "wire.wire_resistance": {"area_mm2": 2.5, "length_m": 4.0},
}  # fmt: skip
"""One example of every computation with a number that the table of errors carried does not hold."""

NO_NUMBER = {
    "charging.unsmoothed_ripple", "ignition_breakdown.paschen_minimum", "sensors_coolant.coolant_curve",
    "trim_pattern.meanings", "trouble_code.bytes_from_code", "trouble_code.code_build", "tyre.read_size",
}  # fmt: skip
BYTES = {
    "obd_scaling.fuel_status", "obd_scaling.misfire_monitor_cylinder", "obd_scaling.scaled_values",
    "trouble_code.code_from_bytes",
}  # fmt: skip
"""Bytes are whole by their nature; what they may be is tried in their own tests."""
NO_CONTINUITY = {
    ("coil.winding_word", "ohms"), ("lead.lead_row", "ohms"), ("lead.plug_resistor", "ohms"),
    ("sensors_coolant.coolant_verdict", "ohms"),
}  # fmt: skip
"""Where infinity is what an ohmmeter shows on an open line."""
SOUND = {name: example.given for name, example in EXAMPLES.items()} | WITHOUT_ERRORS


def test_every_computation_is_tried() -> None:
    """A computation that takes a number and is tried nowhere fails here."""
    assert set(SOUND) | NO_NUMBER | BYTES == set(computations())


def bound(name: str) -> dict[str, Any]:
    """All arguments of an example, defaults included."""
    arguments = inspect.signature(computations()[name]).bind(**SOUND[name])
    arguments.apply_defaults()
    return dict(arguments.arguments)


def is_number(value: Any) -> bool:
    """Whether an argument is one number."""
    return isinstance(value, int | float) and not isinstance(value, bool)


def spoiled(value: Any, dirt: float) -> Any:
    """The argument with its last number spoiled; None where it holds none."""
    if is_number(value):
        return dirt
    if isinstance(value, dict) and value:
        return {**value, list(value)[-1]: dirt}
    if isinstance(value, list | tuple) and value:
        last = spoiled(value[-1], dirt)
        return None if last is None else type(value)((*value[:-1], last))
    return None


def places() -> Iterator[Any]:
    """Each computation with one argument at a time that holds a number."""
    for name in SOUND:
        for key, value in bound(name).items():
            if spoiled(value, 0.0) is not None:
                yield pytest.param(name, key, id=f"{name}-{key}")


@pytest.mark.parametrize("name", SOUND)
def test_example_is_sound(name: str) -> None:
    """What is spoiled below works as it stands."""
    computations()[name](**bound(name))


@pytest.mark.parametrize(("name", "key"), list(places()))
@pytest.mark.parametrize("dirt", [math.nan, math.inf, -math.inf])
def test_dirt_is_refused(name: str, key: str, dirt: float) -> None:
    """A number that is none is named and refused, never carried on."""
    if dirt == math.inf and (name, key) in NO_CONTINUITY:
        return
    arguments = bound(name)
    with pytest.raises(KnownGoodError):
        computations()[name](**{**arguments, key: spoiled(arguments[key], dirt)})


def errors_taken() -> Iterator[Any]:
    """Each computation with one standard error at a time."""
    for name in SOUND:
        yield from (pytest.param(name, key, id=f"{name}-{key}") for key in bound(name) if is_se(key))


@pytest.mark.parametrize(("name", "key"), list(errors_taken()))
@pytest.mark.parametrize("error", [1e3, 1e6, 1e9])
def test_an_error_of_any_size_is_carried_or_refused(name: str, key: str, error: float) -> None:
    """A reading moved by its error may leave the formula's world (a root of less than nothing): refused, no crash."""
    function: Callable[..., object] = computations()[name]
    try:
        function(**{**bound(name), key: error})
    except KnownGoodError as refused:
        assert str(refused).strip()
