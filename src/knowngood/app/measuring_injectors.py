"""Topics of injectors: flow, duty, dead time, balance, a rail that holds."""

from __future__ import annotations

from knowngood.app.measuring_entry import Given
from knowngood.app.measuring_mixture import FUEL_CAUTION
from knowngood.app.measuring_shown import in_unit_of, judged, listed, measured, said, typed
from knowngood.app.measuring_topic import Checked, Field, Outcome, Topic
from knowngood.measure.injector import dead_time, duty, flow_at_pressure, pressure_across, rail_hold
from knowngood.measure.injector_balance import (
    DROP_LIMIT_KPA,
    FLOW_LIMIT_PCT,
    InjectorShare,
    drop_balance,
    flow_balance,
)

OPEN_PCT = 85.0
"""Over this an injector no longer closes fully between pulses (from memory)."""


def _injector(given: Given) -> Outcome:
    flow, se = flow_at_pressure(
        given.value("flow"),
        given.value("from"),
        given.value("to"),
        flow_se_ml_min=given.se("flow", 0.01 * given.value("flow")),
        from_se_kpa=given.se("from", 0.0),
        to_se_kpa=given.se("to", 0.0),
    )
    working = f"{given.text('flow')} x √({given.text('to')} / {given.text('from')})"
    return Outcome(working, [in_unit_of(given, "flow", "flow", flow, se)], checked=[Checked("flow", flow, se)])


def _across(given: Given) -> Outcome:
    rail, manifold, outside = given.value("rail"), given.value("manifold"), given.value("outside")
    across, se = pressure_across(rail, manifold, outside_kpa=outside, rail_se_kpa=given.se("rail", 3.0))
    working = f"{rail:.1f} + {outside:.1f} - {manifold:.1f} kPa"
    return Outcome(
        working, [in_unit_of(given, "rail", "across the injector", across, se)], checked=[Checked("across", across, se)]
    )


def _duty(given: Given) -> Outcome:
    pulse, speed, pulses = given.value("pulse", "ms"), given.value("speed"), given.count("pulses")
    share, se = duty(pulse, speed, pulses_per_cycle=pulses, pulse_se_ms=given.se("pulse", 0.05, "ms"))
    outcome = Outcome(
        f"{pulse:g} ms x {pulses} / (120000 / {speed:g} ms)",
        [measured("open", share, se, "%")],
        checked=[Checked("open", share, se)],
    )
    good = None if abs(share - OPEN_PCT) < 2.0 * se else share < OPEN_PCT
    text = f"{share:.1f} %: over about {OPEN_PCT:g} % an injector no longer closes fully"
    outcome.verdicts.append(judged(good, text, "common practice, from memory"))
    return outcome


def _deadtime(given: Given) -> Outcome:
    short_ms, long_ms = given.value("short", "ms"), given.value("long", "ms")
    short_ml, long_ml = given.value("short-amount", "ml"), given.value("long-amount", "ml")
    line = dead_time(short_ms, short_ml, long_ms, long_ml, given.count("pulses"))
    return Outcome(
        f"line through ({short_ms:g} ms, {short_ml:g} ml) and ({long_ms:g} ms, {long_ml:g} ml) meets nothing delivered",
        [
            measured("dead time", line.dead_time_ms, line.dead_time_se_ms, "ms"),
            measured("flow while open", line.flow_ml_min, line.flow_se_ml_min, "ml/min"),
        ],
        checked=[Checked("dead time", line.dead_time_ms / 1000.0, line.dead_time_se_ms / 1000.0)],
    )


def _judge_row(outcome: Outcome, shares: tuple[InjectorShare, ...], limit: str) -> None:
    for word in ("low", "high", "at the limit"):
        places = tuple(share.cylinder for share in shares if share.word == word)
        if places:
            good = None if word == "at the limit" else False
            text = f"{listed(places, 'injector')} {word}, {limit} off the middle"
            outcome.verdicts.append(judged(good, text, "common practice"))
    if all(share.word == "alike" for share in shares):
        outcome.verdicts.append(judged(True, f"row: alike within {limit}", "common practice"))


def _balance(given: Given) -> Outcome:
    amounts = given.values("amount", "ml")
    shares = flow_balance(dict(enumerate(amounts, start=1)), amount_se_ml=given.se("amount", 0.5, "ml"))
    outcome = Outcome(
        f"middle of {', '.join(f'{one:g}' for one in amounts)} ml",
        [
            measured(f"injector {one.cylinder} off the middle", one.from_middle, one.from_middle_se, "%")
            for one in shares
        ],
    )
    _judge_row(outcome, shares, f"{FLOW_LIMIT_PCT:g} %")
    return outcome


def _drops(given: Given) -> Outcome:
    drops = given.values("drop")
    shares = drop_balance(dict(enumerate(drops, start=1)), drop_se_kpa=given.se("drop", 2.0))
    outcome = Outcome(
        f"middle of {', '.join(typed(given, 'drop', one) for one in drops)}",
        [
            in_unit_of(given, "drop", f"injector {one.cylinder} off the middle", one.from_middle, one.from_middle_se)
            for one in shares
        ],
    )
    _judge_row(outcome, shares, f"{DROP_LIMIT_KPA:g} kPa")
    return outcome


def _holds(given: Given) -> Outcome:
    first, later, minutes = given.value("first"), given.value("later"), given.value("time", "min")
    hold = rail_hold(
        first,
        later,
        minutes,
        allowed_loss_kpa=given.value_or_none("allowed"),
        gauge_se_kpa=given.worst_se(("first", "later"), 3.0),
    )
    outcome = Outcome(
        f"({given.text('first')} - {given.text('later')}) / {minutes:g} min",
        [
            in_unit_of(given, "first", "lost", hold.lost_kpa, hold.se_kpa),
            in_unit_of(given, "first", "lost a minute", hold.rate_kpa_min, hold.rate_se_kpa_min),
        ],
        checked=[Checked("later", later, given.se("later", 3.0))],
    )
    if given.has("allowed"):
        good = {"holds": True, "leaks": False}.get(hold.verdict)
        text = f"{hold.verdict}: {given.text('allowed')} may be lost over this time"
        outcome.verdicts.append(judged(good, text, "the car's own figure"))
    else:
        outcome.results.append(said("limit", "none given: add as allowed the loss the car's data allow"))
    return outcome


_FLOW_SLIP = "flow rated at another pressure: ratings are usually at 300 kPa"

TOPICS = (
    Topic(
        "injector", "injector flow at another pressure",
        (
            Field("flow", "fluid_flow", "while open"),
            Field("from", "fuel_pressure", "pressure across it at that flow"),
            Field("to", "fuel_pressure", "pressure across it wanted", meter_of="from"),
        ),
        "flow2 = flow1 √(p2 / p1)",
        _injector, (flow_at_pressure,), "200ml/min 300kPa 400kPa", window="fluid_flow",
        slips=(_FLOW_SLIP, "rail pressure typed for the pressure across"),
        cautions=(FUEL_CAUTION,),
    ),
    Topic(
        "across", "pressure that drives fuel through a port injector",
        (
            Field("rail", "fuel_pressure"),
            Field("manifold", "manifold_pressure"),
            Field("outside", "air_pressure", needed=False, assumed="101.325 kPa"),
        ),
        "across = rail + air around - manifold",
        _across, (pressure_across,), "250kPa 35kPa", window="fuel_pressure",
        source="arithmetic: a gauge reads above the air around, the manifold absolutely",
        slips=("vacuum typed for pressure",),
        cautions=(FUEL_CAUTION,),
    ),
    Topic(
        "duty", "share of the time an injector is commanded open",
        (
            Field("pulse", "pulse"),
            Field("speed", "engine_speed"),
            Field("pulses", "number", "in two turns: 1 sequential, 2 all at once each turn", needed=False, assumed="1"),
        ),
        "duty = pulse x pulses / (120000 ms / speed)",
        _duty, (duty,), "3ms 800rpm", window="share",
        source="arithmetic: two turns of the crankshaft a cycle",
        slips=("two pulses a cycle taken for one",),
    ),
    Topic(
        "deadtime", "dead time and flow of an injector from two runs on the bench",
        (
            Field("short", "pulse", "pulse of the first run"),
            Field("short-amount", "volume", "caught in it", bare="ml"),
            Field("long", "pulse", "pulse of the second run"),
            Field("long-amount", "volume", "caught in it", meter_of="short-amount"),
            Field("pulses", "number", "in each run"),
        ),
        "amount = flow x (pulse - dead time), a line through two runs",
        _deadtime, (dead_time,), "4ms 10ml 10ms 30ml 1000", window="pulse",
        source="geometry: a line through two points",
        slips=("supply voltage not held", "pulse too short to lie on the line"),
        cautions=(FUEL_CAUTION, "Test fluid instead of petrol where the bench allows it."),
    ),
    Topic(
        "balance", "injectors by what each delivered in the same time",
        (Field("amount", "volume", "of each injector", row=True, cylinders=True, bare="ml"),),
        "off = amount / middle - 1",
        _balance, (flow_balance,), "50 51 38 49 ml",
        source="common practice: 10 % between injectors",
        slips=("unequal times", "glass not level"),
        cautions=(FUEL_CAUTION,),
    ),
    Topic(
        "drops", "injectors by the pressure each takes from a shut rail",
        (Field("drop", "fuel_pressure", "of each injector, same train of pulses", row=True, cylinders=True),),
        "off = drop - middle",
        _drops, (drop_balance,), "60 62 41 58 kPa",
        source="common practice: 10 kPa between injectors",
        slips=("pump not brought to the same pressure each time", "a rail that leaks by itself"),
        cautions=(FUEL_CAUTION, "Fuel gathers in that cylinder: one train each, then crank it out."),
    ),
    Topic(
        "holds", "whether a shut-off fuel rail holds its pressure",
        (
            Field("first", "fuel_pressure", "just after shut-off"),
            Field("later", "fuel_pressure", "later", meter_of="first"),
            Field("time", "work_time", "between them"),
            Field("allowed", "fuel_pressure", "loss the car's data allow", needed=False, meter_of="first"),
        ),
        "loss a minute = (first - later) / time",
        _holds, (rail_hold,), "300kPa 180kPa 5min --allowed 50kPa", window="fuel_pressure",
        source="arithmetic",
        slips=("hot engine: heat raises the pressure for minutes",),
        cautions=(FUEL_CAUTION,),
    ),
)  # fmt: skip
