"""What is decided on a car, in the order with the fewest minutes; and what is worth doing while it is apart."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import replace

import msgspec

from knowngood.app.state import State
from knowngood.app.tasks import access_graph, check_places, repairs_of
from knowngood.app.waiting import engine_now
from knowngood.belief.protocol import FaultAt
from knowngood.car import ENGINE
from knowngood.errors import Problem, Refused
from knowngood.planner.problem import COOL_MINUTES, AccessGraph, CheckAt, Repair
from knowngood.planner.repair_plan import Job, Move, repair_plan
from knowngood.sheets.words import in_words, minutes, money, small

DECIDED = 0.5  # a repair that is more likely needed than not for what was noticed is planned
SURE = 0.9  # so is one of a fault that is all but there, whatever was noticed
WORTH_OFFERING = 0.02


class Offer(msgspec.Struct, frozen=True, kw_only=True):
    """Something worth doing while its access is open, with the sum that says so."""

    name: str
    now: float
    later: float
    chance: float
    why: str


class RepairOrder(msgspec.Struct, frozen=True, kw_only=True):
    """The plan in words.

    ``minutes`` in this order, ``one_by_one`` each for itself, ``gap`` by how much a better order could be shorter.
    """

    lines: list[str]
    minutes: float
    one_by_one: float
    gap: float
    waits_for: list[str]
    tools_back: list[str]
    offers: list[Offer]


def repair_order(state: State, least: float = DECIDED, checks: Sequence[str] = ()) -> RepairOrder:
    """Repairs that what was noticed more likely needs than not, ordered; parts that must come first are named.

    A fault that is only likely on such a car (old brake fluid, a nest in the heater) is looked at before anything is
    taken off for it: it joins as an offer where its access is open anyway.

    Parameters
    ----------
    checks : sequence of str
        Checks to make in the same go, each by its id or by words of its name, at all of their places.

    Raises
    ------
    Refused
        No check of this car goes by such words, or more than one does.
    """
    access, rate = access_graph(state), state.settings.rate_per_hour
    repairs = {repair.id: repair for repair in repairs_of(state, WORTH_OFFERING)}
    chances = {name: state.belief.chance_of_any(_worth_offering(state, repair)) for name, repair in repairs.items()}
    chosen = [repair for repair in repairs.values() if _is_decided(state, repair, least)]
    looks = {check.id: check for check in (_check_named(state, words) for words in checks)}
    jobs = [*map(job_of, chosen), *map(check_job_of, looks.values())]
    plan = repair_plan(jobs, access, hot=engine_now(state.entries) == "hot")
    opened = frozenset(move.what for move in plan.moves if move.do == "open") | access.open
    return RepairOrder(
        lines=[_words(state, move, {**repairs, **looks}) for move in plan.moves],
        minutes=plan.minutes,
        one_by_one=plan.one_by_one,
        gap=plan.gap,
        waits_for=[
            f"{small(repair.name)}: part in {repair.wait_days:g} d" for repair in chosen if repair.wait_days > 0
        ],
        tools_back=[
            f"{small(look.name)}: tool back in {look.wait_days:g} d" for look in looks.values() if look.wait_days > 0
        ],
        offers=_offers(access, opened, [repair for repair in repairs.values() if repair not in chosen], chances, rate),
    )


class OrderWords(msgspec.Struct, frozen=True):
    """A plan as it is told: its steps, and the sentences below them."""

    steps: list[str]
    words: list[str]


def order_words(plan: RepairOrder) -> OrderWords:
    """The plan with what it saves, what is ordered first and what is worth doing while it is apart."""
    words = []
    if plan.lines:
        off = f", at most {minutes(plan.gap)} from the best order" if plan.gap >= 1 else ""
        gained = minutes(plan.one_by_one) != minutes(plan.minutes)
        apart = f"; one by one {minutes(plan.one_by_one)}" if gained else ""
        words.append(f"{minutes(plan.minutes)} this way{off}{apart}.")
    words += [f"Order now: {part}." for part in plan.waits_for]
    words += [f"Not sooner: {tool}." for tool in plan.tools_back]
    words += [f"While it is apart: {small(offer.name)}: {offer.why}." for offer in plan.offers]
    return OrderWords(plan.lines, words)


def job_of(repair: Repair) -> Job:
    """A repair as a job of the plan, on the first day its part is here."""
    return Job(
        id=repair.id, name=repair.name, minutes=repair.minutes, access=repair.access, day=math.ceil(repair.wait_days)
    )


def check_job_of(check: CheckAt) -> Job:
    """A check as a job of the plan, on the first day its tools are here, with the engine as it asks for."""
    return Job(
        id=check.id,
        name=check.name,
        minutes=check.minutes,
        access=check.access,
        day=math.ceil(check.wait_days),
        engine=check.engine or "any",
    )


def _check_named(state: State, words: str) -> CheckAt:
    wanted = words.casefold().split()
    found = {
        check.id: list(check_places(state, check))
        for check in state.library.checks.values()
        if check.id == words or all(word in check.name.casefold() for word in wanted)
    }
    fitting = {name: places for name, places in found.items() if places}
    exact = {name: fitting[name] for name in fitting if words in (name, state.library.checks[name].name)} or fitting
    if len(exact) != 1:
        there = "; ".join(f"{name} ({state.library.checks[name].name})" for name in exact)
        raise Refused(
            Problem(
                f"{len(exact) or 'No'} {'checks go' if exact else 'check of this car goes'} by '{words}'.",
                f"Name one: {there}." if exact else "`knowngood library --list checks` names them all.",
            )
        )
    ((_, places),) = exact.items()
    check = places[-1]  # the row comes last
    if len(check.asks) < sum(len(place.asks) for place in places if place.place != ENGINE):
        check = replace(check, name=f"{check.name}, at each place", minutes=sum(place.minutes for place in places))
    return replace(check, engine="running") if state.library.checks[check.id].engine == "running" else check


def _worth_offering(state: State, repair: Repair) -> Sequence[FaultAt]:
    """The faults of a repair that are likely enough to be done along, noticed or not."""
    column, chances = state.belief.model.column, state.belief.chances()
    return [at for at in repair.fixes if float(chances[column[at]]) >= WORTH_OFFERING]


def _is_decided(state: State, repair: Repair, least: float) -> bool:
    """Whether one of its faults is behind what was noticed with that chance, or is all but sure to be there."""
    column, chances = state.belief.model.column, state.belief.chances()
    columns = [column[at] for at in repair.fixes]
    return state.behind_any(columns) >= least or any(float(chances[one]) >= SURE for one in columns)


def _reason(state: State, repair: Repair) -> str:
    """The likeliest of what it puts right, and how likely: ``spark plug cracked, about 8 in 10``."""
    column, chances = state.belief.model.column, state.belief.chances()
    likeliest = max(repair.fixes, key=lambda at: float(chances[column[at]]))
    return f"{state.library.faults[likeliest.fault].name}, {in_words(float(chances[column[likeliest]]))}"


def _words(state: State, move: Move, jobs: Mapping[str, Repair | CheckAt]) -> str:
    time = f" ({minutes(move.minutes)})" if move.minutes else ""
    match move.do:
        case "open":
            return f"take off: {state.library.access[move.what].name}{time}"
        case "close":
            return f"put back: {state.library.access[move.what].name}{time}"
        case "do":
            job = jobs[move.what]
            why = f": {_reason(state, job)}" if isinstance(job, Repair) else ""
            return f"{job.name}{time}{f', {money(job.money)} in parts' if job.money else ''}{why}"
        case "warm":
            return f"run it until hot{time}"
        case "cool":
            beside = f"; other work goes on beside it, {minutes(move.minutes)} are counted"
            return f"let it cool, about {minutes(COOL_MINUTES)}{beside}"
    return f"wait {move.what}: what is to come is here then"


def _offers(
    access: AccessGraph, opened: frozenset[str], others: Sequence[Repair], chances: dict[str, float], rate: float
) -> list[Offer]:
    """Repairs whose access is open in the plan anyway, where doing them now costs less than its chance of later."""
    offers = []
    closed = AccessGraph(access.steps, frozenset())
    for repair in others:
        if not repair.access or not access.needed(repair.access) <= opened:
            continue
        again = closed.open_minutes(repair.access) + closed.close_minutes(repair.access)
        now = repair.minutes / 60.0 * rate + repair.money
        later = chances[repair.id] * (now + again / 60.0 * rate)
        if later > now:
            offers.append(
                Offer(
                    name=repair.name,
                    now=now,
                    later=later,
                    chance=chances[repair.id],
                    why=(
                        f"{money(now)} now; later {in_words(chances[repair.id])} of {money(now)} and "
                        f"{minutes(again)} to open and close again, {money(later)} on average"
                    ),
                )
            )
    return sorted(offers, key=lambda offer: offer.now - offer.later)
