"""What would change the advice: the minutes or the price at which another step comes first.

The expected money of a plan is linear in every single cost, with the chance
that it is paid as its slope; the cheapest of several plans is a broken line
that bends down. The first step's own price climbs straight, so it meets the
cheapest of the others once.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from knowngood.planner.candidates import Candidate
from knowngood.planner.plans import NOBODY
from knowngood.planner.pricing import Pricing
from knowngood.planner.steps import Flip, Step

FARTHEST = 1e6  # money; a change of advice beyond it is none
HALVINGS = 80  # down to the last digit


def flips_of(pricing: Pricing, candidates: Sequence[Candidate]) -> tuple[Step, list[Flip]]:
    """The first step with its flip points, and all simple flip points.

    Parameters
    ----------
    pricing : Pricing
    candidates : sequence of Candidate
        Cheapest first.

    Notes
    -----
    Asked about: what the first step takes, and, where it is a check, what the first repair of the plan without checks
    costs. Were that repair's price to change, each plan is taken to stay as it is, so that point is close, not exact.
    """
    first, others = candidates[0], candidates[1:]
    step, per_minute = first.step, pricing.problem.per_minute
    if not others:
        return step, []
    meets = _meets(first, others, _dearer(first))
    flips = []
    if meets is not None:
        extra, other = meets
        at_minutes, at_money = step.minutes + extra / per_minute, step.money + extra
        flips.append(Flip(step.action, "minutes", step.minutes, at_minutes, other.step.action))
        if step.money > 0:
            flips.append(Flip(step.action, "money", step.money, at_money, other.step.action))
        step = replace(step, flip_minutes=at_minutes, flip_money=at_money if step.money > 0 else None)
    return step, flips + _price_of_replacing(pricing, first, others)


def _dearer(first: Candidate) -> Callable[[Candidate, float], float]:
    """Money to the end of any candidate were the first one's own step dearer."""
    option = first.option
    if option is not None:
        index = option.index
        return lambda candidate, extra: candidate.if_check_costs_more(index, extra)
    if first.row != NOBODY:
        return lambda candidate, extra: candidate.if_repair_costs_more(first.row, extra)
    return lambda candidate, extra: candidate.step.cost + (extra if candidate is first else 0.0)


def _meets(
    first: Candidate, others: Sequence[Candidate], cost: Callable[[Candidate, float], float], sign: float = 1.0
) -> tuple[float, Candidate] | None:
    """How much dearer (or cheaper, ``sign`` -1) makes another candidate come first, and which."""

    def lead(extra: float) -> float:
        return min(cost(other, sign * extra) for other in others) - cost(first, sign * extra)

    low, high = 0.0, 1.0
    while lead(high) > 0.0:
        low, high = high, 2.0 * high
        if high > FARTHEST:
            return None
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if lead(middle) > 0.0 else (low, middle)
    return sign * high, min(others, key=lambda other: cost(other, sign * high))


def _price_of_replacing(pricing: Pricing, first: Candidate, others: Sequence[Candidate]) -> list[Flip]:
    """How cheap the first repair of the plan without checks must be before it is done without looking."""
    head = pricing.bare.first(0)
    begins = [other for other in others if other.row == head]
    if head == NOBODY or first.option is None or not begins:
        return []
    repair = pricing.board.repairs[head]
    meets = _meets(first, begins, lambda candidate, extra: candidate.if_repair_costs_more(head, extra), -1.0)
    if meets is None or repair.money + meets[0] < 0.0:
        return []
    return [Flip(repair, "money", repair.money, repair.money + meets[0], repair)]
