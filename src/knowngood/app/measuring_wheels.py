"""Topics of tyres, wheels, road speed and tightening."""

from __future__ import annotations

from knowngood.app.measuring_entry import Given
from knowngood.app.measuring_shown import THE_SAME, in_unit_of, judged, measured, plus_minus, ranged
from knowngood.app.measuring_topic import Checked, Field, Outcome, Topic
from knowngood.measure.constant import MM_PER_INCH
from knowngood.measure.road_speed import gear_fit, geared_speed, highest_lawful_shown, speed_shown, timed_speed
from knowngood.measure.tightening import CAUTIONS, FRICTION, force_of_torque, torque_for_force
from knowngood.measure.tyre import (
    overall_diameter,
    read_size,
    rolling_circumference,
    size_change,
    turns_per_km,
)
from knowngood.measure.wheel_fit import (
    LEAST_CLEARANCE_MM,
    LEAST_ENGAGEMENT,
    backspacing,
    clearance_left,
    effective_offset,
    fitment_change,
    thread_engagement,
)

ROAD_CAUTION = "The driver drives: a passenger reads and types."
WHEEL_CAUTION = (
    "Turn lock to lock and load the axle before driving; size, spacer and load rating must be allowed on this car."
)


def _tyre(given: Given) -> Outcome:
    size = read_size(given.word("size"))
    diameter, diameter_se = overall_diameter(size.width_mm, size.aspect_pct, size.rim_in)
    rolled = rolling_circumference(diameter, size.build)
    wall = f"2 x {size.width_mm:g} x {size.aspect_pct:g} / 100"
    outcome = Outcome(
        f"{wall} + {size.rim_in:g} x 25.4 = {diameter:.1f} mm",
        [
            measured("diameter", diameter, diameter_se, "mm"),
            ranged("rolls in one turn", rolled, "mm"),
            measured("turns in a km", *turns_per_km(rolled.value)),
        ],
    )
    if given.has("new"):
        change = size_change(size, read_size(given.word("new")))
        outcome.results += [
            measured("diameter of the new size", change.new_mm, change.new_se_mm, "mm"),
            measured("speedometer then shows too much by", change.shown_error_pct, change.shown_error_se_pct, "%"),
            measured("ride height changes by", change.ride_height_mm, change.ride_height_se_mm, "mm"),
        ]
        if change.shown_error_pct < 0.0:
            outcome.check.append("It would show too little: the law allows no reading under the true speed.")
    return outcome


def _wheel(given: Given) -> Outcome:
    old_width, new_width = given.value("width", "in"), given.value("new-width", "in")
    old_offset, old_se = effective_offset(given.value("offset"), given.value("spacer"))
    new_offset, new_se = effective_offset(given.value("new-offset"), given.value("new-spacer"))
    back, back_se = backspacing(new_width, new_offset, offset_se_mm=new_se)
    fall, half_mm = old_offset - new_offset, 0.5 * MM_PER_INCH * (new_width - old_width)
    change = fitment_change(
        old_width, old_offset, new_width, new_offset, old_offset_se_mm=old_se, new_offset_se_mm=new_se
    )
    outcome = Outcome(
        f"half of {new_width:g} - {old_width:g} in is {half_mm:.2f} mm; offset falls by {fall:.2f} mm",
        [
            measured("outer face further out by", change.outward_mm, change.face_se_mm, "mm"),
            measured("inner face further in by", change.inward_mm, change.face_se_mm, "mm"),
            measured("track wider by", change.track_mm, change.track_se_mm, "mm"),
            measured("backspacing of the new one", back, back_se, "mm"),
        ],
    )
    if given.has("outer") and given.has("inner"):
        left = clearance_left(given.value("outer"), given.value("inner"), change)
        text = f"{left.outer_mm:.1f} mm left outside, {left.inner_mm:.1f} mm inside: {left.verdict}"
        source = f"common practice: {LEAST_CLEARANCE_MM:g} mm at least"
        outcome.verdicts.append(judged({"enough": True, "cannot tell": None}.get(left.verdict, False), text, source))
    return outcome


def _thread(given: Given) -> Outcome:
    hold = thread_engagement(given.value("engaged"), given.value("thread"), given.value("pitch"), given.word("nut"))
    text = f"{hold.turns:.1f} turns, {hold.least_turns:.1f} wanted: {hold.verdict}"
    return Outcome(
        f"{given.text('engaged')} / {given.text('pitch')} = {hold.turns:.1f} turns",
        [measured("turns", hold.turns, hold.turns_se), measured("at least", hold.least_mm, unit="mm")],
        [judged(hold.verdict == "enough", text, "common practice: one diameter in steel, one and a half in aluminium")],
    )


def _speed(given: Given) -> Outcome:
    shown, true = given.value("shown"), given.value("true")
    found = speed_shown(shown, true, shown_se_kmh=given.se("shown", 1.0), true_se_kmh=given.se("true", 0.5))
    good = {"lawful": True, "cannot tell": None}.get(found.verdict, False)
    text = f"{found.verdict}: {true:.0f} to {highest_lawful_shown(true):.0f} km/h may be shown"
    return Outcome(
        f"{given.text('shown')} - {given.text('true')}",
        [in_unit_of(given, "shown", "shows too much by", found.error_kmh, found.se_kmh)],
        [judged(good, text, "UN Regulation No. 39, 5.3")],
        [Checked("shows", found.error_kmh, found.se_kmh)],
    )


def _timed(given: Given) -> Outcome:
    distance_m, time_s = given.value("distance", "m"), given.value("time", "s")
    speed, se = timed_speed(
        distance_m, time_s, distance_se_m=given.se("distance", 5.0, "m"), time_se_s=given.se("time", 0.3)
    )
    return Outcome(
        f"3.6 x {distance_m:g} m / {time_s:g} s",
        [measured("true speed", speed, se, "km/h"), measured(THE_SAME, speed / MILE_KM, se / MILE_KM, "mph")],
        checked=[Checked("speed", speed, se)],
    )


MILE_KM = 1.609344


def _gear(given: Given) -> Outcome:
    engine, speed, final = given.value("engine"), given.value("speed"), given.value("final")
    rolled, ratios = given.value("rolled"), given.values("ratio")
    fit = gear_fit(engine, speed, ratios, final, rolled)
    geared, se = geared_speed(engine, ratios[fit.gear - 1], final, rolled)
    good = {"fits": True, "slips": False}.get(fit.verdict)
    off = plus_minus(fit.off_pct, fit.se_pct, "%")
    return Outcome(
        f"{engine:g} x {rolled / 1000:g} m x 0.06 / ({ratios[fit.gear - 1]:g} x {final:g}) = {geared:.1f} km/h",
        [
            measured("nearest gear", fit.gear),
            measured("speed that goes with it", geared, se, "km/h"),
            measured("engine turns too fast by", fit.off_pct, fit.se_pct, "%"),
        ],
        [judged(good, f"gear {fit.gear}, {off}: {fit.verdict}", "over three standard errors")],
    )


def _torque(given: Given) -> Outcome:
    thread, torque, state = given.value("thread"), given.value("torque"), given.word("state")
    force = force_of_torque(thread, torque, state)
    return Outcome(
        f"{torque:.1f} N·m / ({FRICTION[state]:g} x {thread:g} mm), 30 % either way",
        [
            ranged("clamping force", force, "kN"),
            *(
                ranged(f"were the thread {other}", force_of_torque(thread, torque, other), "kN")
                for other in FRICTION
                if other != state
            ),
        ],
        checked=[Checked("torque", torque)],
    )


_NUTS = tuple(LEAST_ENGAGEMENT)

TOPICS = (
    Topic(
        "tyre", "a tyre's size as diameter and distance rolled, and a change of size",
        (
            Field("size", "text", "on the side wall: 205/55R16"),
            Field("new", "text", "size it is changed to", needed=False),
        ),
        "diameter = 2 x width x aspect / 100 + rim x 25.4; rolls 3.05 diameters (radial)",
        _tyre, (read_size, overall_diameter, rolling_circumference, turns_per_km, size_change),
        "185/70R14 --new 195/50R15",
        slips=("size of the door label taken for the one fitted",),
        cautions=(WHEEL_CAUTION,),
    ),
    Topic(
        "wheel", "where another wheel comes to stand, and the room left",
        (
            Field("width", "length", "rim width marked", bare="in"),
            Field("offset", "length", "marked, mm"),
            Field("new-width", "length", "of the new rim", meter_of="width"),
            Field("new-offset", "length", "of the new rim, mm"),
            Field("spacer", "length", "behind the old one", needed=False, assumed="0 mm"),
            Field("new-spacer", "length", "behind the new one", needed=False, assumed="0 mm"),
            Field("outer", "length", "room now to the arch", needed=False),
            Field("inner", "length", "room now to the strut", needed=False),
        ),
        "outward = half the change of width - change of offset; inward = half the change + change of offset",
        _wheel, (fitment_change, effective_offset, clearance_left, backspacing),
        "6.5in 50mm 8in 35mm --outer 40mm --inner 20mm",
        source="geometry",
        slips=("rim width in inches typed without in", "backspacing read over the flanges"),
        cautions=(WHEEL_CAUTION, CAUTIONS[-1]),
    ),
    Topic(
        "thread", "whether enough thread holds a wheel",
        (
            Field("engaged", "length", "turns until tight, times the pitch"),
            Field("thread", "length", "diameter: 12 for M12x1.5"),
            Field("pitch", "length", "1.5 for M12x1.5"),
            Field("nut", "word", "what the thread is cut in", needed=False, assumed="steel", words=_NUTS),
        ),
        "turns = engaged / pitch; wanted one diameter in steel, one and a half in aluminium",
        _thread, (thread_engagement,), "9mm 12mm 1.5mm",
        slips=("seat of another shape",),
        cautions=(CAUTIONS[0], CAUTIONS[-1]),
    ),
    Topic(
        "speed", "a speedometer against the true speed",
        (Field("shown", "speed", "on the dash"), Field("true", "speed", "true speed", meter_of="shown")),
        "0 <= shown - true <= 0.1 true + 4 km/h",
        _speed, (speed_shown, highest_lawful_shown), "105km/h 100km/h",
        slips=("not steady", "true speed from a device that lags"),
        cautions=(ROAD_CAUTION,),
    ),
    Topic(
        "timed", "true speed from a known distance and a stop watch",
        (Field("distance", "length", "between two marks; a mile is 1609.344m", bare="m"), Field("time", "time")),
        "v = distance / time",
        _timed, (timed_speed,), "1000m 36s", window="speed",
        source="arithmetic",
        slips=("speed not steady between the marks",),
        cautions=(ROAD_CAUTION,),
    ),
    Topic(
        "gear", "which gear engine and road speed belong to, and whether the clutch slips",
        (
            Field("engine", "engine_speed"),
            Field("speed", "speed"),
            Field("final", "number", "ratio of the final drive"),
            Field("rolled", "length", "distance rolled in one turn of the wheel"),
            Field("ratio", "number", "of each gear, first gear first", row=True),
        ),
        "speed = engine x rolled x 60 / (gear x final)",
        _gear, (gear_fit, geared_speed), "3400rpm 96km/h 4.0 1927mm 3.6 1.95 1.3 0.9",
        slips=("readings of different moments", "another tyre size", "open torque converter"),
        cautions=(ROAD_CAUTION,),
    ),
    Topic(
        "torque", "clamping force that a tightening torque may give",
        (
            Field("thread", "length", "diameter: 12mm"),
            Field("torque", "torque"),
            Field("state", "word", "of the thread", needed=False, assumed="dry", words=tuple(FRICTION)),
        ),
        "T = K d F, K about 0.20 dry and 0.15 oiled",
        _torque, (force_of_torque, torque_for_force), "12mm 96Nm --state oiled", window="torque",
        slips=("oil on a thread whose torque is given dry", "torque wrench at the end of its scale"),
        cautions=CAUTIONS,
    ),
)  # fmt: skip
