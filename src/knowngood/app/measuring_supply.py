"""Topics of battery, charging and starting."""

from __future__ import annotations

from knowngood.app.measuring_entry import Given
from knowngood.app.measuring_shown import judged, listed, measured, plain, plus_minus, said
from knowngood.app.measuring_topic import Checked, Field, Outcome, Result, Topic
from knowngood.measure.battery import ChargeBand, charge_by_gravity, charge_by_voltage, gravity_at_reference
from knowngood.measure.charging import charging_verdict, charging_window, ripple_frequencies, ripple_word
from knowngood.measure.draw import days_to_share, draw_verdict
from knowngood.measure.starter import ALLOWED_V_PER_100_A, battery_resistance, check_cranking, starter_loss

ACID_CAUTION = "Battery gas burns and acid bites: goggles, no sparks, no flame, ground clamp off first and on last."
RUNNING_CAUTION = "Engine running: clear of belts and fan; never take the battery off while it runs."


def _band(name: str, band: ChargeBand) -> Result:
    text = f"{band.percent:.0f} %, {band.low_percent:.0f} to {band.high_percent:.0f} %"
    return Result(
        name=name, text=text, value=band.percent, low=band.low_percent, high=band.high_percent, unit="%"
    )  # fmt: skip


def _battery(given: Given) -> Outcome:
    rest_h = given.value("rest", "h")
    band = charge_by_voltage(
        given.value("voltage"),
        rest_h,
        temperature_c=given.value("temperature"),
        voltage_se_v=given.se("voltage", 0.02),
    )
    outcome = Outcome(
        f"{given.text('voltage')} after {rest_h:g} h of rest, between the rows of the table",
        [_band("charge", band), measured("freezes at about", round(band.freezes_c), unit="°C")],
    )
    outcome.checked = [Checked("voltage", given.value("voltage"), given.se("voltage", 0.02))]
    if band.high_percent < 75.0:
        text = "under three quarters: charge it before anything else is measured on it; left so it sulphates"
        outcome.verdicts.append(judged(False, text, "common practice"))
    return outcome


def _gravity(given: Given) -> Outcome:
    temperature = given.value("temperature")
    readings = given.values("cell")
    bands = [charge_by_gravity(one, temperature_c=temperature) for one in readings]
    brought = [gravity_at_reference(one, temperature) for one in readings]
    corrected = [one for one, _ in brought]
    outcome = Outcome(
        f"at 26.7 °C: {', '.join(f'{one:.3f}' for one in corrected)}",
        [_band(f"cell {place}", band) for place, band in enumerate(bands, start=1)],
        checked=[Checked(f"cell {place}", one, se) for place, (one, se) in enumerate(brought, start=1)],
    )
    bad = [place for place, one in enumerate(corrected, start=1) if max(corrected) - one >= 0.05]
    if len(readings) > 1:
        text = f"{listed(bad, 'cell')} 0.05 or more under the best" if bad else "row: within 0.05 of each other"
        outcome.verdicts.append(judged(not bad, text, "common practice, from memory"))
    return outcome


def _drain(given: Given) -> Outcome:
    draw_ma = given.value("draw", "mA")
    low, high = given.value("to"), given.value("from")
    capacity = given.value("capacity")
    days, se = days_to_share(
        draw_ma, capacity, from_percent=high, to_percent=low, draw_se_ma=given.se("draw", 1.0, "mA")
    )
    outcome = Outcome(
        f"{high - low:g} % of {capacity:g} Ah / (24 h x {plain(draw_ma, 'mA')})",
        [measured(f"days from {high:g} to {low:g} %", days, se, "days")],
        checked=[Checked("draw", draw_ma / 1000.0, given.se("draw", 1.0, "mA") / 1000.0)],
    )
    if given.has("waited"):
        found = draw_verdict(draw_ma, given.value("waited", "min"), draw_se_ma=given.se("draw", 1.0, "mA"))
        if found.word == "awake":
            outcome.check.append("Modules may be awake still: lock the car and wait 30 min or more, then read again.")
        good = {"usual": True, "within": True, "over": False}.get(found.word)
        text = f"draw {plain(draw_ma, 'mA')}, up to {found.limit_ma:g} mA is usual: {found.word}"
        outcome.verdicts.append(judged(good, text, "common practice"))
    else:
        outcome.check.append("Add how long it waited to have the draw itself judged: modules need time to fall asleep.")
    return outcome


def _charging(given: Given) -> Outcome:
    temperature = given.value_or_none("temperature")
    by_computer = given.word("computer") == "yes"
    volts, se = given.value("voltage"), given.se("voltage", 0.03)
    low, high = charging_window(temperature)
    found = charging_verdict(volts, temperature_c=temperature, voltage_se_v=se, by_computer=by_computer)
    outcome = Outcome(
        f"{given.text('voltage')} against {low:.1f} to {high:.1f} V",
        [measured("charging", volts, se, "V")],
        checked=[Checked("charging", volts, se)],
    )
    good = {"inside": True, "usual": True, "within": True, "low": False, "high": False}.get(found.word)
    text = f"{plus_minus(volts, se, 'V')}: {found.word}, window {found.low_v:.1f} to {found.high_v:.1f} V"
    outcome.verdicts.append(judged(good, text, "common practice"))
    return outcome


def _ripple(given: Given) -> Outcome:
    volts, se = given.value("ripple"), given.se("ripple", 0.02)
    word = ripple_word(volts, ripple_se_v=se)
    speed, pulley, poles = (given.value(name) for name in ("speed", "pulley", "poles"))
    where = ripple_frequencies(speed, pulley_ratio=pulley, pole_pairs=given.count("poles"))
    good = {"usual": True, "diodes": False}.get(word)
    return Outcome(
        f"{speed:g} / 60 x {pulley:g} x {poles:g} x 6 = {where.sound_hz:.0f} Hz",
        [
            measured("ripple", volts, se, "V"),
            measured("sound diodes ripple at", where.sound_hz, where.sound_se_hz, "Hz"),
            measured("one bad diode ripples at", where.fault_hz, where.fault_se_hz, "Hz"),
        ],
        [judged(good, f"{plain(volts, 'V')} AC: {word}", "common practice, from memory")],
        [Checked("ripple", volts, se)],
    )


def _starter(given: Given) -> Outcome:
    drop, current = given.value("drop"), given.value("current")
    loss = starter_loss(drop, current, drop_se_v=given.se("drop", 0.01), current_se_a=given.se("current", 5.0))
    good = {"within": True, "over": False}.get(loss.word)
    outcome = Outcome(
        f"{given.text('drop')} / {given.text('current')} x 100 A",
        [measured("loss for 100 A", loss.v_per_100_a, loss.se_v_per_100_a, "V")],
        [
            judged(
                good,
                f"{loss.word}: {ALLOWED_V_PER_100_A:g} V for 100 A is allowed on one side",
                "US Army TM 10-3930-671-24, p. F-303",
            )
        ],
        [Checked("loss", abs(drop), given.se("drop", 0.01))],
    )
    if given.has("cranked") and given.has("rested"):
        try_rest = check_cranking(given.value("cranked", "s"), given.value("rested", "s"))
        outcome.results.append(said("rest", f"{try_rest:.0f} s were needed"))
    return outcome


def _sag(given: Given) -> Outcome:
    ohms, se = battery_resistance(
        given.value("rest"),
        given.value("cranking"),
        given.value("current"),
        voltage_se_v=given.worst_se(("rest", "cranking"), 0.02),
        current_se_a=given.se("current", 5.0),
    )
    working = f"({given.text('rest')} - {given.text('cranking')}) / {given.text('current')}"
    result = measured("inside the battery", ohms, se, "mΩ", 1000.0)
    return Outcome(working, [result], checked=[Checked("inside the battery", ohms, se)])


TOPICS = (
    Topic(
        "battery", "state of charge from the voltage at rest",
        (
            Field("voltage", "battery_voltage", "at the posts, everything asleep"),
            Field("rest", "time", "since it was charged or driven: 24h", bare="h"),
            Field("temperature", "outside_temperature", "of the battery", needed=False, assumed="26.7 °C"),
        ),
        "between the rows of a table of rest voltage and charge; rest, meter and temperature widen it",
        _battery, (charge_by_voltage,), "12.24V 24h", window="battery_voltage",
        slips=("rested too short: surface charge reads high", "read at the clamps, not at the posts"),
        cautions=(ACID_CAUTION,),
    ),
    Topic(
        "acid", "state of charge from the acid of each cell",
        (
            Field("cell", "specific_gravity", row=True),
            Field("temperature", "outside_temperature", "of the acid", needed=False, assumed="26.7 °C"),
        ),
        "gravity at 26.7 °C = reading + 0.004 for every 10 °F over 80 °F",
        _gravity, (charge_by_gravity, gravity_at_reference), "1.190 1.195 1.120 1.190", window="specific_gravity",
        slips=("read just after water was added", "a hydrometer that corrects by itself corrected twice"),
        cautions=(ACID_CAUTION,),
    ),
    Topic(
        "drain", "days until a parked car has drawn its battery down",
        (
            Field("draw", "draw"),
            Field("capacity", "charge"),
            Field("from", "share", "charge now", needed=False, assumed="100 %"),
            Field("to", "share", "charge at which it no longer starts", needed=False, assumed="50 %"),
            Field("waited", "work_time", "since the car was locked: 45min", needed=False),
        ),
        "days = share x capacity / (24 h x current)",
        _drain, (days_to_share, draw_verdict), "240mA 60Ah --waited 45min", window="draw",
        slips=("car still awake", "meter fuse blown: reads nothing", "door or bonnet open keeps modules awake"),
        cautions=("Never crank or switch ignition on with the meter in line.", ACID_CAUTION),
    ),
    Topic(
        "charging", "charging voltage against its window",
        (
            Field("voltage", "battery_voltage", "at the battery, engine running"),
            Field("temperature", "outside_temperature", "of the regulator", needed=False),
            Field("computer", "word", "the engine computer commands the alternator", needed=False, assumed="no",
                  words=("yes", "no")),
        ),
        "the voltage at the posts; the window falls as the regulator warms",
        _charging, (charging_window, charging_verdict), "14.1V --temperature 20C", window="battery_voltage",
        slips=("read just after a start: a flat battery holds it down", "read at idle with everything on"),
        cautions=(RUNNING_CAUTION,),
    ),
    Topic(
        "ripple", "alternating voltage of the alternator, and where its fault would lie",
        (
            Field("ripple", "voltage", "at the battery, meter on AC, lights and blower on"),
            Field("speed", "engine_speed", needed=False, assumed="800 rpm"),
            Field("pulley", "number", "turns of the alternator for one of the engine", needed=False, assumed="2.5"),
            Field("poles", "number", "pairs of claws", needed=False, assumed="6"),
        ),
        "six pulses a period: f = n/60 x pulley x pole pairs x 6; one bad diode: one pulse a period",
        _ripple, (ripple_word, ripple_frequencies), "0.9V", window="voltage",
        slips=("a meter that does not read 1 kHz", "loose battery clamp"),
        cautions=(RUNNING_CAUTION,),
    ),
    Topic(
        "starter", "loss of one side of the starter circuit while it cranks",
        (
            Field("drop", "drop", "post to starter stud, or starter body to the other post, cranking"),
            Field("current", "current", "at the same moment"),
            Field("cranked", "time", "how long it turned last", needed=False),
            Field("rested", "time", "how long it rested since", needed=False),
        ),
        "loss for 100 A = U / I x 100 A",
        _starter, (starter_loss, check_cranking), "0.9V 150A", window="drop",
        slips=("probe on the clamp instead of the post", "engine started: no cranking current any more"),
        cautions=("Fuel and spark off, gearbox in neutral, clear of belts; 30 s at most, then 2 min of rest.",),
    ),
    Topic(
        "sag", "what the battery loses inside itself while cranking",
        (
            Field("rest", "battery_voltage", "at the posts before"),
            Field("cranking", "battery_voltage", "at the posts while cranking"),
            Field("current", "current", "while cranking"),
        ),
        "R = (U at rest - U cranking) / I",
        _sag, (battery_resistance,), "12.6V 10.2V 200A", window="joint_resistance",
        slips=("read at the clamps, not at the posts", "discharged battery taken for a worn one"),
        cautions=(ACID_CAUTION,),
    ),
)  # fmt: skip
