"""Topics of ignition: plug gaps, breakdown, leads, coils."""

from __future__ import annotations

import math

from knowngood.app.measuring_entry import Given
from knowngood.app.measuring_shown import in_unit_of, judged, listed, measured, plain, ranged, said, typed
from knowngood.app.measuring_topic import Checked, Field, Outcome, Topic
from knowngood.measure.coil import (
    charging_current,
    energy_share,
    secondary_kv,
    stored_energy,
    time_to_current,
    winding_at_20c,
)
from knowngood.measure.constant import MM_PER_INCH
from knowngood.measure.ignition_breakdown import breakdown_kv
from knowngood.measure.lead import REJECT_OHM, lead_kind, lead_per_metre, lead_row, plug_resistor
from knowngood.measure.meter import less_leads
from knowngood.measure.plug_gap import GAP_SE_MM, gap_verdict, gap_wear, odd_gaps

SPARK_CAUTION = (
    "Tens of kilovolts: ignition off before a hand goes near; a spark needs a tester's path to ground, always."
)
COLD_CAUTION = "Ignition off, engine cool, lead pulled by its boot."
TOUCH = "Touch the probes together: the meter must show near nothing. Then measure the winding once more."


def _gap(given: Given) -> Outcome:
    gaps = given.values("plug")
    se = given.se("plug", GAP_SE_MM)
    names = ["gap" if len(gaps) == 1 else f"plug {place}" for place in range(1, len(gaps) + 1)]
    outcome = Outcome(
        "; ".join(f"{one / MM_PER_INCH:.3f} in x 25.4 = {one:.2f} mm" for one in gaps),
        [measured(name, one, se, "mm") for name, one in zip(names, gaps, strict=True)],
        checked=[Checked(name, one, se) for name, one in zip(names, gaps, strict=True)],
    )
    if len(gaps) >= 3:
        odd = odd_gaps(gaps, gap_se_mm=se)
        text = f"{listed(odd, 'plug')} off the middle of the row" if odd else "row: alike"
        outcome.verdicts.append(judged(not odd, text, "common practice, 0.1 mm"))
    if given.has("new") and given.has("driven") and given.has("limit"):
        wear = gap_wear(max(gaps), given.value("new"), given.value("driven"), given.value("limit"), gap_se_mm=se)
        outcome.results.append(measured("grows in 10 000 km", wear.per_10000_km_mm, wear.per_10000_km_se_mm, "mm"))
        outcome.results.append(measured("left", wear.left_km, wear.left_se_km, "km"))
    elif given.has("new") or given.has("driven") or given.has("limit"):
        outcome.check.append("How fast it grows needs all three: new, driven and limit.")
    return outcome


def _breakdown(given: Given) -> Outcome:
    found = breakdown_kv(given.value("gap"), given.value("pressure"), temperature_c=given.value("temperature"))
    product = f"{given.text('gap')} x {given.text('pressure')} at {given.value('temperature'):g} °C"
    return Outcome(f"air density by {product}", [ranged("the gap needs", found, "kV")])


def _lead(given: Given) -> Outcome:
    leads, lengths = given.row("lead"), given.values("length") if given.has("length") else None
    known = [one for one in leads if one is not None and math.isfinite(one)]
    se = given.se("lead", 60.0)
    unit = given.unit("lead")
    outcome = Outcome(f"{len(known)} with a reading", [])
    outcome.checked = [Checked(f"lead {place}", one, se) for place, one in enumerate(leads, start=1) if one is not None]
    if lengths is not None and len(lengths) == len(leads):
        for place, (ohms, length) in enumerate(zip(leads, lengths, strict=True), start=1):
            if ohms is not None and math.isfinite(ohms):
                metre, metre_se = lead_per_metre(ohms, length, ohms_se=se)
                outcome.results.append(measured(f"lead {place}", metre, metre_se, "kΩ/m", 0.001))
                outcome.results.append(
                    said(f"lead {place} is", " or ".join(lead_kind(metre)) or "between the usual kinds")
                )
        outcome.working = "; ".join(
            f"{plain(unit.from_base(ohms), unit.symbol)} / {length / 1000:g} m"
            for ohms, length in zip(leads, lengths, strict=True)
            if ohms is not None
        )
    if len(known) >= 3:
        row = lead_row(leads, lengths, ohms_se=se)
        if lengths is None:
            outcome.results.append(in_unit_of(given, "lead", "middle of the row", row.middle, row.middle_se))
            outcome.working = f"row of {len(known)}, middle {plain(unit.from_base(row.middle), unit.symbol)}"
        text = f"{listed(row.apart, 'lead')} off the middle by more than 1.6 times" if row.apart else "row: alike"
        outcome.verdicts.append(judged(not row.apart, text, "common practice"))
    opened = tuple(place for place, one in enumerate(leads, start=1) if one is not None and math.isinf(one))
    over = tuple(place for place, one in enumerate(leads, start=1) if one is not None and REJECT_OHM < one < math.inf)
    if opened:
        outcome.verdicts.append(judged(False, f"{listed(opened, 'lead')} open", "no continuity"))
    if over:
        outcome.verdicts.append(
            judged(False, f"{listed(over, 'lead')} over {REJECT_OHM / 1000:g} kΩ", "common practice")
        )
    if not outcome.results:
        outcome.results.append(said("row", "too few readings for a row; add the length to judge by the metre"))
    return outcome


def _plug(given: Given) -> Outcome:
    ohms = given.value("plug")
    word = plug_resistor(ohms)
    shown = "no continuity" if math.isinf(ohms) else given.text("plug")
    good = {"resistor": True, "open": False, "unusual": False}.get(word)
    verdict = judged(good, f"{shown}: {word}", "common practice: 1 to 10 kΩ with a resistor")
    return Outcome(shown, [said("plug", word)], [verdict], [Checked("plug", ohms, 60.0)])


def _coil(given: Given) -> Outcome:
    reading, temperature = given.value("winding"), given.value("temperature")
    if math.isinf(reading):
        verdict = judged(False, "winding: no continuity, it is open, or a probe does not touch", "no continuity")
        return Outcome("OL", [said("winding", "no continuity")], [verdict], check=[TOUCH])
    se = given.se("winding", max(0.05, 0.01 * reading))
    working = given.text("winding")
    if given.has("leads"):
        reading, se = less_leads(reading, given.value("leads"), ohms_se=se)
        working = f"({working} - {given.text('leads')})"
    ohms, ohms_se = winding_at_20c(reading, temperature, ohms_se=se)
    working += f" x 254.5 / (234.5 + {temperature:g}) = {typed(given, 'winding', ohms)}"
    return Outcome(
        working, [in_unit_of(given, "winding", "at 20 °C", ohms, ohms_se)], checked=[Checked("winding", ohms, ohms_se)]
    )


def _dwell(given: Given) -> Outcome:
    battery, primary, time_ms = given.value("battery"), given.value("primary"), given.value("time", "ms")
    inductance_mh = given.value("inductance", "mH")
    current, se = charging_current(battery, primary, inductance_mh, time_ms)
    energy, energy_se = stored_energy(current, inductance_mh, current_se_a=se)
    share, share_se = energy_share(battery)
    outcome = Outcome(
        f"{battery:g} V / {primary:g} Ω x (1 - exp(-{primary:g} Ω x {time_ms:g} ms / {inductance_mh:g} mH))",
        [
            measured("current", current, se, "A"),
            measured("energy", energy, energy_se, "mJ"),
            measured("of its energy at 14 V", share, share_se, "%", 100.0),
        ],
        checked=[Checked("current", current, se)],
    )
    if given.has("wanted"):
        wanted_ms, wanted_se = time_to_current(battery, primary, inductance_mh, given.value("wanted"))
        outcome.results.append(measured(f"reaches {given.text('wanted')} after", wanted_ms, wanted_se, "ms"))
    return outcome


def _peak(given: Given) -> Outcome:
    found = secondary_kv(given.value("peak"))
    return Outcome(f"{given.text('peak')} x 50 to 200 turns for one", [ranged("secondary", found, "kV")])


TOPICS = (
    Topic(
        "gap", "plug gaps against their window and each other",
        (
            Field("plug", "gap", "gap of one plug or of each", row=True, cylinders=True),
            Field("new", "gap", "gap when it was set", needed=False),
            Field("driven", "distance", "since then", needed=False),
            Field("limit", "gap", "widest gap allowed", needed=False),
        ),
        "1 in = 25.4 mm; growth = (gap - new) / distance",
        _gap, (gap_verdict, odd_gaps, gap_wear), ".039in --window 0.9-1.1mm", window="gap",
        slips=("flat blade over a worn pit", "thou typed as mm", "fine-wire plug bent by the gauge"),
        cautions=(COLD_CAUTION, "The gap is the maker's for this engine, not the plug box's."),
    ),
    Topic(
        "breakdown", "voltage a gap needs under pressure",
        (
            Field("gap", "gap"),
            Field("pressure", "pressure", "between the electrodes, absolute: 1000kPa"),
            Field("temperature", "exhaust_temperature", "of the gas", needed=False, assumed="20 °C"),
        ),
        "U = 24.36 p d + 6.72 √(p d), p d the density of air times the gap (kV, bar, cm), within 5 to 8 % below",
        _breakdown, (breakdown_kv,), "0.8mm 10bar --temperature 327C",
        slips=("gauge pressure typed for absolute: add the air around",),
        cautions=(SPARK_CAUTION,),
    ),
    Topic(
        "lead", "resistance of spark plug leads, by the metre and in their row",
        (
            Field("lead", "lead_resistance", "each lead, OL for open", row=True, gaps=True, cylinders=True),
            Field("length", "length", "of each lead", row=True, cylinders=True, needed=False),
        ),
        "ohms a metre = R / length; apart = over 1.6 times the middle of the row",
        _lead, (lead_per_metre, lead_kind, lead_row), "5.1k 5.3k 18k 5.2k 6.0k 5.5k", window="lead_resistance",
        slips=("probe not on the terminal", "resistor caps taken for a bad lead", "cold only: bend it while reading"),
        cautions=(COLD_CAUTION,),
    ),
    Topic(
        "plug", "resistance from a plug's terminal to its tip",
        (Field("plug", "lead_resistance", "reading, OL for open"),),
        "R = reading",
        _plug, (plug_resistor,), "4.8k",
        slips=("probe on the shell",),
        cautions=(COLD_CAUTION,),
    ),
    Topic(
        "coil", "resistance of a coil's winding, brought to 20 °C",
        (
            Field("winding", "resistance", "reading: 0.62 ohm, 12.3k, OL"),
            Field("temperature", "coolant_temperature", "of the winding", needed=False, assumed="20 °C"),
            Field("leads", "resistance", "the meter's leads held together", needed=False),
        ),
        "R at 20 °C = R x 254.5 / (234.5 + t)",
        _coil, (winding_at_20c,), "0.62 --temperature 80C --window 0.4-0.6", window="resistance",
        slips=("leads of the meter not taken off a low reading", "hot coil against a cold specification"),
        cautions=(COLD_CAUTION, "Coils with a driver inside have no winding between their pins: do not measure them."),
    ),
    Topic(
        "dwell", "current and energy of a coil after its charging time",
        (
            Field("battery", "battery_voltage", "at the coil"),
            Field("primary", "coil_primary", "resistance of winding, wiring and driver"),
            Field("inductance", "inductance", "of the primary"),
            Field("time", "pulse", "switched on for"),
            Field("wanted", "current", "current to reckon the time for", needed=False),
        ),
        "i = U/R (1 - exp(-R t / L)); energy = L i² / 2",
        _dwell, (charging_current, stored_energy, energy_share, time_to_current), "14V 0.5 3.5mH 2ms", window="current",
        slips=("driver limits the current", "iron saturates: the ramp bends upward"),
        cautions=(SPARK_CAUTION,),
    ),
    Topic(
        "peak", "secondary voltage that a peak on the primary stands for",
        (Field("peak", "voltage", "at the switched end of the primary"),),
        "secondary = primary x ratio of turns, 50 to 200, usually about 100",
        _peak, (secondary_kv,), "400V",
        slips=("peak clamped by the driver: it only says at least",),
        cautions=(SPARK_CAUTION, "Hundreds of volts stand on the primary: attenuating probe."),
    ),
)  # fmt: skip
