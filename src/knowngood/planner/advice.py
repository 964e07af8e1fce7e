"""What to do next: every check priced against repairing, now and after the next repair, alone and in pairs.

The price of a step is the expected money to the end when starting with it and
going on with repair plans (:mod:`knowngood.planner.plans`), or with one more
check where that is worth its price. Comparing "now" with "after the next
repair" is what keeps the one-step comparison from buying checks too early
(Jensen et al. 2001); pairs are what keeps it from stopping too soon.

References
----------
Jensen et al., The SACSO methodology for troubleshooting complex systems, AI EDAM 15 (2001), 321-333.
Heckerman, Breese and Rommelse, Decision-theoretic troubleshooting, Communications of the ACM 38(3) (1995), 49-57.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from knowngood.belief.protocol import FaultAt
from knowngood.planner.flips import flips_of
from knowngood.planner.later import price_later
from knowngood.planner.plans import NOBODY, plan
from knowngood.planner.pricing import Option, Pricing
from knowngood.planner.problem import CheckAt, Problem, Repair
from knowngood.planner.steps import HAND_OVER, PROVE, Advice, After, Flip, Step

__all__ = ["Advice", "After", "Flip", "Step", "advise"]

SCENARIOS = 600
SHORTLIST = 20
FIRST_OF_PAIRS, SECOND_OF_PAIRS = 3, 5
PRICED_LATER, PRICED_LATER_ON_DRAWS = 5, 3
REPAIRS_SHOWN = 8
STEPS = 12
LEADING = 5
TOSS_UP_MINUTES = 5.0
TOSS_UP_SHARE = 0.03
LEAST_CHANCE = 1e-9


def advise(problem: Problem, *, seed: int = 2011, most: int = SCENARIOS) -> Advice:
    """Rank what could be done now by the money it leads to.

    Parameters
    ----------
    problem : Problem
    seed : int
        Of the draws; the same state should hand in the same seed.
    most : int
        Fault sets to price on; where there are no more than that, prices are exact.

    Returns
    -------
    Advice
        At most 12 steps; of a check that could be made at several places, the best place only.

    Raises
    ------
    Refused
        A repair or check needs an access step nobody described.
    """
    pricing = Pricing(problem, seed=seed, most=most)
    options = pricing.priced(pricing.shortlist(SHORTLIST))
    pricing.pair_up(options, FIRST_OF_PAIRS, SECOND_OF_PAIRS)
    best = sorted(options, key=lambda option: option.cost)
    heads = _heads(pricing)
    most_later = PRICED_LATER if pricing.scenarios.exact else PRICED_LATER_ON_DRAWS
    later = price_later(pricing, best[:most_later], heads)
    steps = [_check_step(pricing, option) for option in options]
    steps = _with_bundles(pricing, options, steps)
    steps += _repair_steps(pricing, heads, later)
    steps += _ends(pricing, later)
    steps = _one_of_a_kind(sorted(steps, key=lambda step: step.cost))
    toss_up = len(steps) > 1 and steps[1].cost - steps[0].cost <= max(
        TOSS_UP_MINUTES * problem.per_minute, TOSS_UP_SHARE * steps[0].cost
    )
    steps, flips = flips_of(pricing, steps, options)
    order = tuple(pricing.board.repairs[index] for index in pricing.bare.order[0] if index != NOBODY)
    return Advice(
        tuple(steps[:STEPS]), pricing.base, order, toss_up, pricing.scenarios.exact, _leading(problem), tuple(flips)
    )


def _leading(problem: Problem) -> tuple[tuple[FaultAt, float], ...]:
    """The likeliest faults of those that must be put right."""
    chances = problem.belief.chances()
    ranked = sorted(
        (
            (fault, float(chance))
            for fault, chance in zip(problem.belief.faults, chances, strict=True)
            if (problem.must is None or fault in problem.must) and chance > LEAST_CHANCE
        ),
        key=lambda pair: -pair[1],
    )
    return tuple(ranked[:LEADING])


def _one_of_a_kind(steps: Sequence[Step]) -> list[Step]:
    """The best place of each check; the same look next door is no other step."""
    met: set[str] = set()
    result = []
    for step in steps:
        if isinstance(step.action, Repair) or step.action.id not in met:
            result.append(step)
            met.add(step.action.id)
    return result


def _minutes(problem: Problem, action: Repair | CheckAt) -> float:
    """Of a step itself, with what must be opened and closed again."""
    access = problem.access
    return action.minutes + access.open_minutes(action.access) + access.close_minutes(action.access)


def _check_step(pricing: Pricing, option: Option) -> Step:
    problem = pricing.problem
    check = problem.checks[option.index]
    after = []
    for row, name in enumerate(option.shown.names):
        chance = float(option.chance[row])
        if chance <= LEAST_CHANCE:
            continue
        first = NOBODY if option.plans.proves_first(row) else option.plans.first(row)
        repair = pricing.board.repairs[first] if first != NOBODY else None
        second = problem.checks[option.second[row]] if row in option.second else None
        leading, how_likely = pricing.leading(option.shown.like[row], chance)
        after.append(After(name, chance, leading, how_likely, repair, second))
    return Step(
        check,
        option.cost,
        _minutes(problem, check),
        check.money + problem.tool_share * check.tool_price,
        problem.access.to_open(check.access),
        tuple(sorted(after, key=lambda one: -one.chance)),
        later=option.later if np.isfinite(option.later) else None,
    )


def _with_bundles(pricing: Pricing, options: Sequence[Option], steps: Sequence[Step]) -> list[Step]:
    """Where reading several things under the same access costs less to the end, the step says so."""
    result = {step.action: step for step in steps}
    for members, option in pricing.bundles(options):
        first, *others = (pricing.problem.checks[index] for index in members)
        if option.cost < result[first].cost:
            step = _check_step(pricing, option)
            result[first] = Step(
                first, step.cost, step.minutes, step.money, step.opens, step.after, tuple(others), result[first].later
            )
    return list(result.values())


def _heads(pricing: Pricing) -> list[int]:
    """Repairs worth beginning with: the first of the best plan, then those with the most gain for their money."""
    board = pricing.board
    if not board.repairs:
        return []
    gain = (pricing.weight @ board.present) @ board.fixes.T / (board.cost + board.mask @ board.access_cost + 1e-9)
    ranked = [int(row) for row in np.argsort(-gain, kind="stable")[:REPAIRS_SHOWN] if gain[row] > LEAST_CHANCE]
    return [row for row in dict.fromkeys([pricing.bare.first(0), *ranked]) if row != NOBODY]


def _repair_steps(pricing: Pricing, heads: Sequence[int], later: Mapping[int | str, float]) -> list[Step]:
    """Each likely repair as the first of a plan, with a check after it where that is worth its price."""
    board, problem = pricing.board, pricing.problem
    if not heads:
        return []
    plans = plan(board, pricing.now.repeated(len(heads)), first=np.array(heads), prove_first=False)
    result = []
    for at, row in enumerate(heads):
        repair = board.repairs[row]
        cost = min(float(plans.cost[at]), later.get(row, np.inf))
        if row == pricing.bare.first(0) and not pricing.bare.proves_first(0):
            cost = min(cost, pricing.base)
        opens = problem.access.to_open(repair.access)
        result.append(Step(repair, cost, _minutes(problem, repair), repair.money, opens))
    return result


def _ends(pricing: Pricing, later: Mapping[int | str, float]) -> list[Step]:
    """Proving now, and handing over now, where they can be meant."""
    problem, board = pricing.problem, pricing.board
    result = []
    nothing_left = float(pricing.weight[board.present.sum(axis=1) == 0].sum())
    if nothing_left > LEAST_CHANCE or not board.repairs:
        cost = min(float(plan(board, pricing.now, prove_first=True).cost[0]), later.get(PROVE, np.inf))
        if pricing.bare.proves_first(0):
            cost = min(cost, pricing.base)
        prove = CheckAt(
            id=PROVE,
            name="prove it on the road",
            asks=(),
            minutes=problem.proof_minutes,
            money=problem.proof_money,
            kind=PROVE,
        )
        result.append(Step(prove, cost, problem.proof_minutes, problem.proof_money, ()))
    if problem.hand_over is not None:
        rest = CheckAt(
            id="hand_over", name="hand it over", asks=(), minutes=0.0, money=problem.hand_over, kind=HAND_OVER
        )
        result.append(Step(rest, problem.hand_over * (1.0 - nothing_left), 0.0, problem.hand_over, ()))
    return result
