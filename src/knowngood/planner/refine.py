"""The advice worked out further while the wrench turns: the best few first steps played through to the end.

The caller hears how far it has come and says when to stop; the planner reads no
clock. The step shown changes once at most, at the end, and only where another
is better by more than a toss-up.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from knowngood.planner.advice import SCENARIOS, SEED, advice_of, toss_up_of
from knowngood.planner.candidates import Candidate
from knowngood.planner.killers import held_back
from knowngood.planner.price_order import in_firm_order
from knowngood.planner.pricing import Pricing
from knowngood.planner.problem import Problem
from knowngood.planner.ranking import LIGHT, Effort, ranked
from knowngood.planner.rollout import Played, play
from knowngood.planner.steps import Advice

Patience = Callable[[Played], bool]


def to_the_end(played: Played) -> bool:
    """Waits until everything is played through."""
    return True


def refine(
    problem: Problem,
    *,
    seed: int = SEED,
    most: int = SCENARIOS,
    go_on: Patience = to_the_end,
    effort: Effort = LIGHT,
) -> Advice:
    """The advice, with the prices of its leading steps played through.

    Parameters
    ----------
    problem, seed, most
        As for :func:`~knowngood.planner.advice.advise`.
    go_on : callable
        Told how far it has come; False ends it with what there is.
    effort : Effort
        Of the ranking after each step that is played.

    Returns
    -------
    Advice
        ``changed_from`` is the step that came first before, where another does now.
    """
    pricing = Pricing(problem, seed=seed, most=most)
    candidates, held = held_back(pricing, ranked(pricing))
    last = None
    for played in play(pricing, candidates, effort=effort):
        last = played
        if not go_on(played):
            break
    assert last is not None
    changed = [
        replace(candidate, step=replace(candidate.step, cost=cost), shift=candidate.shift + cost - candidate.step.cost)
        for candidate, cost in zip(candidates, last.costs, strict=False)
    ]
    before = candidates[0].step
    order = _in_order(changed, pricing) + candidates[len(changed) :]
    advice = advice_of(pricing, order, held)
    return replace(
        advice,
        played=last.done,
        changed_from=before if order[0].step.action is not before.action else None,
    )


def _in_order(played: list[Candidate], pricing: Pricing) -> list[Candidate]:
    """By price; but the step that came first stays first unless another beats it by more than a toss-up."""
    by_cost = in_firm_order(played)
    best, before = by_cost[0], played[0]
    if best is not before and before.step.cost - best.step.cost <= toss_up_of(pricing.problem, best.step.cost):
        by_cost.remove(before)
        by_cost.insert(0, before)
    return by_cost
