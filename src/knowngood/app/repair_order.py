"""What is decided on a car, in the order with the fewest minutes; and what is worth doing while it is apart."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from knowngood.app.state import State
from knowngood.app.tasks import access_graph, repairs_of
from knowngood.belief.protocol import FaultAt
from knowngood.planner.problem import AccessGraph, Repair
from knowngood.planner.repair_plan import Job, Move, RepairPlan, repair_plan
from knowngood.sheets.words import in_words, minutes, money

DECIDED = 0.5  # a repair that is more likely needed than not is planned
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
    offers: list[Offer]


def repair_order(state: State, least: float = DECIDED) -> RepairOrder:
    """Repairs that are more likely needed than not, ordered; parts that must come first are named."""
    access, rate = access_graph(state), state.settings.rate_per_hour
    repairs = {repair.id: repair for repair in repairs_of(state, WORTH_OFFERING)}
    chances = {name: state.belief.chance_of_any(_behind(state, repair)) for name, repair in repairs.items()}
    chosen = [repair for name, repair in repairs.items() if chances[name] >= least]
    plan = repair_plan([job_of(repair) for repair in chosen], access)
    opened = frozenset(move.what for move in plan.moves if move.do == "open") | access.open
    return RepairOrder(
        lines=list(_lines(state, plan, repairs)),
        minutes=plan.minutes,
        one_by_one=plan.one_by_one,
        gap=plan.gap,
        waits_for=[f"{repair.name}: part in {repair.wait_days:g} d" for repair in chosen if repair.wait_days > 0],
        offers=_offers(access, opened, [repair for repair in repairs.values() if repair not in chosen], chances, rate),
    )


def job_of(repair: Repair) -> Job:
    """A repair as a job of the plan, on the first day its part is here."""
    return Job(
        id=repair.id, name=repair.name, minutes=repair.minutes, access=repair.access, day=-int(-repair.wait_days // 1)
    )


def _behind(state: State, repair: Repair) -> Sequence[FaultAt]:
    """The faults a repair is planned for: those there for a reason that was noticed, or all but sure."""
    column = state.belief.model.column
    chances = state.belief.chances()
    return [
        at
        for at in repair.fixes
        if float(state.behind[column[at]]) >= WORTH_OFFERING or float(chances[column[at]]) >= WORTH_OFFERING
    ]


def _lines(state: State, plan: RepairPlan, repairs: dict[str, Repair]) -> Sequence[str]:
    return [_words(state, move, repairs) for move in plan.moves]


def _words(state: State, move: Move, repairs: dict[str, Repair]) -> str:
    time = f" ({minutes(move.minutes)})" if move.minutes else ""
    match move.do:
        case "open":
            return f"take off: {state.library.access[move.what].name}{time}"
        case "close":
            return f"put back: {state.library.access[move.what].name}{time}"
        case "do":
            repair = repairs[move.what]
            return f"{repair.name}{time}{f', {money(repair.money)} in parts' if repair.money else ''}"
        case "warm":
            return f"run it until hot{time}"
        case "cool":
            return f"let it cool{time}"
    return f"wait {move.what}"


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
