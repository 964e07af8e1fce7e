"""Everything that could be done first, with its price and what the price hangs on."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from knowngood.belief.protocol import Array
from knowngood.planner.beginnings import Onward
from knowngood.planner.later import Later
from knowngood.planner.plans import NOBODY, plan
from knowngood.planner.pricing import NO_CHECK, Option, Pricing
from knowngood.planner.problem import CheckAt, Problem, Repair
from knowngood.planner.steps import HAND_OVER, PROVE, After, Step
from knowngood.planner.ties import firm, firm_order

REPAIRS_SHOWN = 8
SURE = 0.97  # chance that a repair is needed, from which on it will be paid for whatever is read before it
LEAST_CHANCE = 1e-9


@dataclass(frozen=True)
class Candidate:
    """A first step.

    Parameters
    ----------
    step : Step
    option : Option or None
        Of a check.
    row : int
        Of a repair, its row on the board; else -1.
    bare : float
        Money when no check ever follows.
    uses : array (r,)
        Chance that each repair is made in that plan.
    later : tuple of Later
        The same beginning with a check after it.
    shift : float
        What looking on after it, or playing it through, has added to the price; mostly it takes off.
    """

    step: Step
    option: Option | None = None
    row: int = NOBODY
    bare: float = np.inf
    uses: Array = field(default_factory=lambda: np.zeros(0))
    later: tuple[Later, ...] = ()
    shift: float = 0.0

    def if_check_costs_more(self, check: int, extra: float) -> float:
        """Money to the end were one check dearer by so much."""
        if self.option is None:
            then = (each.cost + each.reach * extra * (each.check == check) for each in self.later)
            return self.shift + (min(self.bare, *then) if self.later else self.bare)
        if self.option.index == check:
            return self.step.cost + extra
        if not self.option.seconds or self.step.together:
            return self.step.cost
        return (
            self.shift
            + self.option.own
            + sum(
                min(
                    paid + float(self.option.chance[outcome]) * extra * (second == check)
                    for second, paid in ways.items()
                )
                for outcome, ways in self.option.seconds.items()
            )
        )

    def if_repair_costs_more(self, row: int, extra: float) -> float:
        """Money to the end were one repair dearer by so much, every plan kept as it is."""
        bare = self.bare + (float(self.uses[row]) if len(self.uses) else 0.0) * extra
        if self.option is not None:
            return self.step.cost + float(self.uses[row]) * extra
        then = (each.cost + extra * (each.head == row) for each in self.later)
        return self.shift + (min(bare, *then) if self.later else bare)


def minutes_of(problem: Problem, action: Repair | CheckAt) -> float:
    """Minutes of a step itself, with what must be opened and closed again."""
    access = problem.access
    return action.minutes + access.open_minutes(action.access) + access.close_minutes(action.access)


def check_candidate(pricing: Pricing, option: Option) -> Candidate:
    """A check as the first step, with what each outcome leads to."""
    problem = pricing.problem
    check = problem.checks[option.index]
    after = []
    for row, name in enumerate(option.shown.names):
        chance = float(option.chance[row])
        if chance <= LEAST_CHANCE:
            continue
        first = NOBODY if option.plans.proves_first(row) else option.plans.first(row)
        repair = pricing.board.repairs[first] if first != NOBODY else None
        second = option.second(row)
        raised, fallen = pricing.leading(option.shown.like[row], chance)
        then = problem.checks[second] if second != NO_CHECK else None
        after.append(After(name, chance, raised, fallen, repair, then))
    cost = option.cost
    step = Step(
        check,
        cost,
        minutes_of(problem, check),
        check.money + problem.tool_share * check.tool_price,
        problem.access.to_open(check.access),
        tuple(sorted(after, key=lambda one: -one.chance)),
        later=option.later if np.isfinite(option.later) else None,
    )
    return Candidate(step, option, uses=option.uses(len(pricing.board.repairs)))


def check_candidates(pricing: Pricing, options: Sequence[Option], most: int) -> list[Candidate]:
    """The first ``most`` checks; where reading several under one cover costs less to the end, the step says so."""
    result = {option.index: check_candidate(pricing, option) for option in options[:most]}
    for members, option in pricing.bundles(options):
        first = result.get(members[0])
        together = check_candidate(pricing, option)
        if first is not None and together.step.cost < first.step.cost:
            others = tuple(pricing.problem.checks[index] for index in members[1:])
            result[members[0]] = replace(together, step=replace(together.step, together=others, later=first.step.later))
    return list(result.values())


def heads_of(pricing: Pricing) -> list[int]:
    """Repairs worth beginning with: those the best plans begin with, then those with the most gain for their money."""
    board = pricing.board
    if not board.repairs:
        return []
    gain = (board.weight @ board.present) @ board.fixes.T / (board.cost + board.mask @ board.access_cost + 1e-9)
    ranked = [int(row) for row in firm_order(gain)[:REPAIRS_SHOWN] if gain[row] > LEAST_CHANCE]
    best = int(pricing.heads[firm(pricing.pool @ board.weight).argmin()])
    return [row for row in dict.fromkeys([best, pricing.bare.first(0), *ranked]) if row != NOBODY]


def needed_of(pricing: Pricing) -> Array:
    """Chance that there is something for each repair to put right (r,)."""
    board = pricing.board
    needed: Array = ((board.fixes > 0).astype(float) @ board.present.T > 0) @ board.weight
    return needed


def sure_of(pricing: Pricing) -> list[int]:
    """Repairs that are needed in as good as every draw, and for which less must come off than they take.

    Such a repair is paid for sooner or later. Made first it costs no more, and what is read after it is read without
    that fault. Where much must come off, what else is wrong beneath is worth knowing before.
    """
    board = pricing.board
    if pricing.scenarios.exact or not board.repairs:
        return []
    needed = needed_of(pricing)
    return [int(row) for row in np.flatnonzero((needed >= SURE) & (board.opening <= board.cost))]


def in_vain_of(pricing: Pricing) -> Array:
    """What making each repair first adds at most to any plan that looks first (r,).

    Its price, what comes off for it included, less what such a plan pays all the same where one of its faults is there:
    for the dearest of them the cheapest cure, as often as it takes until one works; and that only as often as this
    repair works. So a part in place of a plug that is off adds almost its price. What is read after it is read without
    those faults, and what the shop pays back is taken off. Infinite where much must come off, and where all fault sets
    are known.
    """
    board = pricing.board
    if pricing.scenarios.exact or not board.repairs:
        return np.full(len(board.repairs), np.inf)
    works = board.fixes.max(axis=1)
    price = board.cost + board.opening
    until_it_works = (price[:, None] / np.where(board.fixes > 0.0, board.fixes, np.nan)).T  # (f, r)
    cheapest = np.nan_to_num(until_it_works, nan=np.inf).min(axis=1, initial=np.inf)
    there = board.present > 0.0
    paid_anyway = np.array(
        [board.weight @ np.where(there & ends, cheapest, 0.0).max(axis=1, initial=0.0) for ends in board.fixes > 0.0]
    )
    back = np.array([board.refunded(row) for row in range(len(board.repairs))])
    adds = np.maximum(price - works * paid_anyway - back, 0.0)
    return np.where(board.opening <= board.cost, adds, np.inf)


def repair_candidates(
    pricing: Pricing, heads: Sequence[int], later: Sequence[Later], onward: Mapping[int | str, Onward], looking: float
) -> list[Candidate]:
    """Each likely repair as the first of a plan, with a check after it where that is worth its price.

    Parameters
    ----------
    pricing : Pricing
    heads : sequence of int
        Repairs to begin with, by their rows of the board.
    later : sequence of Later
        Checks priced right after a repair.
    onward : mapping
        What each leads to where one looks on after it; empty where all fault sets are known.
    looking : float [money]
        To the end by the best check; a repair that is needed in any case costs no more when made before it.
    """
    board, problem = pricing.board, pricing.problem
    if not heads:
        return []
    sure, in_vain = sure_of(pricing), in_vain_of(pricing)
    plans = plan(board, pricing.now.repeated(len(heads)), [pricing.style], first=np.array(heads), prove_first=False)
    needed = needed_of(pricing)
    result = []
    for at, row in enumerate(heads):
        repair = board.repairs[row]
        then = tuple(each for each in later if each.head == row)
        bare, chosen, which = float(plans.cost[at]), plans, at
        if row == pricing.bare.first(0) and not pricing.bare.proves_first(0) and pricing.bare.cost[0] < bare:
            bare, chosen, which = float(pricing.bare.cost[0]), pricing.bare, 0
        uses = chosen.some(slice(which, which + 1)).uses_of_all(len(board.repairs), np.ones(1))
        blind = min([bare, *(each.cost for each in then)])
        cost = min(blind, pricing.cheapest_from(row))
        if row in onward:
            cost, share = onward[row].cost, onward[row].share
            uses *= share
            uses[row] = 1.0 - (1.0 - share) * needed[row]
        cost = min(cost, looking + (0.0 if row in sure else float(in_vain[row])))
        step = Step(
            repair,
            cost,
            minutes_of(problem, repair),
            repair.money,
            problem.access.to_open(repair.access),
            in_vain=float(in_vain[row]),
        )
        result.append(Candidate(step, None, row, bare, uses, then, shift=cost - blind))
    return result


def end_candidates(pricing: Pricing, later: Sequence[Later], onward: Mapping[int | str, Onward]) -> list[Candidate]:
    """Proving now, and handing over now, where they can be meant."""
    problem, board = pricing.problem, pricing.board
    none = np.zeros(len(board.repairs))
    result = []
    nothing_left = float(board.weight[board.present.sum(axis=1) == 0].sum())
    if problem.may_prove and (nothing_left > LEAST_CHANCE or not board.repairs):
        proved = plan(board, pricing.now, [pricing.style], prove_first=True)
        bare = min(float(proved.cost[0]), float(pricing.bare.cost[0]) if pricing.bare.proves_first(0) else np.inf)
        share = onward[PROVE].share if PROVE in onward else 1.0
        uses = proved.uses_of_all(len(board.repairs), np.full(1, share))
        then = tuple(each for each in later if each.head == PROVE)
        prove = CheckAt(
            id=PROVE,
            name="prove it on the road",
            asks=(),
            minutes=problem.proof_minutes,
            money=problem.proof_money,
            kind=PROVE,
        )
        blind = min([bare, *(each.cost for each in then)])
        cost = onward[PROVE].cost if PROVE in onward else min(blind, pricing.cheapest_from(NOBODY))
        step = Step(prove, cost, problem.proof_minutes, problem.proof_money, ())
        result.append(Candidate(step, None, NOBODY, bare, uses, then, shift=cost - blind))
    if problem.hand_over is not None:
        rest = CheckAt(
            id="hand_over", name="hand it over", asks=(), minutes=0.0, money=problem.hand_over, kind=HAND_OVER
        )
        cost = problem.hand_over * (1.0 - nothing_left)
        result.append(Candidate(Step(rest, cost, 0.0, problem.hand_over, ()), None, NOBODY, cost, none))
    return result


def spread_of_price(pricing: Pricing, candidate: Candidate) -> float | None:
    """One standard error of a step's price from the draws; ``None`` where all fault sets are known.

    Of the plan without checks after the step: what it costs in each drawn set, and how far those costs lie apart.
    """
    if pricing.scenarios.exact:
        return None
    option = candidate.option
    if option is None:
        each = pricing.bare.each[0][pricing.board.pattern]
    else:
        each = (option.shown.like * option.plans.each[:, pricing.board.pattern]).sum(axis=0)
    weight = pricing.weight
    mean = float(weight @ each)
    variance = float(weight @ np.square(each - mean))
    return float(np.sqrt(variance * np.square(weight).sum()))
