"""What an answer makes one do next.

A plan made for an outcome repairs blind to the end; its first repair is what is done next only where nothing is looked
at any more. On draws one looks on, mostly: there each check, and each repair that may come first, is priced anew with
the weights the outcome leaves, as first steps are, and the cheapest is said.
"""

from __future__ import annotations

from collections.abc import Sequence
from copy import copy
from dataclasses import replace

import numpy as np

from knowngood.planner.beginnings import beginnings, onward_from
from knowngood.planner.candidates import LEAST_CHANCE, Candidate, heads_of
from knowngood.planner.plans import NOBODY
from knowngood.planner.pricing import Option, Pricing
from knowngood.planner.problem import CheckAt, Repair
from knowngood.planner.steps import Step

CHECKS, REPAIRS, OUTCOMES = 8, 3, 5


def foretold(pricing: Pricing, candidates: Sequence[Candidate], step: Step) -> Step:
    """A check with what each of its likelier outcomes makes one do next.

    Where all fault sets are known, plans after a check are planned through, and say it already. So is what follows
    several checks made in one go left as it is.
    """
    option = next((one.option for one in candidates if one.step.action is step.action), None)
    if option is None or step.together or not pricing.looks_on:
        return step
    others = _others(candidates, option)
    likelier = step.after[:OUTCOMES]
    outcomes = [after_outcome(pricing, option, option.shown.names.index(one.outcome)) for one in likelier]
    after = []
    for one, priced in zip(likelier, _priced(outcomes, others), strict=True):
        then = min(priced, key=lambda pair: round(pair[0], 6))[1] if priced else None  # no step: prove
        check, repair = (then, None) if isinstance(then, CheckAt) else (None, then)
        after.append(replace(one, check=check, repair=repair))
    return replace(step, after=(*after, *step.after[OUTCOMES:]))


def spared_by(pricing: Pricing, candidates: Sequence[Candidate], look: Step, repair: Repair) -> float:
    """Money that a look spares where its answers make one do something better than a repair that would come first.

    After each answer the repair at once is set against the best there is then, on the same weights; where no answer
    leads elsewhere nothing is spared. What something else would save without the look, priced alike, is no merit of
    the look. The price of the look itself is not taken off. Of many answers the likeliest are counted. Infinite where
    it is not known: all fault sets are, so that prices look ahead, or the step is no check.
    """
    option = next((one.option for one in candidates if one.step.action is look.action), None)
    row = next((row for row, one in enumerate(pricing.board.repairs) if one == repair), NOBODY)
    if option is None or row == NOBODY or look.together or not pricing.looks_on:
        return np.inf
    others = _others(candidates, option)

    likeliest = [int(each) for each in np.argsort(-option.chance, kind="stable")[:OUTCOMES]]
    answers = [each for each in likeliest if option.chance[each] > LEAST_CHANCE]
    outcomes = [after_outcome(pricing, option, each) for each in answers]
    *after, before = (
        min(cost for cost, step in priced if step == repair) - min(cost for cost, _ in priced)
        for priced in _priced([*outcomes, pricing], others, [row])
    )
    spared = sum(float(option.chance[each]) * better for each, better in zip(answers, after, strict=True))
    return max(0.0, spared - before)


def _others(candidates: Sequence[Candidate], option: Option) -> list[Option]:
    return [one.option for one in candidates if one.option is not None and one.option is not option][:CHECKS]


def _priced(
    several: Sequence[Pricing], others: Sequence[Option], besides: Sequence[int] = ()
) -> list[list[tuple[float, Repair | CheckAt | None]]]:
    """From each of several, steps with the money they lead to: best repairs and those ``besides`` (rows), proof,
    checks."""
    begun = []
    for there in several:
        heads = [head for head in heads_of(there)[:REPAIRS] if head != NOBODY]
        begun.append(beginnings(there, list(dict.fromkeys([*heads, *besides]))))
    result = []
    for there, onward in zip(several, onward_from(list(zip(several, begun, strict=True))), strict=True):
        priced: list[tuple[float, Repair | CheckAt | None]] = [
            (one.cost, there.board.repairs[head] if isinstance(head, int) else None) for head, one in onward.items()
        ]
        checks = there.problem.checks
        result.append(priced + [(_with(there, other), checks[other.index]) for other in others])
    return result


def after_outcome(pricing: Pricing, option: Option, outcome: int) -> Pricing:
    """The same prices with the weights an outcome leaves, and with what the check needs open."""
    sets = option.shown.like[outcome] * pricing.weight
    there = copy(pricing)
    there.weight = sets / sets.sum()
    patterns = pricing.board.gathered(there.weight[None, :])[0]
    opened = pricing.board.opened | pricing.mask(pricing.problem.checks[option.index])
    there.board = replace(pricing.board, weight=patterns, weight_of_sets=there.weight, opened=opened)
    there.bare = option.plans.some(slice(outcome, outcome + 1))
    there.pool = np.concatenate([pricing.pool, option.plans.each])
    there.heads = np.concatenate([pricing.heads, option.plans.heads])
    return there


def _with(there: Pricing, other: Option) -> float:
    """Money to the end when another check comes next; each of its outcomes met with the best plan there is."""
    check = there.problem.checks[other.index]
    rows = there.joint(other.shown.like)
    pool = np.concatenate([there.pool, other.plans.each])
    onward = there.onward((rows @ pool.T).min(axis=1), rows @ there.seen_all, rows.sum(axis=1))
    return there.problem.check_cost(check) + there.opening(check, there.board.opened) + float(onward.sum())
