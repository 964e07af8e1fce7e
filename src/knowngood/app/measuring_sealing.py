"""Topics of sealing: leak-down, the leak as a hole, compression."""

from __future__ import annotations

import math

from knowngood.app.measuring_entry import Given
from knowngood.app.measuring_shown import (
    THE_SAME,
    in_unit_of,
    judged,
    listed,
    measured,
    plain,
    plus_minus,
    ranged,
    said,
    typed,
)
from knowngood.app.measuring_topic import Checked, Field, Outcome, Topic
from knowngood.measure.compression import (
    GAUGE_SE_KPA as COMPRESSION_SE_KPA,
)
from knowngood.measure.compression import (
    SPREAD_RULES,
    compression_row,
    oil_volume_gain,
    wet_gain,
)
from knowngood.measure.compression_expected import expected_gauge, gauge_at_altitude
from knowngood.measure.compression_puffs import build_up, running_compression
from knowngood.measure.leakdown import (
    GAUGE_SE_KPA,
    PSI_KPA,
    ROW_POINTS,
    SUSPECT_PERCENT,
    leak_percent,
    leak_row,
    leak_word,
)
from knowngood.measure.sealing_hole import convert_percent, leak_hole

AIR_CAUTION = (
    "Air can turn the engine: hold the crankshaft at top dead centre, hands and bars off, regulator at zero first."
)
CRANKING_CAUTION = (
    "Fuel and spark off, throttle open, clear of fans and belts; crank in short bursts, let the starter cool."
)


def _leakdown(given: Given) -> Outcome:
    supply = given.value("supply")
    shown = given.values("cylinder")
    supply_se, cylinder_se = given.se("supply", GAUGE_SE_KPA), given.se("cylinder", GAUGE_SE_KPA)
    leaks = [leak_percent(supply, one, supply_se_kpa=supply_se, cylinder_se_kpa=cylinder_se) for one in shown]
    single = len(leaks) == 1
    names = ["leak" if single else f"cylinder {place}" for place in range(1, len(leaks) + 1)]
    words = [leak_word(min(100.0, max(0.0, percent)), percent_se=se) for percent, se in leaks]
    working = "; ".join(
        f"100 (1 - {typed(given, 'cylinder', one)} / {typed(given, 'supply', supply)}) = {percent:.1f} %"
        for one, (percent, _) in zip(shown, leaks, strict=True)
    )
    outcome = Outcome(working, [measured(name, *leak, "%") for name, leak in zip(names, leaks, strict=True)])
    outcome.checked = [Checked(name, *leak) for name, leak in zip(names, leaks, strict=True)]
    for name, (percent, _), word in zip(names, leaks, words, strict=True):
        well = [one in ("good", "serviceable") for one in word.words]
        is_good = True if all(well) else None if any(well) else False
        text = f"{name} {percent:.1f} %: {' or '.join(word.words)}"
        outcome.verdicts.append(
            judged(is_good, text, "common practice: good to 10, serviceable to 20, suspect to 30 %, then trouble")
        )
        if word.advice:
            outcome.check.append(f"{name}: {word.advice}")
        if percent < 0.0:
            outcome.check.append(
                f"{name} reads above the supply of {given.text('supply')}: was the supply typed first?"
            )
    if not single:
        percents = [min(100.0, max(0.0, percent)) for percent, _ in leaks]
        _leak_row(outcome, percents, _row_se(percents, supply, supply_se, cylinder_se))
    return outcome


def _row_se(percents: list[float], supply: float, supply_se: float, cylinder_se: float) -> float:
    """One standard error of a leak against the others of its row [percent].

    All were read at one supply: its error does not part them, it only scales how far they stand apart.
    """
    scaled = (max(percents) - min(percents)) * supply_se / supply
    return math.hypot(100.0 * cylinder_se / supply, scaled / math.sqrt(2.0))


def _leak_row(outcome: Outcome, percents: list[float], se: float) -> None:
    row = leak_row(percents, percent_se=se)
    outcome.results.append(measured("highest less lowest", row.spread_points, row.spread_se_points, "points"))
    if row.all_alike:
        text = f"row: alike, {row.spread_points:.0f} points apart"
    else:
        text = f"row: {listed(row.apart, 'cylinder')} leaks more than the best one by over {ROW_POINTS:g} points"
    outcome.verdicts.append(judged(row.all_alike, text, "common practice: 5 points, or what the gauges can tell"))


def _leaks(given: Given) -> Outcome:
    percents = given.values("leak")
    row = leak_row(percents, percent_se=given.se("leak", 2.0))
    outcome = Outcome(f"{max(percents):g} - {min(percents):g} = {row.spread_points:g} points", [])
    outcome.checked = [Checked(f"cylinder {place}", value, 2.0) for place, value in enumerate(percents, start=1)]
    _leak_row(outcome, percents, given.se("leak", 2.0))
    if row.over:
        over = (
            f"{listed(row.over, 'cylinder')} over {SUSPECT_PERCENT:g} %: measure again after running, then look where"
        )
        outcome.verdicts.append(judged(False, over, "AC 43.13-1B, 8-14b(5)(i)"))
    return outcome


def _hole(given: Given) -> Outcome:
    supply, cylinder, orifice = given.value("supply"), given.value("cylinder"), given.value("orifice")
    hole = leak_hole(
        supply,
        cylinder,
        orifice,
        supply_se_kpa=given.se("supply", GAUGE_SE_KPA),
        cylinder_se_kpa=given.se("cylinder", GAUGE_SE_KPA),
    )
    working = (
        f"area of the leak / area of the orifice = {hole.area_ratio:.2f}; "
        f"{hole.area_mm2:.2f} mm² = π d² / 4; {hole.flow_g_s:.2f} g/s flow through both"
    )
    results = [
        measured("hole", hole.hole_mm, hole.hole_se_mm, "mm"),
        measured("air through it", hole.flow_g_s, hole.flow_se_g_s, "g/s"),
    ]
    return Outcome(working, results, checked=[Checked("hole", hole.hole_mm, hole.hole_se_mm)])


def _tester(given: Given) -> Outcome:
    percent = given.value("leak")
    shown, se = convert_percent(
        percent,
        from_supply_kpa=given.value("supply"),
        from_orifice_mm=given.value("orifice"),
        to_supply_kpa=given.value("to-supply"),
        to_orifice_mm=given.value("to-orifice"),
        percent_se=given.se("leak", 2.0),
    )
    tester = f"{typed(given, 'to-supply', given.value('to-supply'))} behind {given.text('to-orifice')}"
    working = f"{percent:g} % at {given.text('supply')} behind {given.text('orifice')} is {shown:.1f} % at {tester}"
    return Outcome(working, [measured("the other tester shows", shown, se, "%")], checked=[Checked("leak", shown, se)])


def _compression(given: Given) -> Outcome:
    pressures = given.row("cylinder")
    rule = next(one for one in SPREAD_RULES if one.name == given.word("rule"))
    se = given.se("cylinder", COMPRESSION_SE_KPA)
    row = compression_row(pressures, rule=rule, gauge_se_kpa=se)
    low, high = (typed(given, "cylinder", value) for value in (row.lowest_kpa, row.highest_kpa))
    outcome = Outcome(
        f"{low} / {high} = {100 * row.lowest_share:.0f} %",
        [
            measured("lowest of highest", row.lowest_share, row.lowest_share_se, "%", 100.0),
            in_unit_of(given, "cylinder", "mean", row.mean_kpa, row.mean_se_kpa),
        ],
    )
    outcome.checked = [
        Checked(f"cylinder {place}", value, se) for place, value in enumerate(pressures, start=1) if value is not None
    ]
    limit = max(rule.least_share * row.highest_kpa, rule.least_kpa)
    least = f"{typed(given, 'cylinder', limit, 3)}, {100 * rule.least_share:.0f} % of the best"
    doubtful = tuple(place for place in row.doubtful if place not in row.low)
    surely = tuple(place for place in row.low if place not in row.doubtful)
    if surely:
        outcome.verdicts.append(judged(False, f"{listed(surely, 'cylinder')} low: under {least}", rule.source))
    near = tuple(sorted({*doubtful, *(place for place in row.low if place in row.doubtful)}))
    if near:
        text = f"{listed(near, 'cylinder')}: too near to {least}, to tell; measure again"
        outcome.verdicts.append(judged(None, text, rule.source))
    if not surely and not near:
        outcome.verdicts.append(judged(True, f"row: none under {least}", rule.source))
    return outcome


def _wet(given: Given) -> Outcome:
    dry, wet = given.value("dry"), given.value("wet")
    gain, se = wet_gain(dry, wet, gauge_se_kpa=given.worst_se(("dry", "wet"), COMPRESSION_SE_KPA))
    outcome = Outcome(
        f"{typed(given, 'wet', wet)} - {typed(given, 'dry', dry)}", [in_unit_of(given, "dry", "gain", gain, se)]
    )
    outcome.checked = [Checked("gain", gain, se)]
    if given.has("swept") and given.has("ratio"):
        filled, filled_se = oil_volume_gain(
            dry,
            swept_ml=given.value("swept", "ml"),
            ratio=given.value("ratio"),
            dry_se_kpa=given.se("dry", COMPRESSION_SE_KPA),
        )
        outcome.results.append(in_unit_of(given, "dry", "the oil's own room explains at most", filled, filled_se))
        if gain - filled > 2.0 * math.hypot(se, filled_se):
            text = f"more than the oil's own room: it sealed something. {RINGS}"
            outcome.verdicts.append(judged(False, text, "geometry, 15 ml of oil"))
        else:
            text = "no more than the oil's own room may bring: it tells nothing about the rings"
            outcome.verdicts.append(judged(None, text, "geometry, 15 ml of oil"))
    elif gain < 2.0 * se:
        text = "the oil brought nothing that can be told: valves, gasket or valve timing rather than rings"
        outcome.verdicts.append(judged(None, text, "common practice"))
    else:
        text = f"the oil brought something. {RINGS}; add swept volume and ratio to see what its room alone brings"
        outcome.verdicts.append(judged(None, text, "common practice"))
    return outcome


RINGS = "Rings or bore leak past the oil's place"


def _expected(given: Given) -> Outcome:
    found = expected_gauge(
        given.value("ratio"),
        given.value("closing"),
        stroke_mm=given.value("stroke"),
        rod_mm=given.value("rod"),
        altitude_m=given.value("altitude"),
    )
    kpa = ranged("a healthy cylinder reads", found, "kPa")
    psi = ranged(THE_SAME, found, "psi", 1.0 / PSI_KPA)
    working = (
        f"{found.low:.0f} to {found.high:.0f} kPa for exponents 1.2 to 1.3 and the intake valve 10° earlier or later"
    )
    return Outcome(working, [kpa, psi])


def _altitude(given: Given) -> Outcome:
    pressure = given.value("pressure")
    scaled, se = gauge_at_altitude(
        pressure,
        measured_m=given.value("here"),
        wanted_m=given.value("there"),
        pressure_se_kpa=given.se("pressure", COMPRESSION_SE_KPA),
    )
    working = f"{given.text('pressure')} x {scaled / pressure:.3f}" if pressure else "0 stays 0"
    result = in_unit_of(given, "pressure", "there it reads", scaled, se)
    return Outcome(working, [result], checked=[Checked("there", scaled, se)])


def _puffs(given: Given) -> Outcome:
    grown = build_up(given.values("puff"), gauge_se_kpa=given.se("puff", COMPRESSION_SE_KPA))
    values = given.values("puff")
    outcome = Outcome(
        f"{typed(given, 'puff', values[0])} / {typed(given, 'puff', values[-1])} = {grown.first_share:.2f}",
        [
            measured("first puff of the last", grown.first_share, grown.first_share_se, "%", 100.0),
            in_unit_of(given, "puff", "gained from first to last", grown.gained_kpa, grown.gained_se_kpa),
        ],
    )
    low_first = grown.first_share + 2.0 * grown.first_share_se < 0.5
    high_first = grown.first_share - 2.0 * grown.first_share_se >= 0.5
    text = (
        "low first puff that builds: rings rather than valves, when the last one is low too"
        if low_first
        else "the first puff brings half or more: it seals from the start"
        if high_first
        else "too near to half to tell"
    )
    outcome.verdicts.append(judged(True if high_first else None, text, "common practice"))
    if grown.still_rising:
        outcome.check.append("The last puff still rose: crank until it stands, at the same number of puffs everywhere.")
    return outcome


def _running(given: Given) -> Outcome:
    cranking, idle, snap = (given.value(name) for name in ("cranking", "idle", "snap"))
    gauge_se = given.worst_se(("cranking", "idle", "snap"), COMPRESSION_SE_KPA)
    found = running_compression(cranking, idle, snap, gauge_se_kpa=gauge_se)
    working = f"{typed(given, 'idle', idle)} and {typed(given, 'snap', snap)} over {typed(given, 'cranking', cranking)}"
    outcome = Outcome(
        working,
        [
            measured("idle of cranking", found.idle_share, found.idle_share_se, "%", 100.0),
            measured("snap of cranking", found.snap_share, found.snap_share_se, "%", 100.0),
            said(
                "compare", "with the other cylinders on the same hose: low at the snap is air in, high is exhaust out"
            ),
        ],
    )
    for name, share, se, low, high in (
        ("idle", found.idle_share, found.idle_share_se, 0.30, 0.55),
        ("snap", found.snap_share, found.snap_share_se, 0.65, 0.95),
    ):
        inside = low <= share <= high
        near = min(abs(share - low), abs(share - high)) < 2.0 * se
        text = f"{name} {plus_minus(100 * share, 100 * se, '%')}, usual {plain(100 * low)} to {plain(100 * high)} %"
        outcome.verdicts.append(judged(None if near else inside, text, "common practice, from memory"))
    return outcome


_RULES = tuple(rule.name for rule in SPREAD_RULES)
_SUPPLY = Field("supply", "tester_pressure", "gauge of the supply, above the air around")
_ORIFICE = Field("orifice", "gap", "diameter of the tester's orifice")

TOPICS = (
    Topic(
        "compression", "a row of cylinders against the best one",
        (
            Field("cylinder", "compression", row=True, gaps=True, cylinders=True),
            Field("rule", "word", needed=False, assumed="three quarters", words=_RULES),
        ),
        "share = lowest / highest; low is under the rule's share of the highest",
        _compression, (compression_row,), "172 170 60 175 psi", window="compression",
        slips=("throttle shut", "other plugs still in", "unequal number of puffs", "tired battery"),
        cautions=(CRANKING_CAUTION, "Limits are common practice: the maker's figure for the car wins."),
    ),
    Topic(
        "leakdown", "what a cylinder loses on a leak-down tester, and the row",
        (
            _SUPPLY,
            Field(
                "cylinder", "tester_pressure", "gauge of the cylinder, one or the row",
                row=True, cylinders=True, meter_of="supply",
            ),
        ),
        "leak = 100 (1 - cylinder / supply), both as the gauges show them",
        _leakdown, (leak_percent, leak_word, leak_row), "80psi 74 72 55 75", window="share",
        slips=("not at top dead centre of compression", "engine cold", "gauges not compared with outlet shut"),
        cautions=(AIR_CAUTION,),
    ),
    Topic(
        "leaks", "a row of leaks in percent, from one tester",
        (Field("leak", "share", "leak of each cylinder", row=True, cylinders=True),),
        "apart = leak - lowest leak",
        _leaks, (leak_row,), "8 9 7 31", window="share",
        slips=("rows of two testers mixed: convert first (tester)",),
        cautions=(AIR_CAUTION,),
    ),
    Topic(
        "hole", "a leak as the hole it is, whatever the tester",
        (
            _SUPPLY,
            Field("cylinder", "tester_pressure", "gauge of the cylinder", meter_of="supply"),
            Field("orifice", "gap", _ORIFICE.says, needed=False, assumed="1.016 mm"),
        ),
        "flow through the orifice = flow through the leak; area = π d² / 4",
        _hole, (leak_hole,), "80psi 60psi --orifice .040in", window="gap",
        slips=("orifice of the tester not known",),
        cautions=(AIR_CAUTION,),
    ),
    Topic(
        "tester", "a leak in percent turned to another tester",
        (
            Field("leak", "share", "leak shown"),
            _SUPPLY,
            _ORIFICE,
            Field("to-supply", "tester_pressure", "supply of the other tester", needed=False, assumed="551.58 kPa"),
            Field("to-orifice", "gap", "orifice of the other tester", needed=False, assumed="1.016 mm"),
        ),
        "the same hole behind another orifice and supply",
        _tester, (convert_percent,), "10% 80psi .040in --to-supply 100psi --to-orifice .060in", window="share",
        slips=("percent of two testers compared without this",),
    ),
    Topic(
        "wet", "what oil brought to a low cylinder",
        (
            Field("dry", "compression", "before the oil"),
            Field("wet", "compression", "after about 15 ml of oil", meter_of="dry"),
            Field("swept", "volume", "swept volume of one cylinder", needed=False, bare="ml"),
            Field("ratio", "number", "compression ratio", needed=False),
        ),
        "gain = wet - dry; oil takes up room: clearance = swept / (ratio - 1)",
        _wet, (wet_gain, oil_volume_gain), "100psi 150psi --swept 500ml --ratio 9.5", window="compression",
        slips=("too much oil", "another number of puffs than dry", "flat engine: oil runs to one side"),
        cautions=(CRANKING_CAUTION, "Too much oil can lock an engine: a tablespoon, no more."),
    ),
    Topic(
        "puffs", "how compression builds from the first puff",
        (Field("puff", "compression", "gauge after each puff", row=True),),
        "share = first puff / last puff",
        _puffs, (build_up,), "90 130 157 170 psi",
        slips=("gauge not let down to zero first", "weak battery"),
        cautions=(CRANKING_CAUTION,),
    ),
    Topic(
        "running", "running compression: how a cylinder fills and empties",
        (
            Field("cranking", "compression", "cranking"),
            Field("idle", "compression", "at idle", meter_of="cranking"),
            Field("snap", "compression", "at a snap of the throttle", meter_of="cranking"),
        ),
        "shares = idle / cranking and snap / cranking",
        _running, (running_compression,), "175psi 65psi 140psi",
        slips=("valve left in the gauge hose", "snap too slow"),
        cautions=("Ground the lead taken off and unplug its injector; clear of fans, belts and the hot manifold.",),
    ),
    Topic(
        "expected", "what a healthy cylinder should read, from ratio and valve timing",
        (
            Field("ratio", "number", "compression ratio, 9.5 for 9.5 to 1"),
            Field("closing", "angle", "intake valve closes, degrees past bottom dead centre"),
            Field("stroke", "length", "stroke"),
            Field("rod", "length", "length of the connecting rod, eye to eye"),
            Field("altitude", "height", "height above the sea", needed=False, assumed="0 m"),
        ),
        "gauge = air (dynamic ratio^n - 1), n from 1.2 to 1.3, ratio from where the intake valve closes",
        _expected, (expected_gauge,), "9.5 50 88mm 148mm --altitude 1500m", gives="compression",
        source="ISO 2533:1975 for the air",
        slips=("ratio of another engine variant", "closing taken at 1 mm lift instead of at the seat"),
        cautions=("The maker's figure wins over any reckoning.",),
    ),
    Topic(
        "altitude", "a compression reading at another altitude",
        (
            Field("pressure", "compression", "reading"),
            Field("here", "height", "where it was measured"),
            Field("there", "height", "where it is wanted", needed=False, assumed="0 m"),
        ),
        "gauge pressure scales with the pressure of the air around",
        _altitude, (gauge_at_altitude,), "145psi 1500m", window="compression",
        slips=("corrected twice: the row needs no correction, all cylinders share the air",),
    ),
)  # fmt: skip
