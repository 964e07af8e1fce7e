"""Topics of the leak-down tester: what a cylinder loses, its row, the hole it stands for, another tester."""

from __future__ import annotations

import math

from knowngood.app.measuring_entry import Given
from knowngood.app.measuring_shown import judged, listed, measured, said, typed
from knowngood.app.measuring_topic import Checked, Field, Outcome, Topic
from knowngood.measure.leakdown import (
    GAUGE_SE_KPA,
    ROW_POINTS,
    SUSPECT_PERCENT,
    leak_percent,
    leak_row,
    leak_word,
)
from knowngood.measure.sealing_hole import convert_percent, leak_hole
from knowngood.measure.sealing_path import PATHS, parts_heard

NOTHING = "nothing"

AIR_CAUTION = (
    "Air can turn the engine: hold the crankshaft at top dead centre, hands and bars off, regulator at zero first."
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


def _heard(given: Given) -> Outcome:
    openings = [word for word in given.word("where").split(", ") if word != NOTHING]
    found = parts_heard(openings, percent=given.value("leak"))
    outcome = Outcome(
        "; ".join(f"{one}: {' or '.join(PATHS[one])}" for one in openings) or "nothing was heard",
        [said("it names", "; ".join(found.parts) or "nothing")],
    )
    outcome.check += [found.remark] if found.remark else []
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


_SUPPLY = Field("supply", "tester_pressure", "gauge of the supply, above the air around")
_ORIFICE = Field("orifice", "gap", "diameter of the tester's orifice")

LEAK_TOPICS = (
    Topic(
        "heard", "where the air of a leaking cylinder comes out, and what that names",
        (
            Field("leak", "share", "leak of that cylinder on the tester"),
            Field("where", "word", "where the air was heard or seen", row=True, words=(*PATHS, NOTHING)),
        ),
        "each opening names its parts",
        _heard, (parts_heard,), "40% exhaust, oil filler",
        slips=("not at top dead centre of compression", "the tester's own joint leaks"),
        cautions=(AIR_CAUTION,),
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
)  # fmt: skip
