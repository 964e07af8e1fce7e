"""One example of every computation that gives a standard error: arguments, and where an error goes that serves several.

``given`` are the arguments, standard errors among them where the defaults are zero or left open. ``shared`` names the
arguments an error belongs to where its own name does not: none of them for an error that stands for something no
argument carries (wear between two tests, makes of one size); that part stays as it is while the readings are thrown.
``still`` is the error handed in meanwhile: nearly none where none is refused.
"""

from dataclasses import dataclass, field
from typing import Any

from knowngood.measure.sensors_rail import Line
from knowngood.measure.thermistor import fit_curve
from knowngood.measure.wheel_fit import fitment_change

ENGINE = {"displacement_l": 2.0, "speed_rpm": 2000.0, "manifold_kpa": 60.0, "intake_c": 30.0}
CRANK = {"stroke_mm": 88.0, "rod_mm": 148.0}
COIL = {"battery_v": 12.0, "primary_ohm": 0.5, "inductance_mh": 3.5}
SPARK = {"gap_mm": 0.9, "pressure_kpa": 900.0, "temperature_c": 320.0, "pressure_se_kpa": 18.0}
TESTER = {"from_supply_kpa": 552.0, "from_orifice_mm": 1.5}
CURVE = fit_curve([(-20.0, 15971.0), (25.0, 2044.0), (100.0, 175.7)])
KNOWN = (25.0, 2044.0)
CHANGE = fitment_change(6.5, 50.0, 8.0, 35.0)
AMOUNTS = {1: 60.0, 2: 48.0, 3: 70.0, 4: 82.0}


@dataclass(frozen=True)
class Example:
    """The arguments of one computation."""

    given: dict[str, Any]
    shared: dict[str, tuple[str, ...]] = field(default_factory=dict)
    still: float = 0.0


def one(**given: Any) -> Example:
    """An example whose errors all carry the names of their arguments."""
    return Example(given)


EXAMPLES: dict[str, Example] = {
    "air_flow.absolute_load": one(air_flow_g_s=20.0, displacement_l=2.0, speed_rpm=2000.0, air_flow_se_g_s=0.6),
    "air_flow.expected_air_flow": one(**ENGINE),
    "air_flow.volumetric_efficiency": one(air_flow_g_s=20.0, **ENGINE, air_flow_se_g_s=0.6),
    "altitude.standard_pressure": one(altitude_m=1500.0, altitude_se_m=300.0),
    "battery.gravity_at_reference": one(gravity=1.230, temperature_c=5.0),
    "boiling.boiling_point": one(pressure_kpa=211.0, glycol_pct=50.0, pressure_se_kpa=7.0, glycol_se_pct=3.0),
    "boiling.glycol_molecules": one(kind="ethylene", glycol_pct=40.0),
    "boiling.glycol_vapour_pressure": one(kind="propylene", glycol_c=110.0),
    "boiling.water_boiling": one(pressure_kpa=90.0),
    "boiling.water_vapour_pressure": one(water_c=95.0),
    "charging.ripple_frequencies": one(engine_rpm=800.0),
    "coil.charging_current": one(**COIL, time_ms=2.0),
    "coil.energy_share": one(battery_v=9.0),
    "coil.stored_energy": one(current_a=7.0, inductance_mh=3.5),
    "coil.time_to_current": one(**COIL, current_a=7.0),
    "coil.winding_at_20c": one(ohms=0.9, temperature_c=70.0),
    "compression.compression_row": Example(
        {"pressures_kpa": [1200.0, 1100.0, None, 800.0]}, {"gauge_se_kpa": ("pressures_kpa",)}
    ),
    "compression.oil_volume_gain": one(dry_kpa=690.0, swept_ml=499.0, ratio=9.5, oil_se_ml=1.0, exponent_se=0.03),
    "compression.wet_gain": Example(
        {"dry_kpa": 690.0, "wet_kpa": 1030.0}, {"gauge_se_kpa": ("dry_kpa", "wet_kpa"), "repeat_se_kpa": ()}
    ),
    "compression_expected.dynamic_ratio": one(ratio=9.5, closing_deg=50.0, **CRANK),
    "compression_expected.gauge_at_altitude": one(pressure_kpa=1000.0, measured_m=1500.0, wanted_m=0.0),
    "compression_expected.ideal_gauge": one(ratio=8.4, exponent=1.25, exponent_se=0.03),
    "compression_expected.piston_travel": one(angle_deg=230.0, **CRANK),
    "compression_puffs.build_up": Example(
        {"puffs_kpa": [620.0, 900.0, 1080.0, 1200.0]}, {"gauge_se_kpa": ("puffs_kpa",)}
    ),
    "compression_puffs.running_compression": Example(
        {"cranking_kpa": 1200.0, "idle_kpa": 500.0, "snap_kpa": 960.0},
        {"gauge_se_kpa": ("cranking_kpa", "idle_kpa", "snap_kpa")},
    ),
    "cooling.boiling_margin": one(coolant_c=105.0, cap_kpa=110.0, glycol_pct=50.0, altitude_m=500.0),
    "cooling.thermostat_test": Example(
        {"stamp_c": 88.0, "opens_c": 84.0, "full_c": 96.0}, {"thermometer_se_c": ("opens_c",)}
    ),
    "crank_orders.cranking_ripple": one(cylinders=6, cranking_rpm=200.0),
    "crank_orders.order_frequency": one(order=0.5, speed_rpm=800.0),
    "crank_orders.roughness": Example(
        {"first_ms": 37.5, "next_ms": 39.5, "time_se_ms": 0.02}, {"time_se_ms": ("first_ms", "next_ms")}
    ),
    "crank_orders.speed_loss": Example(
        {"work_lost_j": 100.0, "inertia_kgm2": 0.2, "speed_rpm": 800.0, "work_se_j": 8.0, "inertia_se_kgm2": 0.01},
        {"work_se_j": ("work_lost_j",)},
    ),
    "crank_orders.speed_ripple": one(
        torque_nm=20.0, order=0.5, inertia_kgm2=0.2, speed_rpm=800.0, torque_se_nm=1.0, inertia_se_kgm2=0.01
    ),
    "divider.divider_resistance": one(signal_v=1.24, pull_up_ohm=1000.0, pull_up_se_ohm=10.0),
    "divider.divider_voltage": one(sensor_ohm=2500.0, pull_up_ohm=1000.0, sensor_se_ohm=50.0, pull_up_se_ohm=10.0),
    "draw.days_to_share": one(draw_ma=100.0, capacity_ah=60.0, draw_se_ma=3.0),
    "freezing.freezing_point": one(glycol_pct=45.0, glycol_se_pct=1.5),
    "fuel_blend.air_for_blend": one(ethanol_pct=20.0),
    "fuel_blend.ethanol_from_trim": one(trim_pct=30.0),
    "fuel_dilution.fuel_washed_into_oil": one(
        air_flow_g_s=4.0, cylinders=4, minutes=60.0, oil_l=4.5, air_flow_se_g_s=0.2
    ),
    "ignition_breakdown.even_field_kv": one(**SPARK),
    "ignition_breakdown.even_field_low_kv": one(**SPARK),
    "ignition_breakdown.linear_kv": one(gap_mm=0.9, pressure_kpa=110.0, pressure_se_kpa=2.0),
    "ignition_breakdown.paschen_kv": one(**SPARK),
    "injector.dead_time": Example(
        {"short_ms": 2.0, "short_ml": 20.0, "long_ms": 4.0, "long_ml": 55.0, "pulses": 5000},
        {"amount_se_ml": ("short_ml", "long_ml")},
    ),
    "injector.duty": one(pulse_ms=3.0, speed_rpm=800.0),
    "injector.flow_at_pressure": one(
        flow_ml_min=200.0, from_kpa=300.0, to_kpa=250.0, flow_se_ml_min=4.0, from_se_kpa=3.0, to_se_kpa=8.0
    ),
    "injector.pressure_across": Example(
        {"rail_gauge_kpa": 250.0, "manifold_kpa": 35.0}, {"rail_se_kpa": ("rail_gauge_kpa",)}
    ),
    "injector.rail_hold": Example(
        {"first_kpa": 300.0, "later_kpa": 250.0, "minutes": 10.0}, {"gauge_se_kpa": ("first_kpa", "later_kpa")}
    ),
    "injector_balance.drop_balance": Example({"drops_kpa": AMOUNTS}, {"drop_se_kpa": ("drops_kpa",)}, still=1e-9),
    "injector_balance.flow_balance": Example({"amounts_ml": AMOUNTS}, {"amount_se_ml": ("amounts_ml",)}, still=1e-9),
    "joint.drop_at_current": Example(
        {"drop_v": 0.06, "measured_a": 20.0, "wanted_a": 150.0, "current_se_a": 0.5}, {"current_se_a": ("measured_a",)}
    ),
    "joint.joint_resistance": one(drop_v=0.42, current_a=105.0, current_se_a=3.0),
    "joint.path_loss": Example(
        {"drops_v": [0.05, 0.40, 0.12], "current_a": 100.0, "current_se_a": 3.0}, {"drop_se_v": ("drops_v",)}
    ),
    "joint_limits.drop_verdict": one(drop_v=0.9, place="frame to ground post"),
    "lead.lead_per_metre": one(ohms=5100.0, length_mm=400.0, ohms_se=60.0),
    "lead.lead_row": Example({"ohms": [5100.0, 5900.0, None, 7200.0, 8300.0, 6600.0]}),
    "leakdown.check_tester": Example(
        {"set_kpa": 551.6, "shut_kpa": 545.0, "gauge_se_kpa": 1.0}, {"gauge_se_kpa": ("set_kpa", "shut_kpa")}
    ),
    "leakdown.leak_percent": one(supply_kpa=551.6, cylinder_kpa=414.0),
    "leakdown.leak_row": Example({"percents": [8.0, 15.0, 22.0, 41.0]}, {"percent_se": ("percents",)}),
    "meter.less_leads": one(ohms=0.9, leads_ohm=0.3),
    "oxygen.nernst_mv": one(oxygen_atm=0.01, temperature_c=650.0, oxygen_se_atm=0.001),
    "oxygen.oxygen_from_mv": Example({"millivolts": 57.0, "temperature_c": 600.0}, {"signal_se_mv": ("millivolts",)}),
    "plug_gap.gap_verdict": one(gap_mm=1.3, low_mm=0.9, high_mm=1.1),
    "plug_gap.gap_wear": Example(
        {"gap_mm": 1.2, "new_mm": 0.9, "distance_km": 40000.0, "high_mm": 1.5, "gap_se_mm": 0.01},
        {"gap_se_mm": ("gap_mm", "new_mm")},
    ),
    "road_speed.gear_fit": one(
        engine_rpm=3000.0, speed_kmh=96.0, gear_ratios=[0.9], final_ratio=4.0, circumference_mm=1927.0
    ),
    "road_speed.geared_speed": one(engine_rpm=3000.0, gear_ratio=0.9, final_ratio=4.0, circumference_mm=1927.0),
    "road_speed.speed_shown": one(shown_kmh=96.0, true_kmh=90.0),
    "road_speed.timed_speed": one(distance_m=1000.0, time_s=36.0),
    "sealing_flow.area_ratio": one(
        supply_kpa=653.0, between_kpa=500.0, air_kpa=101.3, supply_se_kpa=5.0, between_se_kpa=5.0, air_se_kpa=1.0
    ),
    "sealing_flow.flow_coefficient": one(before_kpa=300.0, behind_kpa=240.0, before_se_kpa=2.0, behind_se_kpa=2.0),
    "sealing_flow.hole_area": one(hole_mm=1.016),
    "sealing_flow.hole_flow": one(
        hole_mm=1.016,
        before_kpa=653.0,
        behind_kpa=500.0,
        discharge=0.8,
        before_se_kpa=5.0,
        behind_se_kpa=5.0,
        discharge_se=0.02,
    ),
    "sealing_flow.pressure_between": one(
        supply_kpa=653.0, air_kpa=101.3, ratio=1.1, supply_se_kpa=8.0, air_se_kpa=1.0, ratio_se=0.05
    ),
    "sealing_hole.convert_percent": one(percent=20.0, **TESTER, percent_se=1.0),
    "sealing_hole.leak_hole": one(supply_kpa=552.0, cylinder_kpa=414.0, orifice_mm=1.016),
    "sealing_hole.percent_of_hole": one(hole_mm=1.0, supply_kpa=552.0, orifice_mm=1.016, hole_se_mm=0.02),
    "sensors_coolant.coolant_verdict": one(ohms=700.0, temperature_c=40.0, ohms_se=15.0),
    "sensors_rail.line_value": one(line=Line(25.3, 0.0, 5.0), signal_v=1.84),
    "sensors_rail.rail_verdict": one(signal_v=1.84, supply_v=4.95),
    "sensors_wheel.rpm_of_teeth": one(tooth_hz=800.0, positions=60),
    "sensors_wheel.tooth_time": one(rpm=800.0, positions=60),
    "starter.battery_resistance": Example(
        {"rest_v": 12.6, "cranking_v": 10.2, "current_a": 200.0}, {"voltage_se_v": ("rest_v", "cranking_v")}
    ),
    "starter.starter_loss": one(drop_v=0.5, current_a=150.0),
    "thermistor.beta_resistance": one(beta_k=3640.0, known=KNOWN, temperature_c=60.0),
    "thermistor.beta_temperature": one(beta_k=3640.0, known=KNOWN, ohms=500.0, ohms_se=10.0),
    "thermistor.resistance_of": one(curve=CURVE, temperature_c=60.0),
    "thermistor.temperature_of": one(curve=CURVE, ohms=500.0, ohms_se=15.0),
    "trim.bank_split": one(bank_1_pct=19.0, bank_2_pct=2.0),
    "trim.meter_trim": Example({"reads_share": 0.9, "share_se": 0.03}, {"share_se": ("reads_share",)}),
    "trim.pressure_trim": one(pressure_kpa=250.0, wanted_kpa=300.0, pressure_se_kpa=8.0, wanted_se_kpa=4.0),
    "trim.total_trim": one(short_pct=12.0, long_pct=6.0),
    "tyre.overall_diameter": Example(
        {"width_mm": 205.0, "aspect_pct": 55.0, "rim_in": 16.0, "width_se_mm": 4.0, "aspect_se_pct": 1.0},
        {"make_share_se": ()},
    ),
    "tyre.turns_per_km": one(circumference_mm=1927.0),
    "unmetered_air.hole_from_leak": one(leak_g_s=0.6, manifold_kpa=75.0, leak_se_g_s=0.04, discharge_se=0.04),
    "unmetered_air.intake_leak_flow": one(hole_mm=2.0, manifold_kpa=75.0, hole_se_mm=0.05),
    "unmetered_air.leak_from_trim": one(trim_pct=15.0, metered_g_s=4.0, metered_se_g_s=0.1),
    "unmetered_air.leak_trim": one(leak_g_s=0.6, metered_g_s=4.0, leak_se_g_s=0.05, metered_se_g_s=0.1),
    "wheel_fit.backspacing": one(rim_width_in=8.0, offset_mm=45.0, rim_width_se_in=0.01),
    "wheel_fit.clearance_left": Example(
        {"outer_mm": 40.0, "inner_mm": 20.0, "change": CHANGE}, {"room_se_mm": ("outer_mm", "inner_mm")}
    ),
    "wheel_fit.effective_offset": one(offset_mm=45.0, spacer_mm=15.0),
    "wheel_fit.fitment_change": one(old_width_in=6.5, old_offset_mm=50.0, new_width_in=8.0, new_offset_mm=35.0),
    "wheel_fit.thread_engagement": one(engaged_mm=15.0, thread_mm=12.0, pitch_mm=1.5),
    "wire.at_20c": one(ohms=1.0, temperature_c=60.0, ohms_se=0.02),
    "wire.copper_factor": one(temperature_c=80.0),
}
