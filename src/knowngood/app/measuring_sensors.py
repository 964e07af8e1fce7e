"""Topics of sensors: temperature sensors, dividers, signals, toothed wheels, oxygen sensors."""

from __future__ import annotations

from knowngood.app.measuring_entry import Given
from knowngood.app.measuring_shown import in_unit_of, judged, measured, plain, plus_minus, said, typed
from knowngood.app.measuring_topic import Checked, Field, Outcome, Topic
from knowngood.errors import Refused
from knowngood.measure.divider import divider_resistance, divider_voltage
from knowngood.measure.oxygen import USABLE_FROM_C, narrow_band_word, nernst_mv, oxygen_from_mv
from knowngood.measure.sensors_coolant import coolant_curve, coolant_range, coolant_verdict
from knowngood.measure.sensors_open_short import open_or_short
from knowngood.measure.sensors_rail import line_through, line_value, rail_verdict
from knowngood.measure.sensors_wheel import rpm_of_teeth, tooth_time, wheel
from knowngood.measure.thermistor import (
    beta_of,
    beta_resistance,
    beta_temperature,
    fit_curve,
    resistance_of,
    temperature_of,
)

BRIDGE_CAUTION = "Bridge only a two-wire sensor with a pull-up: never a fed sensor, an airbag or an oxygen sensor."
UNPLUGGED = "Ignition off, sensor unplugged: resistance is measured without voltage."


def _sensor(given: Given) -> Outcome:
    ohms = given.value("sensor")
    outcome = Outcome(f"curve of a usual 2.5 kΩ sensor at {given.text('sensor')}", [])
    if given.has("at"):
        at = given.value("at")
        low, high = coolant_range(at)
        found = coolant_verdict(ohms, at, temperature_se_c=given.se("at", 2.0))
        span = f"{plain(found.low_ohm, 'Ω', 3)} to {plain(found.high_ohm, 'Ω', 3)}"
        outcome.results.append(said(f"at {at:g} °C it should have", f"{plain(low, 'Ω', 3)} to {plain(high, 'Ω', 3)}"))
        text = f"{given.text('sensor')}: {found.word}, {span} with the thermometer's error"
        outcome.verdicts.append(judged(found.word == "inside", text, "common practice, one maker's sensor"))
        if found.word in ("open", "shorted"):
            return outcome
    temperature, se = temperature_of(coolant_curve(), ohms)
    outcome.results.insert(0, measured("it says", temperature, se, "°C"))
    outcome.checked = [Checked("sensor", ohms, 0.01 * ohms)]
    return outcome


def _curve(given: Given) -> Outcome:
    temperatures, ohms = given.values("temperature"), given.values("ohms")
    if not len(temperatures) == len(ohms) == 3:
        raise Refused(
            f"{len(temperatures)} temperatures and {len(ohms)} resistances.", "Give three points: 'T T T / R R R / R'."
        )
    curve = fit_curve(list(zip(temperatures, ohms, strict=True)))
    found, se = temperature_of(curve, given.value("reading"))
    working = f"a = {curve.a:.4e}, b = {curve.b:.4e}, c = {curve.c:.4e}"
    outcome = Outcome(
        working, [in_unit_of(given, "temperature", "it says", found, se)], checked=[Checked("it", found, se)]
    )
    if given.has("at"):
        at_ohms, at_se = resistance_of(curve, given.value("at"), temperature_se_c=given.se("at", 0.5))
        outcome.results.append(measured(f"at {given.text('at')} it should have", at_ohms, at_se, "Ω"))
    return outcome


def _beta(given: Given) -> Outcome:
    temperatures, ohms = given.values("temperature"), given.values("ohms")
    if not len(temperatures) == len(ohms) == 2:
        raise Refused(
            f"{len(temperatures)} temperatures and {len(ohms)} resistances.", "Give two points: 'T T / R R / R'."
        )
    first, second = zip(temperatures, ohms, strict=True)
    beta, beta_se = beta_of(first, second)
    found, se = beta_temperature(beta, first, given.value("reading"), beta_se_k=beta_se)
    outcome = Outcome(
        f"B = ln({plain(ohms[0])} Ω / {plain(ohms[1])} Ω) / (1/T1 - 1/T2) = {beta:.0f} K",
        [measured("beta", beta, beta_se, "K"), in_unit_of(given, "temperature", "it says", found, se)],
        checked=[Checked("it", found, se)],
    )
    if given.has("at"):
        at_ohms, at_se = beta_resistance(
            beta, first, given.value("at"), beta_se_k=beta_se, temperature_se_c=given.se("at", 0.5)
        )
        outcome.results.append(measured(f"at {given.text('at')} it should have", at_ohms, at_se, "Ω"))
    return outcome


def _divider(given: Given) -> Outcome:
    signal, pull_up, supply = (given.value(name) for name in ("signal", "pull-up", "supply"))
    ohms, se = divider_resistance(signal, pull_up, supply_v=supply, signal_se_v=given.se("signal", 0.01))
    back, _ = divider_voltage(ohms, pull_up, supply_v=supply)
    return Outcome(
        f"{pull_up:g} Ω x {signal:g} V / ({supply:g} V - {signal:g} V) = {plain(ohms)} Ω, back {plain(back, 'V', 3)}",
        [measured("sensor", ohms, se, "Ω")],
        checked=[Checked("sensor", ohms, se)],
    )


def _signal(given: Given) -> Outcome:
    signal, supply = given.value("signal"), given.value("supply")
    found = rail_verdict(signal, supply, signal_se_v=given.se("signal", 0.01))
    good = {"working": True, "at ground": False, "at supply": False}.get(found.word)
    text = f"{plus_minus(100 * found.share, 100 * found.se, '%')} of the supply: {found.word}"
    return Outcome(
        f"{given.text('signal')} / {given.text('supply')}",
        [measured("of the supply", found.share, found.se, "%", 100.0)],
        [judged(good, text, "common practice, from memory: working from 10 to 90 %")],
        [Checked("signal", signal, given.se("signal", 0.01))],
    )


def _straight(given: Given) -> Outcome:
    signals, means = given.values("signal"), given.values("means")
    if not len(signals) == len(means) == 2:
        raise Refused(f"{len(signals)} signals and {len(means)} values.", "Give two points: 'V V / value value / V'.")
    line = line_through((signals[0], means[0]), (signals[1], means[1]))
    value, se = line_value(line, given.value("reading"), supply_v=given.value("supply"))
    working = f"{means[0]:g} + ({given.value('reading'):g} - {signals[0]:g}) V x {plain(line.slope)} for one V"
    return Outcome(working, [measured("it says", value, se)])


def _plugged(given: Given) -> Outcome:
    found = open_or_short(
        given.value("plugged"),
        supply_v=given.value("supply"),
        unplugged_v=given.value_or_none("unplugged"),
        bridged_v=given.value_or_none("bridged"),
    )
    seen = [f"{name} {given.text(name)}" for name in ("plugged", "unplugged", "bridged") if given.has(name)]
    results = [said("suspects", "; ".join(found.suspects) or "none of this circuit")]
    if found.next_step:
        results.append(said("then", found.next_step))
    return Outcome(f"{', '.join(seen)}, of {given.text('supply')}", results)


def _teeth(given: Given) -> Outcome:
    positions, missing = given.count("positions"), given.count("missing")
    shape = wheel(positions, missing)
    outcome = Outcome(
        f"360° / {positions} = {shape.pitch_deg:g}°",
        [
            measured("from tooth to tooth", shape.pitch_deg, unit="°"),
            measured("free of teeth", shape.uncut_deg, unit="°"),
        ],
    )
    if given.has("speed"):
        speed = given.value("speed")
        outcome.results.append(measured("tooth to tooth takes", *tooth_time(speed, positions), "ms"))
        outcome.working += f"; 60000 / ({speed:g} x {positions}) ms"
    if given.has("frequency"):
        turning, se = rpm_of_teeth(given.value("frequency"), positions, missing=missing)
        outcome.results.append(measured("speed", turning, se, "rpm"))
        outcome.working += f"; {typed(given, 'frequency', given.value('frequency'))} x 60 / teeth of a turn"
    return outcome


def _oxygen(given: Given) -> Outcome:
    signal, temperature = given.value("signal"), given.value("temperature")
    word = narrow_band_word(signal, signal_se_v=given.se("signal", 0.02))
    good = False if word == "outside" else None
    lean_mv, _ = nernst_mv(0.01, temperature)
    outcome = Outcome(
        f"{1000 * signal:.0f} mV at {temperature:g} °C; 0.01 atm of oxygen gives {lean_mv:.0f} mV",
        [said("at this moment", word)],
        [
            judged(
                good,
                f"{given.text('signal')}: {word}; one reading clears no sensor, it has to swing",
                "common practice",
            )
        ],
        [Checked("signal", signal, given.se("signal", 0.02))],
    )
    oxygen, factor = oxygen_from_mv(1000.0 * signal, temperature, signal_se_mv=1000.0 * given.se("signal", 0.02))
    outcome.results.append(said("oxygen at the electrode", f"{oxygen:.1g} atm, times or divided by {factor:.1g}"))
    return outcome


_SUPPLY = Field("supply", "sensor_voltage", "what the pull-up or sensor is fed with", needed=False, assumed="5 V")

TOPICS = (
    Topic(
        "sensor", "a coolant temperature sensor by its resistance",
        (
            Field("sensor", "sensor_resistance", "at the sensor, plug off, OL for open"),
            Field("at", "coolant_temperature", "its temperature by another thermometer", needed=False),
        ),
        "1/T = a + b ln R + c (ln R)³",
        _sensor, (fit_curve, temperature_of, coolant_curve, coolant_range, coolant_verdict), "9.6k --at 20C",
        window="sensor_resistance",
        slips=("kΩ read as Ω", "sensor hotter than the thermometer beside it", "another maker's curve"),
        cautions=(UNPLUGGED,),
    ),
    Topic(
        "curve", "a temperature sensor by three points of its own table",
        (
            Field("temperature", "coolant_temperature", "of three points", row=True),
            Field("ohms", "sensor_resistance", "at these", row=True),
            Field("reading", "sensor_resistance", "to be turned into a temperature"),
            Field("at", "coolant_temperature", "a temperature to be turned into a resistance", needed=False),
        ),
        "1/T = a + b ln R + c (ln R)³ through three points",
        _curve, (fit_curve, temperature_of, resistance_of), "-20C 25C 100C / 15971 2044 175.7ohm / 308.6ohm",
        slips=("points too close together", "kΩ read as Ω"),
        cautions=(UNPLUGGED,),
    ),
    Topic(
        "beta", "a temperature sensor by two points alone, and its beta",
        (
            Field("temperature", "coolant_temperature", "of two points", row=True),
            Field("ohms", "sensor_resistance", "at these", row=True),
            Field("reading", "sensor_resistance", "to be turned into a temperature"),
            Field("at", "coolant_temperature", "a temperature to be turned into a resistance", needed=False),
        ),
        "R = R1 exp(B (1/T - 1/T1)), B from the two points",
        _beta, (beta_of, beta_temperature, beta_resistance), "25C 100C / 2044 175.7ohm / 806.9ohm",
        slips=("points too close together", "kΩ read as Ω", "far outside the two points: take three"),
        cautions=(UNPLUGGED,),
    ),
    Topic(
        "divider", "resistance of a sensor from its signal behind a pull-up",
        (
            Field("signal", "sensor_voltage", "at the sensor"),
            Field("pull-up", "resistance", "of the computer"),
            _SUPPLY,
        ),
        "R = pull-up x U / (supply - U)",
        _divider, (divider_resistance, divider_voltage), "1.24V 1k", window="sensor_resistance",
        slips=("pull-up of another computer", "supply not 5 V"),
    ),
    Topic(
        "signal", "where a signal lies between ground and supply",
        (Field("signal", "sensor_voltage"), _SUPPLY),
        "share = signal / supply",
        _signal, (rail_verdict,), "4.9V", window="sensor_voltage",
        slips=("ground of the meter not at the sensor's ground",),
    ),
    Topic(
        "straight", "a straight sensor by two points of its own data",
        (
            Field("signal", "sensor_voltage", "of two points", row=True),
            Field("means", "number", "what they stand for, in any one unit", row=True),
            Field("reading", "sensor_voltage", "to be turned into a value"),
            _SUPPLY,
        ),
        "value on the line through two points; the signal goes with the supply",
        _straight, (line_through, line_value), "0.79V 4.0V / 20 101.32 / 1.84V",
        slips=("data of another sensor",),
    ),
    Topic(
        "plugged", "sensor open or shorted, or its wire: plugged, unplugged, bridged",
        (
            Field("plugged", "sensor_voltage", "signal with the sensor plugged in"),
            Field("unplugged", "sensor_voltage", "and unplugged", needed=False),
            Field("bridged", "sensor_voltage", "and its two wires bridged", needed=False),
            _SUPPLY,
        ),
        "near supply: open; near ground: shorted; unplugging and bridging tell sensor from wire",
        _plugged, (open_or_short,), "4.98V --unplugged 4.99V --bridged 0.01V",
        slips=("ignition off", "read through another sensor's ground"),
        cautions=(BRIDGE_CAUTION,),
    ),
    Topic(
        "teeth", "a toothed wheel: angles, tooth time, speed from its frequency",
        (
            Field("positions", "number", "60 for 60 - 2"),
            Field("missing", "number", "2 for 60 - 2"),
            Field("speed", "engine_speed", needed=False),
            Field("frequency", "frequency", "of the teeth", needed=False),
        ),
        "pitch = 360° / positions; time = 60000 / (speed x positions) ms",
        _teeth, (wheel, tooth_time, rpm_of_teeth), "60 2 --speed 800rpm",
        slips=("noise counted as teeth",),
    ),
    Topic(
        "oxygen", "a narrow band oxygen sensor at one moment",
        (
            Field("signal", "sensor_voltage"),
            Field("temperature", "exhaust_temperature", f"of the cell, {USABLE_FROM_C:g} °C or more", needed=False,
                  assumed="600 °C"),
        ),
        "E = R T / 4 F ln(0.209 atm / oxygen at the electrode)",
        _oxygen, (narrow_band_word, nernst_mv, oxygen_from_mv), "0.82V", window="sensor_voltage",
        slips=("sensor cold", "meter loads the cell: 10 MΩ or more", "air from an exhaust leak reads lean"),
        cautions=("Never bridge or feed an oxygen sensor; the exhaust burns.",),
    ),
)  # fmt: skip
