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

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from knowngood.belief.protocol import FaultAt
from knowngood.planner.bound import within
from knowngood.planner.candidates import LEAST_CHANCE, Candidate, spread_of_price
from knowngood.planner.flips import flips_of
from knowngood.planner.following import foretold, spared_by
from knowngood.planner.killers import held_back
from knowngood.planner.plans import NOBODY
from knowngood.planner.pricing import Pricing
from knowngood.planner.problem import Problem
from knowngood.planner.ranking import ranked
from knowngood.planner.steps import Advice, After, Flip, Held, Step

__all__ = ["Advice", "After", "Flip", "Step", "advise"]

SCENARIOS = 600  # fault sets to price on
SEED = 2011  # of the draws, where the caller has none
STEPS = 24  # told at most
LEADING, COMPARED = 5, 8
LEAST_COMPARED = 0.03  # a suspect under this is not compared: too little hangs on it
TOSS_UP_MINUTES = 5.0
TOSS_UP_SHARE = 0.03


def advise(problem: Problem, *, seed: int = SEED, most: int = SCENARIOS) -> Advice:
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
        At most 24 steps; of a check that could be made at several places, the best place only.

    Raises
    ------
    Refused
        A repair or check needs an access step nobody described.
    """
    pricing = Pricing(problem, seed=seed, most=most)
    candidates, held = held_back(pricing, ranked(pricing))
    return advice_of(pricing, candidates, held)


def advice_of(pricing: Pricing, candidates: Sequence[Candidate], held: tuple[Held, ...]) -> Advice:
    """What is said of ranked first steps, and of replacements that wait."""
    problem = pricing.problem
    first = candidates[0].step
    flips: list[Flip] = []
    if first.cost <= min(
        candidate.step.cost for candidate in candidates
    ):  # else one of the same price is cheaper by a hair
        first, flips = flips_of(pricing, candidates)
    first = replace(first, error=spread_of_price(pricing, candidates[0]))
    steps = (first, *(candidate.step for candidate in candidates[1:STEPS]))
    gap = abs(steps[1].cost - steps[0].cost) if len(steps) > 1 else float("inf")
    order = tuple(pricing.board.repairs[index] for index in pricing.bare.order[0] if index != NOBODY)
    leading = _leading(pricing)
    return Advice(
        steps=steps,
        replace_now=pricing.base,
        unlooked=pricing.unlooked,
        order=order,
        toss_up=gap <= toss_up_of(problem, steps[0].cost),
        exact=pricing.scenarios.exact,
        leading=leading[:LEADING],
        flips=tuple(flips),
        held=held,
        left_out=pricing.board.left_out,
        within=within(pricing, first.cost - candidates[0].shift),
        compared=tuple((at, chance) for at, chance in leading if chance >= LEAST_COMPARED),
        foretold=partial(foretold, pricing, candidates),
        spared_by=partial(spared_by, pricing, candidates),
    )


def toss_up_of(problem: Problem, cost: float) -> float:
    """Money under which two plans are as good as each other: five minutes' worth or 3 %, whichever is more."""
    return max(TOSS_UP_MINUTES * problem.per_minute, TOSS_UP_SHARE * cost)


def _leading(pricing: Pricing) -> tuple[tuple[FaultAt, float], ...]:
    """The likeliest faults of those that must be put right, with the chance that they must."""
    problem, matters = pricing.problem, pricing.scenarios.matters
    chances = problem.belief.chances() if matters is None else pricing.weight @ matters
    ranked = sorted(
        (
            (fault, float(chance))
            for fault, chance in zip(problem.belief.faults, chances, strict=True)
            if (problem.must is None or fault in problem.must) and chance > LEAST_CHANCE
        ),
        key=lambda pair: -pair[1],
    )
    return tuple(ranked[:COMPARED])
