"""No number that is none gets through: every argument of every computation is tried with nan and infinity."""

import inspect
import math
from collections.abc import Callable, Iterator
from typing import Any

import pytest

from knowngood.errors import KnownGoodError
from knowngood.measure import (
    air_flow,
    altitude,
    before_after,
    boiling,
    bracket,
    cooling,
    counting,
    crank_orders,
    freezing,
    fuel_blend,
    fuel_dilution,
    injector,
    misfire,
    misfire_change,
    oil,
    proof,
    road_speed,
    tightening,
    trim,
    trim_pattern,
    tyre,
    unmetered_air,
    wheel_fit,
)

SOUND: list[tuple[Callable[..., Any], tuple[Any, ...], dict[str, float]]] = [
    (air_flow.expected_air_flow, (2.0, 800.0, 35.0, 40.0), {}),
    (air_flow.volumetric_efficiency, (4.0, 2.0, 800.0, 35.0, 40.0), {}),
    (air_flow.meter_check, (4.0, 2.0, 800.0, 35.0, 40.0), {}),
    (air_flow.absolute_load, (4.0, 2.0, 800.0), {}),
    (altitude.standard_pressure, (500.0,), {}),
    (before_after.session_change, ([1.0, 2.0, 4.0], [5.0, 6.0, 8.0]), {}),
    (before_after.session_change, ([1.0], [5.0]), {"between_sd": 1.4}),
    (before_after.chance_to_see, (4.0, 1.4, 3), {}),
    (before_after.sessions_needed, (4.0, 1.4), {}),
    (boiling.water_vapour_pressure, (90.0,), {}),
    (boiling.water_boiling, (101.3,), {}),
    (boiling.glycol_vapour_pressure, ("ethylene", 90.0), {}),
    (boiling.glycol_molecules, ("ethylene", 50.0), {}),
    (boiling.boiling_point, (101.3, 50.0), {}),
    (bracket.two_sided_tail, (0.95,), {}),
    (cooling.boiling_margin, (100.0, 110.0, 50.0, 500.0), {}),
    (cooling.thermostat_test, (88.0, 88.0, 97.0), {}),
    (cooling.coolant_standing, (90.0, 20.0), {}),
    (counting.none_seen, (30,), {}),
    (counting.none_seen_events, (0.95,), {}),
    (counting.count_limits, (3,), {}),
    (counting.share_limits, (3, 10), {}),
    (counting.rate_ratio, (3, 10.0, 1, 10.0), {}),
    (counting.same_rate, (3, 10.0, 1, 10.0), {}),
    (crank_orders.order_frequency, (0.5, 800.0), {}),
    (crank_orders.speed_ripple, (20.0, 0.5, 0.2, 800.0), {}),
    (crank_orders.speed_loss, (100.0, 0.2, 800.0), {}),
    (crank_orders.roughness, (37.5, 38.3), {}),
    (crank_orders.cranking_ripple, (4, 200.0), {}),
    (freezing.freezing_point, (40.0,), {}),
    (fuel_blend.air_for_formula, (8.0, 18.0, 0.0), {}),
    (fuel_blend.air_for_blend, (10.0,), {}),
    (fuel_blend.blend_trim, (10.0,), {}),
    (fuel_blend.ethanol_from_trim, (20.0,), {}),
    (fuel_dilution.fuel_washed_into_oil, (4.0, 4, 60.0, 4.5), {}),
    (injector.pressure_across, (300.0, 35.0), {}),
    (injector.flow_at_pressure, (200.0, 300.0, 250.0), {}),
    (injector.duty, (3.0, 800.0), {}),
    (injector.dead_time, (4.0, 10.0, 10.0, 30.0, 1000), {}),
    (injector.rail_hold, (300.0, 250.0, 5.0), {"allowed_loss_kpa": 30.0}),
    (misfire.firings, (200.0, 4), {}),
    (misfire.misfire_rate, (3, 200.0, 4), {}),
    (misfire_change.clean_revolutions_needed, (6, 1000.0), {}),
    (misfire_change.blocks_needed, (0.2,), {}),
    (misfire_change.misfire_change, ([1, 0, 2], [0, 0, 0]), {}),
    (oil.oil_standing, (100.0,), {}),
    (proof.chance_left, (0.3, 0.2, 5), {}),
    (proof.clean_drives_needed, (0.3, 0.2, 0.02), {}),
    (proof.clean_drives_from_history, (0.3, 2, 10, 0.02), {}),
    (proof.clean_run_needed, (0.3, 6, 100.0, 0.02), {}),
    (road_speed.highest_lawful_shown, (80.0,), {}),
    (road_speed.speed_shown, (80.0, 78.0), {}),
    (road_speed.timed_speed, (1000.0, 36.0), {}),
    (road_speed.geared_speed, (3000.0, 0.9, 4.0, 1927.0), {}),
    (road_speed.gear_fit, (3000.0, 96.0, [1.3, 0.9], 4.0, 1927.0), {}),
    (tightening.torque_for_force, (12.0, 40.0), {}),
    (tightening.force_of_torque, (12.0, 96.0), {}),
    (trim.total_trim, (5.0, 5.0), {}),
    (trim.trim_standing, (5.0, 2.0), {}),
    (trim.bank_split, (5.0, 6.0), {}),
    (trim.meter_trim, (0.9,), {}),
    (trim.pressure_trim, (250.0, 300.0), {}),
    (trim_pattern.trim_pattern, ([3.0, 12.0], [18.0, 4.0], "air_flow"), {"rated_flow_g_s": 100.0}),
    (tyre.overall_diameter, (205.0, 55.0, 16.0), {}),
    (tyre.rolling_circumference, (632.0,), {}),
    (tyre.turns_per_km, (1927.0,), {}),
    (unmetered_air.intake_leak_flow, (2.0, 35.0), {}),
    (unmetered_air.leak_trim, (0.6, 3.0), {}),
    (unmetered_air.leak_from_trim, (20.0, 3.0), {}),
    (unmetered_air.hole_from_leak, (0.6, 35.0), {}),
    (wheel_fit.backspacing, (8.0, 45.0), {}),
    (wheel_fit.effective_offset, (45.0, 10.0), {}),
    (wheel_fit.fitment_change, (6.5, 50.0, 8.0, 35.0), {}),
    (wheel_fit.thread_engagement, (12.0, 12.0, 1.5), {}),
]


def places() -> Iterator[Any]:
    """Each computation with one number at a time spoiled, rows at their last place, defaults included."""
    for function, arguments, named in SOUND:
        bound = inspect.signature(function).bind(*arguments, **named)
        bound.apply_defaults()
        for name, value in bound.arguments.items():
            if isinstance(value, list) or (isinstance(value, int | float) and not isinstance(value, bool)):
                label = f"{function.__module__.rsplit('.', 1)[1]}.{function.__name__}-{name}"
                yield pytest.param(function, dict(bound.arguments), name, id=label)


@pytest.mark.parametrize(("function", "arguments", "name"), list(places()))
@pytest.mark.parametrize("dirt", [math.nan, math.inf, -math.inf])
def test_dirt_is_refused(function: Callable[..., Any], arguments: dict[str, Any], name: str, dirt: float) -> None:
    """A number that is none is named and refused, never carried on."""
    function(**arguments)
    value = arguments[name]
    spoiled = {**arguments, name: [*value[:-1], dirt] if isinstance(value, list) else dirt}
    with pytest.raises(KnownGoodError):
        function(**spoiled)
