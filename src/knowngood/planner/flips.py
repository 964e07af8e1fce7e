"""What would change the advice: the minutes or the price at which another step comes first.

The expected money of a plan is linear in every single cost, with the chance
that it is paid as its slope, so two plans cross at one value.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from knowngood.planner.plans import NOBODY
from knowngood.planner.pricing import Option, Pricing
from knowngood.planner.problem import CheckAt, Repair
from knowngood.planner.steps import Flip, Step

SAME_SLOPE = 1e-6


def flips_of(pricing: Pricing, steps: Sequence[Step], options: Sequence[Option]) -> tuple[list[Step], list[Flip]]:
    """The steps, the first with its flip points, and all simple flip points.

    Two numbers are asked about: what the first step takes, and, where the first step is a check, what the first
    repair of the plan without checks costs.
    """
    if len(steps) < 2:
        return list(steps), []
    first, second = steps[0], steps[1]
    problem = pricing.problem
    flips = []
    slope = 1.0 - _reach_later(second, first, options, pricing)
    if slope > SAME_SLOPE:
        spare = (second.cost - first.cost) / slope
        at_minutes = first.minutes + spare / problem.per_minute
        flips.append(Flip(first.action, "minutes", first.minutes, at_minutes, second.action))
        if first.money > 0:
            flips.append(Flip(first.action, "money", first.money, first.money + spare, second.action))
        first = replace(first, flip_minutes=at_minutes, flip_money=first.money + spare if first.money > 0 else None)
    price = _price_of_replacing(pricing, first, options)
    return [first, *steps[1:]], [*flips, *price]


def _reach_later(step: Step, of: Step, options: Sequence[Option], pricing: Pricing) -> float:
    """Chance that a repair-first plan makes a check later on."""
    if isinstance(step.action, CheckAt) or isinstance(of.action, Repair):
        return 0.0
    for option in options:
        if pricing.problem.checks[option.index] is of.action and abs(option.later - step.cost) < 1e-9:
            return option.later_reach
    return 0.0


def _price_of_replacing(pricing: Pricing, first: Step, options: Sequence[Option]) -> list[Flip]:
    """How cheap the first repair of the plan without checks must be before it is done without looking."""
    head = pricing.bare.first(0)
    option = next((each for each in options if pricing.problem.checks[each.index] is first.action), None)
    if head == NOBODY or option is None:
        return []
    repair = pricing.board.repairs[head]
    with_check = sum(option.plans.uses(row, head) for row in range(len(option.plans)))
    without = pricing.bare.uses(0, head)
    if without - with_check <= SAME_SLOPE:
        return []
    at = repair.money - (pricing.base - first.cost) / (without - with_check)
    return [Flip(repair, "money", repair.money, at, repair)] if at >= 0.0 else []
