"""Topics of wiring: joints and paths under load, wires by their size."""

from __future__ import annotations

from knowngood.app.measuring_entry import Given
from knowngood.app.measuring_shown import in_unit_of, judged, measured, plain, plus_minus, ranged, typed
from knowngood.app.measuring_topic import Checked, Field, Outcome, Topic
from knowngood.measure.joint import drop_at_current, joint_resistance, path_loss
from knowngood.measure.joint_limits import ALLOWED, drop_verdict
from knowngood.measure.meter import less_leads, meter_limit, meter_se
from knowngood.measure.wire import at_20c, awg_area, current_for_drop, wire_resistance

DROP_SE_V, CURRENT_SE_A = 0.01, 0.1
LIVE_CAUTION = (
    "Measured live: probes insulated, clear of belts and fan; never an airbag circuit, never a high-voltage one."
)
LOADED_SLIP = "no load on the circuit: an unloaded joint shows no drop however bad it is"


def _errors(given: Given) -> dict[str, float]:
    return {"drop_se_v": given.se("drop", DROP_SE_V), "current_se_a": given.se("current", CURRENT_SE_A)}


def _judge_place(outcome: Outcome, given: Given, drop_v: float, se: float) -> None:
    found = drop_verdict(drop_v, given.word("place"), drop_se_v=se)
    limit = plain(found.allowed.limit_v, "V")
    load = f" at {plain(found.allowed.at_a, 'A')}" if found.allowed.at_a else ""
    text = f"{given.word('place')} loses {plus_minus(abs(drop_v), se, 'V')}, {limit} is allowed{load}"
    source = found.allowed.source + (", from memory" if found.allowed.from_memory else "")
    good = {"within": True, "over": False}.get(found.word)
    outcome.verdicts.append(judged(good, text, source))


def _joint(given: Given) -> Outcome:
    drop_v, current_a = given.value("drop"), given.value("current")
    ohms, se = joint_resistance(drop_v, current_a, **_errors(given))
    lost, through = typed(given, "drop", abs(drop_v)), typed(given, "current", abs(current_a))
    outcome = Outcome(
        f"{lost} / {through} = {plain(1000 * ohms, 'mΩ', 3)}",
        [measured("resistance", ohms, se, "mΩ", 1000.0)],
        checked=[Checked("resistance", ohms, se)],
    )
    if given.has("at"):
        there_v, there_se = drop_at_current(drop_v, current_a, given.value("at"), **_errors(given))
        outcome.results.append(measured(f"it would lose at {given.text('at')}", there_v, there_se, "V"))
        outcome.working += f"; {plain(1000 * ohms, 'mΩ', 3)} x {given.text('at')} = {plain(there_v, 'V', 3)}"
    if given.word("place"):
        _judge_place(outcome, given, drop_v, given.se("drop", DROP_SE_V))
    return outcome


def _drop(given: Given) -> Outcome:
    drop_v, se = given.value("drop"), given.se("drop", DROP_SE_V)
    outcome = Outcome(
        f"|{given.text('drop')}|", [measured("lost", abs(drop_v), se, "V")], checked=[Checked("lost", abs(drop_v), se)]
    )
    _judge_place(outcome, given, drop_v, se)
    return outcome


def _path(given: Given) -> Outcome:
    drops, current_a = given.values("drop"), given.value("current")
    loss = path_loss(drops, current_a, **_errors(given))
    outcome = Outcome(
        f"{' + '.join(plain(abs(one)) for one in drops)} = {plain(loss.total_v, 'V')}; over {given.text('current')}",
        [
            measured("whole path loses", loss.total_v, loss.total_se_v, "V"),
            measured("whole path", loss.total_ohm, loss.total_se_ohm, "mΩ", 1000.0),
        ],
        checked=[Checked("whole path", loss.total_v, loss.total_se_v)],
    )
    for place, (ohms, se) in enumerate(zip(loss.ohms, loss.ohms_se, strict=True), start=1):
        outcome.results.append(measured(f"part {place}", ohms, se, "mΩ", 1000.0))
    share = plus_minus(100 * loss.worst_share, 100 * loss.worst_share_se, "%")
    worst = f"part {loss.worst} loses most, {share} of it: look there first"
    outcome.check.append(worst[0].upper() + worst[1:] + ".")
    return outcome


def _wire(given: Given) -> Outcome:
    area, length = given.value("area"), given.value("length", "m")
    temperature = given.value("temperature")
    sound = wire_resistance(area, length, temperature_c=temperature)
    outcome = Outcome(
        f"17.241 Ω mm²/km x {length:g} m / {area:g} mm², x 1.05 to 1.08 for its stranding, at {temperature:g} °C",
        [ranged("sound wire", sound, "mΩ", 1000.0)],
    )
    if given.has("drop"):
        most = current_for_drop(given.value("drop"), area, length, temperature_c=temperature)
        outcome.results.append(ranged(f"loses {given.text('drop')} at", most, "A"))
    if given.has("reading"):
        ohms, se = given.value("reading"), given.se("reading", 0.02 * given.value("reading"))
        cold, cold_se = at_20c(ohms, temperature, ohms_se=se)
        outcome.results.append(measured("reading brought to 20 °C", cold, cold_se, "mΩ", 1000.0))
        over = ohms - sound.high
        good = None if abs(over) < 2.0 * se else over < 0.0
        text = f"{plain(1000 * ohms, 'mΩ')} against {plain(1000 * sound.high, 'mΩ', 3)} at most for the wire alone"
        outcome.verdicts.append(judged(good, text, "IEC 60228; crimps come on top"))
    return outcome


def _gauge(given: Given) -> Outcome:
    number = given.value("number")
    area = awg_area(number)
    diameter = 2.0 * (area / 3.141592653589793) ** 0.5
    working = f"0.127 mm x 92^((36 - {number:g}) / 39) = {diameter:.3f} mm; π d² / 4"
    return Outcome(working, [measured("area", area, unit="mm²")])


def _leads(given: Given) -> Outcome:
    ohms, se = less_leads(
        given.value("reading"),
        given.value("leads"),
        ohms_se=given.se("reading", 0.06),
        leads_se_ohm=given.se("leads", 0.06),
    )
    working = f"{typed(given, 'reading', given.value('reading'))} - {typed(given, 'leads', given.value('leads'))}"
    return Outcome(working, [in_unit_of(given, "reading", "without the leads", ohms, se)], checked=[
        Checked("without the leads", ohms, se)
    ])  # fmt: skip


def _meter(given: Given) -> Outcome:
    reading, percent, digits, count = (given.value(name) for name in ("reading", "percent", "digits", "count"))
    limit = meter_limit(reading, percent=percent, digits=digits, resolution=count)
    se = meter_se(reading, percent=percent, digits=digits, resolution=count)
    return Outcome(
        f"{percent:g} % x {abs(reading):g} + {digits:g} x {count:g} = {plain(limit)}; {plain(limit)} / √3",
        [measured("off by at most", limit), measured("one standard error", se)],
    )


_DROP = Field("drop", "drop", "voltage between the two ends while the load runs")
_CURRENT = Field("current", "current", "current through it at the same moment")
_PLACES = tuple(ALLOWED)

TOPICS = (
    Topic(
        "joint", "resistance of a joint, strap or cable under load",
        (
            _DROP,
            _CURRENT,
            Field("at", "current", "another current to reckon the loss for", needed=False),
            Field("place", "word", "what it is", needed=False, words=_PLACES),
        ),
        "R = U / I; relative errors add in quadrature",
        _joint, (joint_resistance, drop_at_current), "0.42V 105A", window="joint_resistance",
        slips=(LOADED_SLIP, "probe on the clamp instead of the post", "clamp meter not zeroed"),
        cautions=(LIVE_CAUTION,),
    ),
    Topic(
        "drop", "a voltage lost under load against what its place may lose",
        (_DROP, Field("place", "word", "what it is", words=_PLACES)),
        "the voltage between the two ends, usual load on",
        _drop, (drop_verdict,), "0.3V frame to ground post", window="drop",
        slips=(LOADED_SLIP,),
        cautions=(LIVE_CAUTION, "The maker's figure for the car wins."),
    ),
    Topic(
        "path", "what a whole path loses, and which part of it most",
        (Field("drop", "drop", "loss of each part in a row", row=True), _CURRENT),
        "U = U1 + U2 + …; R = U / I",
        _path, (path_loss,), "0.05V 0.40V 0.02V / 100A", window="drop",
        slips=(LOADED_SLIP, "a branch carries another current"),
        cautions=(LIVE_CAUTION,),
    ),
    Topic(
        "wire", "what a sound copper wire should have, and what it carries",
        (
            Field("area", "wire_area"),
            Field("length", "length", "length, one way", bare="m"),
            Field("temperature", "temperature", "of the wire", needed=False, assumed="20 °C"),
            Field("drop", "drop", "voltage it may lose", needed=False),
            Field("reading", "joint_resistance", "its resistance by the drop under load", needed=False),
        ),
        "R = ρ l / A, ρ = 17.241 Ω mm²/km at 20 °C, 0.393 % a kelvin",
        _wire, (wire_resistance, current_for_drop), "2.5mm2 4m --drop 0.5V --reading 45mohm",
        slips=("length in mm typed as m", "return wire forgotten: measure or reckon both ways"),
        cautions=("A lawful drop is no lawful current: insulation and fuse decide.",),
    ),
    Topic(
        "gauge", "area of a wire by its gauge number",
        (Field("number", "number", "gauge number, 14; 0 for 1/0, -1 for 2/0"),),
        "d = 0.005 in x 92^((36 - n) / 39)",
        _gauge, (awg_area,), "14",
        slips=("metal: copper-clad aluminium is not copper",),
    ),
    Topic(
        "leads", "a low resistance without the meter's own leads",
        (
            Field("reading", "resistance", "with the leads"),
            Field("leads", "resistance", "leads held together", meter_of="reading"),
        ),
        "R = reading - leads",
        _leads, (less_leads,), "0.9 0.3 ohm", window="resistance",
        slips=("battery not disconnected", "a second path in parallel"),
    ),
    Topic(
        "meter", "how far a meter may be off, by its printed accuracy",
        (
            Field("reading", "number", "as shown, in any one unit"),
            Field("percent", "share", "of the reading, as its manual says"),
            Field("digits", "number", "counts of the last digit, as its manual says"),
            Field("count", "number", "one count of the last digit, in the unit of the reading: 0.01"),
        ),
        "limit = percent of the reading + digits x one count; standard error = limit / √3",
        _meter, (meter_limit, meter_se), "5100 1% 3 10",
        slips=("accuracy of another range", "weak battery in the meter"),
    ),
)  # fmt: skip
