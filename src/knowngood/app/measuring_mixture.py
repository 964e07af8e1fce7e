"""Topics of mixture and air: trims, unmetered air, air flow, blends, fuel in the oil."""

from __future__ import annotations

from knowngood.app.measuring_entry import MOST_CYLINDERS, Given
from knowngood.app.measuring_shown import judged, measured, plain, plus_minus, ranged, said
from knowngood.app.measuring_topic import Checked, Field, Outcome, Topic
from knowngood.measure.air_flow import absolute_load, expected_air_flow, meter_check, volumetric_efficiency
from knowngood.measure.fuel_blend import air_for_blend, blend_trim, ethanol_from_trim
from knowngood.measure.fuel_dilution import fuel_washed_into_oil
from knowngood.measure.trim import (
    BETWEEN_DRIVES_PCT,
    LONG_SE_PCT,
    SHORT_SE_PCT,
    bank_split,
    meter_trim,
    pressure_trim,
    total_trim,
    trim_standing,
)
from knowngood.measure.trim_pattern import meanings, trim_pattern
from knowngood.measure.unmetered_air import DISCHARGE, hole_from_leak, intake_leak_flow, leak_from_trim, leak_trim

CLOSED_LOOP = "trims read in open loop, cold, or just after they were cleared"
FUEL_CAUTION = "Petrol: no flame, no sparks, extinguisher at hand, air moving; the exhaust out of doors."


def _trim(given: Given) -> Outcome:
    short, long = given.value("short"), given.value("long")
    short_se, long_se = given.se("short", SHORT_SE_PCT), given.se("long", LONG_SE_PCT)
    total, se = total_trim(short, long, short_se_pct=short_se, long_se_pct=long_se)
    standing = trim_standing(total, se)
    outcome = Outcome(
        f"{1 + short / 100:g} x {1 + long / 100:g} - 1 = {total:+.1f} %",
        [
            measured("total", total, se, "%"),
            said("the computer", standing.action if standing.action != "neither" else "neither adds nor takes away"),
        ],
        checked=[Checked("total", total, se)],
    )
    near = 0.05 < standing.beyond_chance < 0.95
    good = None if near and standing.word != "usual" else standing.word == "usual"
    text = f"{plus_minus(total, se, '%')}: {standing.word}; usual within 8 %, beyond from 10 %"
    outcome.verdicts.append(judged(good, text, "common practice"))
    if given.has("short2") and given.has("long2"):
        other, other_se = total_trim(
            given.value("short2"),
            given.value("long2"),
            short_se_pct=given.se("short2", SHORT_SE_PCT),
            long_se_pct=given.se("long2", LONG_SE_PCT),
        )
        split = bank_split(total, other, bank_1_se_pct=se, bank_2_se_pct=other_se)
        outcome.results += [
            measured("total of bank 2", other, other_se, "%"),
            measured("bank 1 less bank 2", split.difference_pct, split.difference_se_pct, "%"),
            said("the error sits on", split.verdict if split.verdict != "usual" else "neither: both are usual"),
        ]
    return outcome


def _pattern(given: Given) -> Outcome:
    flows, trims = given.values("airflow"), given.values("trim")
    meter = given.word("meter").replace(" ", "_")
    rated = given.value_or_none("rated")
    found = trim_pattern(flows, trims, meter, trim_se_pct=given.se("trim", BETWEEN_DRIVES_PCT), rated_flow_g_s=rated)
    good = {"usual": True, "found": False}.get(found.verdict)
    outcome = Outcome(
        f"{len(flows)} readings from {found.flow_low_g_s:g} to {found.flow_high_g_s:g} g/s",
        [said("pattern", ", ".join(found.patterns) or found.verdict)],
        [judged(good, found.says.rstrip("."), "own analysis of drives of one healthy car")],
    )
    if "lean at low flow" in found.patterns and meter == "air_flow":
        outcome.results.append(measured("unmetered air", found.unmetered_g_s, found.unmetered_se_g_s, "g/s"))
    for pattern in found.patterns:
        outcome.results.append(said(f"{pattern} can be", "; ".join(meanings(pattern, meter))))
    if not found.delivery_exercised:
        outcome.check.append("Full flow was not reached: fuel delivery is not cleared by this.")
    return outcome


def _leak(given: Given) -> Outcome:
    trim, flow = given.value("trim"), given.value("airflow")
    leak, se = leak_from_trim(trim, flow, trim_se_pct=given.se("trim", BETWEEN_DRIVES_PCT))
    outcome = Outcome(
        f"{trim:g} % x {flow:g} g/s = {leak:.2f} g/s",
        [measured("unmetered air", leak, se, "g/s")],
        checked=[Checked("unmetered air", leak, se)],
    )
    if given.has("manifold"):
        hole, hole_se = hole_from_leak(leak, given.value("manifold"), leak_se_g_s=se)
        outcome.results.append(measured("a hole of", hole, hole_se, "mm"))
    at_speed, _ = leak_trim(leak, 8.0 * flow)
    outcome.results.append(said("the same leak at 8 times the flow", f"trim of {at_speed:.1f} %"))
    return outcome


def _intake(given: Given) -> Outcome:
    hole, manifold = given.value("hole"), given.value("manifold")
    flow, se = intake_leak_flow(
        hole, manifold, hole_se_mm=given.se("hole", 0.0), manifold_se_kpa=given.se("manifold", 1.0)
    )
    outcome = Outcome(
        f"{DISCHARGE:g} x π {hole:g}²/4 mm² x flow of air into {manifold:g} kPa",
        [measured("air through it", flow, se, "g/s")],
        checked=[Checked("air", flow, se)],
    )
    if given.has("airflow"):
        trim, trim_se = leak_trim(flow, given.value("airflow"), leak_se_g_s=se)
        outcome.results.append(measured("trim on an engine with an air meter", trim, trim_se, "%"))
    return outcome


def _airflow(given: Given) -> Outcome:
    flow, size, speed = given.value("airflow"), given.value("size"), given.value("speed")
    manifold, intake = given.value("manifold"), given.value("intake")
    expected, se = expected_air_flow(size, speed, manifold, intake)
    filling, filling_se = volumetric_efficiency(flow, size, speed, manifold, intake)
    load, load_se = absolute_load(flow, size, speed)
    check = meter_check(flow, size, speed, manifold, intake)
    good = None if check.verdict == "can be right" else False
    outcome = Outcome(
        f"{size:g} l x {speed:g} / 120 x {manifold:g} kPa / (0.28705 x ({intake:g} + 273.15)) x filling",
        [
            measured("expected with a filling of 0.85", expected, se, "g/s"),
            measured("filling, when the meter is right", filling, filling_se),
            measured("load against standard air", round(load, 1), load_se, "%"),
        ],
        [judged(good, f"{plain(flow, 'g/s')}: the meter {check.verdict}", "filling of 0.70 to 0.95, from memory")],
        [Checked("air flow", flow)],
    )
    if check.verdict != "can be right":
        trim, _ = meter_trim(check.ratio.value)
        outcome.results.append(measured("it would make a trim of", round(trim, 1), unit="%"))
    return outcome


def _blend(given: Given) -> Outcome:
    ethanol = given.value("ethanol")
    trim = blend_trim(ethanol)
    air, se = air_for_blend(ethanol)
    return Outcome(
        f"14.7 by mass of petrol, 9.0 of ethanol: {air:.2f} to 1",
        [measured("air to fuel", air, se, "to 1"), ranged("trim on an engine set for petrol", trim, "%")],
    )


def _ethanol(given: Given) -> Outcome:
    trim = given.value("trim")
    ethanol, se = ethanol_from_trim(trim, trim_se_pct=given.se("trim", BETWEEN_DRIVES_PCT))
    return Outcome(
        f"the share whose air to fuel is 14.7 / {1 + trim / 100:g}",
        [measured("ethanol by volume", ethanol, se, "%")],
        checked=[Checked("ethanol", ethanol, se)],
    )


def _washed(given: Given) -> Outcome:
    flow, cylinders = given.value("airflow"), given.count("cylinders", MOST_CYLINDERS)
    minutes, oil = given.value("time", "min"), given.value("oil")
    fuel = fuel_washed_into_oil(flow, cylinders, minutes, oil, dead_cylinders=given.count("dead"))
    good = {"leave it": True, "change the oil": False}.get(fuel.word)
    fed = f"{flow:g} g/s / 14.7 x {given.value('dead'):g} / {cylinders} x {minutes:g} min"
    return Outcome(
        f"{fed}: {fuel.fed_ml:.0f} ml fed, 1 to 10 % of it",
        [ranged("petrol in the oil", fuel.fuel_ml, "ml"), ranged("of the oil", fuel.share_pct, "%")],
        [judged(good, fuel.word, "limits of oil laboratories, 2.5 to 5 % by volume")],
    )


def _rail(given: Given) -> Outcome:
    found, wanted = given.value("pressure"), given.value("wanted")
    trim, se = pressure_trim(
        found, wanted, pressure_se_kpa=given.se("pressure", 3.0), wanted_se_kpa=given.se("wanted", 0.0)
    )
    return Outcome(
        f"√({given.text('wanted')} / {given.text('pressure')}) - 1",
        [measured("it makes a trim of", trim, se, "%")],
        checked=[Checked("pressure", found, given.se("pressure", 3.0))],
    )


_AIRFLOW = Field("airflow", "air_flow", "shown by the air meter")
_MANIFOLD = Field("manifold", "manifold_pressure")

TOPICS = (
    Topic(
        "trim", "short and long trim together, and the banks",
        (
            Field("short", "trim", "short trim"),
            Field("long", "trim", "long trim"),
            Field("short2", "trim", "short trim of bank 2", needed=False),
            Field("long2", "trim", "long trim of bank 2", needed=False),
        ),
        "total = (1 + short) (1 + long) - 1",
        _trim, (total_trim, trim_standing, bank_split), "+2% +14% --short2 1% --long2 3%", window="trim",
        slips=(CLOSED_LOOP, "sign turned round: plus is fuel added"),
    ),
    Topic(
        "pattern", "what trims at several air flows speak of",
        (
            Field("airflow", "air_flow", "of each reading, warm and steady", row=True),
            Field("trim", "trim", "total trim of each", row=True),
            Field("meter", "word", "what meters the air", words=("air flow", "manifold pressure")),
            Field("rated", "air_flow", "at full power of this engine", needed=False),
        ),
        "least squares: the same at every flow, falling with 1 / flow, or rising with flow",
        _pattern, (trim_pattern, meanings), "3 6 12 25 g/s / 20 10 5 2.4 % / air flow",
        slips=(CLOSED_LOOP, "flows too close together", "the wrong kind of meter"),
    ),
    Topic(
        "leak", "air that passes the meter by, from a trim",
        (Field("trim", "trim", "total trim"), _AIRFLOW, Field("manifold", "manifold_pressure", needed=False)),
        "leak = trim x air flow",
        _leak, (leak_from_trim, leak_trim, hole_from_leak), "20% 3g/s --manifold 35kPa", window="air_flow",
        source="continuity: the computer fuels the air it sees, the sensor sees the rest",
        slips=(CLOSED_LOOP, "an engine without an air meter: its trim stays near zero", "vacuum typed for pressure"),
        cautions=(FUEL_CAUTION,),
    ),
    Topic(
        "intake", "air through a hole into the manifold",
        (Field("hole", "gap", "diameter"), _MANIFOLD, Field("airflow", "air_flow", needed=False)),
        "flow = 0.8 x area x flow of an ideal nozzle, choked under 53 % of the air around",
        _intake, (intake_leak_flow, leak_trim), "2mm 35kPa --airflow 3g/s",
        slips=("vacuum typed for pressure",),
    ),
    Topic(
        "airflow", "whether an air meter can be right",
        (
            _AIRFLOW,
            Field("size", "volume", "displacement of the engine"),
            Field("speed", "engine_speed"),
            _MANIFOLD,
            Field("intake", "outside_temperature", "of the intake air"),
        ),
        "flow = size x speed / 2 x density of the manifold's air x filling",
        _airflow, (meter_check, expected_air_flow, volumetric_efficiency, absolute_load),
        "21g/s 2.0l 2000rpm 100kPa 25C", window="air_flow",
        slips=("vacuum typed for pressure", "readings of different moments", "exhaust gas recirculated"),
    ),
    Topic(
        "blend", "air to fuel and trim of petrol with ethanol",
        (Field("ethanol", "share", "ethanol by volume"),),
        "by mass: 14.7 for petrol, 9.0 for ethanol",
        _blend, (air_for_blend, blend_trim), "10%",
        slips=("a pump label is an upper limit in many places",),
        cautions=(FUEL_CAUTION,),
    ),
    Topic(
        "ethanol", "ethanol that would explain a trim that is the same at every flow",
        (Field("trim", "trim", "total trim"),),
        "14.7 / (1 + trim) = air to fuel of the blend",
        _ethanol, (ethanol_from_trim,), "30%", window="share",
        source="arithmetic from air to fuel of 14.7 and 9.0 (common practice)",
        slips=(CLOSED_LOOP,),
        cautions=(FUEL_CAUTION,),
    ),
    Topic(
        "washed", "petrol that dead cylinders washed into the oil",
        (
            Field("airflow", "air_flow", "mean while it ran like this: 4 g/s at idle"),
            Field("cylinders", "number", "of the engine"),
            Field("time", "work_time", "it ran so"),
            Field("oil", "volume", "in the sump"),
            Field("dead", "number", "cylinders that were fed and did not burn", needed=False, assumed="1"),
        ),
        "petrol fed to them = air flow / 14.7 x dead / cylinders x time; 1 to 10 % of it passes the rings",
        _washed, (fuel_washed_into_oil,), "4g/s 4 60min 4.5l",
        slips=("the computer had stopped feeding them",),
        cautions=("Oil thinned by petrol: do not load the engine. Its vapour burns.",),
    ),
    Topic(
        "rail", "trim that a wrong fuel pressure makes",
        (
            Field("pressure", "fuel_pressure", "found"),
            Field("wanted", "fuel_pressure", "specified", meter_of="pressure"),
        ),
        "trim = √(wanted / found) - 1",
        _rail, (pressure_trim,), "150kPa 300kPa", window="fuel_pressure",
        source="orifice law: flow goes with the root of the pressure across",
        slips=("regulator hose on or off against the specification",),
        cautions=(FUEL_CAUTION, "Let the pressure down first; rag around the joint, goggles."),
    ),
)  # fmt: skip
