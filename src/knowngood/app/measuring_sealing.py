"""Topics of sealing: leak-down, the leak as a hole, compression."""

from __future__ import annotations

import math

from knowngood.app.measuring_entry import Given
from knowngood.app.measuring_leakdown import LEAK_TOPICS
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
from knowngood.measure.constant import KPA_PER_PSI

CRANKING_CAUTION = (
    "Fuel and spark off, throttle open, clear of fans and belts; crank in short bursts, let the starter cool."
)


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
    psi = ranged(THE_SAME, found, "psi", 1.0 / KPA_PER_PSI)
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
    *LEAK_TOPICS,
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
