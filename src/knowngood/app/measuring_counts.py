"""Topics of counts: misfires, before and after, clean drives, orders, codes."""

from __future__ import annotations

from knowngood.app.measuring_entry import MOST_CYLINDERS, Given
from knowngood.app.measuring_shown import chance, judged, measured, plain, ranged, said
from knowngood.app.measuring_topic import Field, Outcome, Result, Topic
from knowngood.measure.before_after import session_change
from knowngood.measure.bracket import Bracket
from knowngood.measure.counting import none_seen
from knowngood.measure.crank_orders import (
    cranking_ripple,
    order_frequency,
    order_of_firing,
    phase_step_deg,
    torque_orders,
)
from knowngood.measure.misfire import cylinder_shares, dead_cylinder_pct, firings, misfire_rate
from knowngood.measure.misfire_change import clean_revolutions_needed, misfire_change
from knowngood.measure.misfire_rules import WINDOWS, window_standing
from knowngood.measure.proof import clean_drives_from_history, clean_drives_needed, clean_run_needed
from knowngood.measure.trouble_code import bytes_from_code, code_build

ALIKE = "speed, load, temperature and road not matched between the two sides"


def _misfire(given: Given) -> Outcome:
    count, turns = given.count("misfires"), given.count("turns")
    cylinders = given.count("cylinders", MOST_CYLINDERS)
    rate = misfire_rate(count, turns, cylinders)
    outcome = Outcome(
        f"{count} / ({turns} x {cylinders} / 2) = {count} / {firings(turns, cylinders)}",
        [
            ranged("failed", rate.percent, "%"),
            measured("in 1000 turns", rate.per_1000_rev),
            measured("one dead cylinder would be", dead_cylinder_pct(cylinders), unit="%"),
        ],
    )
    for name, window in WINDOWS.items():
        standing = window_standing(count, turns, cylinders, name)
        good = False if standing.surely_over else True if rate.percent.high < window.floor_pct else None
        text = f"{window.purpose}: {standing.percent.value:.2f} % against a floor of {window.floor_pct:g} %"
        outcome.verdicts.append(judged(good, text, f"{window.rule}, {window.basis}"))
    return outcome


def _shares(given: Given) -> Outcome:
    counts = {place: value for place, value in enumerate(given.count_row("cylinder"), start=1) if value is not None}
    found = cylinder_shares(counts)
    results = [
        measured(f"cylinder {number}", share, found.shares_se_pct[number], "%")
        for number, share in found.shares_pct.items()
    ]
    who = ", ".join(str(number) for number in found.cylinders)
    text = f"{found.code}{f': {who}' if who else ''}"
    return Outcome(f"of {sum(counts.values())} misfires in all", [*results, said("they sit in", text)])


def _change(given: Given) -> Outcome:
    before, after = given.values("before"), given.values("after")
    change = session_change(before, after, between_sd=given.value_or_none("between"))
    reach = Bracket(change.low, change.difference, change.high)
    return Outcome(
        f"{plain(change.after)} - {plain(change.before)} = {plain(change.difference, digits=3)}",
        [
            measured("before", change.before),
            measured("after", change.after),
            ranged("change, with 95 % confidence", reach),
            said("chance of as much by luck", chance(change.chance_by_luck)),
            said("so", change.verdict),
        ],
    )


def _blocks(given: Given) -> Outcome:
    before, after = (given.counts(name) for name in ("before", "after"))
    change = misfire_change(before, after)
    good = {"fewer": True, "more": False}.get(change.verdict)
    bad = [sum(one > 0 for one in side) for side in (before, after)]
    return Outcome(
        f"{bad[0]} of {len(before)} blocks with a misfire before, {bad[1]} of {len(after)} after",
        [
            ranged("bad blocks before", change.before, "%", 100.0),
            ranged("bad blocks after", change.after, "%", 100.0),
            said("chance of so few by luck", chance(change.test.conditional_fewer)),
            said("it may be written down", change.says),
        ],
        [judged(good, change.verdict, "exact conditional test, 5 % false alarms")],
    )


def _clean(given: Given) -> Outcome:
    count, turns = given.count("misfires"), given.value("turns")
    need = clean_revolutions_needed(count, turns)
    return Outcome(f"3.00 / ({count} / {turns:g} turns)", [ranged("clean turns wanted", need, "turns")])


def _seen(given: Given) -> Outcome:
    tries = given.count("tries")
    found = none_seen(tries)
    return Outcome(
        f"1 - 0.05^(1/{tries}) = {found.highest_share:.4f}; 3 / {tries} = {found.three_over_n:.3g}",
        [
            Result(
                name="with 95 % confidence fewer than", text=plain(100.0 * found.highest_share, "%", 3),
                value=100.0 * found.highest_share, unit="%",
            ),
        ],
    )  # fmt: skip


def _proof(given: Given) -> Outcome:
    before, wanted = given.value("chance") / 100.0, given.value("wanted") / 100.0
    shown, drives = given.count("shown"), given.count("drives")
    plan = clean_drives_from_history(before, shown, drives, wanted)
    outcome = Outcome(
        f"from {chance(before)} to under {chance(wanted)}; it showed on {shown} of {drives} drives",
        [
            measured("clean drives", plan.drives),
            said("chance that it is left then", chance(plan.chance_left)),
            said("one drive fewer", chance(plan.chance_one_short)),
        ],
    )
    if 0 < shown < drives:
        sure = clean_drives_needed(before, shown / drives, wanted)
        outcome.results.append(measured("were the share known for sure", sure.drives, unit="drives"))
    return outcome


def _run(given: Given) -> Outcome:
    before, wanted = given.value("chance") / 100.0, given.value("wanted") / 100.0
    run = clean_run_needed(before, given.count("shown"), given.value("over"), wanted)
    seen = f"it showed {given.value('shown'):g} times in {given.text('over')}"
    return Outcome(
        f"from {chance(before)} to under {chance(wanted)}; {seen}",
        [
            measured("clean distance", round(run.distance_km, 1), unit="km"),
            said("chance left", chance(run.chance_left)),
        ],
    )


def _orders(given: Given) -> Outcome:
    cylinders, speed = given.count("cylinders", MOST_CYLINDERS), given.value("speed")
    firing = order_of_firing(cylinders)
    outcome = Outcome(
        f"{speed:g} / 60 x order",
        [
            measured("half order, one dead cylinder", *order_frequency(0.5, speed), "Hz"),
            measured("first order, once a turn", *order_frequency(1.0, speed), "Hz"),
            measured(f"order {firing:g}, firing", *order_frequency(firing, speed), "Hz"),
            measured("half order turns from place to place by", phase_step_deg(cylinders), unit="°"),
        ],
    )
    if given.has("dead"):
        lines = torque_orders(cylinders, set(given.counts("dead")))
        tall = max(line.amplitude for line in lines)
        shares = ", ".join(f"{line.order:g}: {100 * line.amplitude / tall:.0f} %" for line in lines)
        outcome.results.append(said("orders with these places dead, of the tallest", shares))
    if given.has("cranking"):
        humps, se = cranking_ripple(cylinders, given.value("cranking"))
        outcome.results.append(measured("humps of starter current", humps, se, "Hz"))
    return outcome


def _code(given: Given) -> Outcome:
    build = code_build(given.word("code"))
    high, low = bytes_from_code(build.code)
    outcome = Outcome(
        f"{build.code[0]} {build.system}, {build.code[1]} {build.origin}, {build.code[2]} {build.area or 'no area'}",
        [
            said("system", build.system),
            said("who defined it", build.origin),
            said("two bytes", f"{high:02X} {low:02X}"),
        ],
    )
    if build.area:
        outcome.results.insert(2, said("area", build.area))
    if build.cylinder is not None:
        outcome.results.insert(2, said("cylinder", str(build.cylinder or "several, or none in particular")))
    return outcome


_CHANCE = Field("chance", "share", "chance that it is still there before the first clean drive")
_WANTED = Field("wanted", "share", "chance that it is left that is accepted", needed=False, assumed="2 %")

TOPICS = (
    Topic(
        "misfire", "share of firings that failed, against the floors of the law",
        (
            Field("misfires", "number", "counted"),
            Field("turns", "number", "of the crankshaft, over which they were counted"),
            Field("cylinders", "number", "of the engine"),
        ),
        "share = misfires / (turns x cylinders / 2)",
        _misfire, (misfire_rate, window_standing, firings, dead_cylinder_pct), "31 200 4",
        slips=("turns not known: the monitor pauses", "count of one cylinder taken for all"),
    ),
    Topic(
        "shares", "which cylinders hold the misfires",
        (Field("cylinder", "count", "misfires of each, - where not read", row=True, gaps=True, cylinders=True),),
        "share = misfires of one / misfires of all; over 90 % one, over 10 % each several",
        _shares, (cylinder_shares,), "2 96 1 1",
        slips=("number of the computer taken for the place on the engine",),
    ),
    Topic(
        "change", "before and after the work, one number a session",
        (
            Field("before", "number", "mean of each session before", row=True),
            Field("after", "number", "mean of each session after", row=True),
            Field("between", "number", "usual scatter between sessions, for a single one", needed=False),
        ),
        "difference of the means over their own scatter (Welch)",
        _change, (session_change,), "11.0 13.5 12.2 / 3.1 5.2 4.0",
        slips=(ALIKE, "rows of one session taken for many"),
    ),
    Topic(
        "blocks", "misfires in blocks of 200 turns, before and after",
        (
            Field("before", "count", "misfires of each block before", row=True),
            Field("after", "count", "misfires of each block after", row=True),
        ),
        "share of blocks with any misfire, exact limits",
        _blocks, (misfire_change,), "3 0 12 40 1 0 7 2 0 5 / 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0 0",
        slips=(ALIKE,),
    ),
    Topic(
        "clean", "turns without a misfire that speak against the old rate",
        (Field("misfires", "number", "counted before, spells once"), Field("turns", "number", "over which")),
        "turns = -ln(0.05) / rate",
        _clean, (clean_revolutions_needed,), "6 1000",
        slips=(ALIKE, "misfires of one spell counted one by one"),
    ),
    Topic(
        "seen", "how rare a fault is when none was seen",
        (Field("tries", "number", "starts, drives or turns without it"),),
        "share under 1 - 0.05^(1/n), about 3 / n",
        _seen, (none_seen,), "30",
        slips=("tries under conditions in which it cannot show",),
    ),
    Topic(
        "proof", "clean drives wanted before a fault may be called gone",
        (
            _CHANCE,
            Field("shown", "number", "drives on which it showed before"),
            Field("drives", "number", "of how many"),
            _WANTED,
        ),
        "odds left = odds before x mean chance that it hides on every clean drive",
        _proof, (clean_drives_from_history, clean_drives_needed), "30% 2 10 --wanted 2%",
        slips=("drives unlike those on which it showed",),
    ),
    Topic(
        "run", "clean distance wanted before a fault may be called gone",
        (
            _CHANCE,
            Field("shown", "number", "times it showed before, spells once"),
            Field("over", "distance", "over this distance"),
            _WANTED,
        ),
        "hidden over L: (over / (over + L))^(shown + 1/2)",
        _run, (clean_run_needed,), "30% 6 100km",
        slips=("roads unlike those on which it showed",),
    ),
    Topic(
        "orders", "frequencies of crank orders: where a dead cylinder shows",
        (
            Field("cylinders", "number", "of an evenly firing four-stroke"),
            Field("speed", "engine_speed"),
            Field("dead", "number", "places in the firing order that do not fire", row=True, needed=False),
            Field("cranking", "engine_speed", "cranking speed, for the humps of starter current", needed=False),
        ),
        "f = order x speed / 60; firing at half the number of cylinders",
        _orders, (order_frequency, order_of_firing, torque_orders, phase_step_deg, cranking_ripple),
        "4 800rpm --dead 1 --cranking 200rpm",
        source="arithmetic: a four-stroke repeats every two turns",
        slips=("speed not steady over the record", "cylinder numbers typed for places in the firing order"),
    ),
    Topic(
        "code", "what a trouble code says by its build alone",
        (Field("code", "text", "such as P0301"),),
        "letter: system; first digit: who defined it; second: area; the rest: which",
        _code, (code_build, bytes_from_code), "P0304",
        slips=("a code names a signal, not a part",),
    ),
)  # fmt: skip
