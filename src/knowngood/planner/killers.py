"""What killed it? A replacement waits while a fault that would kill the new part, too, may still stand.

The question is answered by readings, not by a tick: the repair is held back
until the chance of every such fault, where the old part is dead, is small, or
no check of them is worth its price any more. A check is worth the new parts
and the cars coming back that it saves; the one that says most about the
causes for its money comes first.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from knowngood.belief.protocol import Bools
from knowngood.planner.candidates import Candidate, check_candidate, minutes_of
from knowngood.planner.pricing import Pricing
from knowngood.planner.problem import CheckAt, Repair
from knowngood.planner.steps import Held, Step

STANDING = 0.05  # a cause less likely than this no longer holds a repair back
KILLS = 0.3  # share of the causes left standing that kill the new part before anybody notices them; from memory
LIKELY = 0.5  # from here on the cause is put right at once, without asking further
NAMED = 3  # causes told of a replacement that waits


def held_back(pricing: Pricing, candidates: Sequence[Candidate]) -> tuple[list[Candidate], tuple[Held, ...]]:
    """First steps without the repairs that must wait, and those repairs.

    Where one of them came first, now the check does that answers what killed the part, or the repair of the cause.
    Where nothing else could be done first, the repairs stay: the answer then says what to look for.
    """
    held: dict[str, Held] = {}
    for candidate in candidates:
        action = candidate.step.action
        if isinstance(action, Repair) and action.killed_by and candidate.row >= 0:
            found = _held(pricing, action, candidate.row)
            if found is not None:
                held[action.id] = found
    free = [one for one in candidates if not (isinstance(one.step.action, Repair) and one.step.action.id in held)]
    first = held.get(candidates[0].step.action.id)
    instead = _instead(pricing, candidates, free, first) if first is not None else None
    if instead is not None:
        free = [instead, *(one for one in free if one.step.action != instead.step.action)]
    return (free or list(candidates)), tuple(held.values())


def _instead(
    pricing: Pricing, candidates: Sequence[Candidate], free: Sequence[Candidate], held: Held
) -> Candidate | None:
    """What is done before a replacement that would come first: the cause put right if it is likely, else the check."""
    cause, chance = held.by[0]
    cures = [repair for repair in pricing.problem.repairs if cause in repair.fixes]
    if held.check is not None and (chance < LIKELY or not cures):
        return _asked(pricing, free, held.check)
    if not cures:
        return None
    problem = pricing.problem
    cure = min(cures, key=problem.repair_cost)
    minutes = minutes_of(problem, cure)
    cost = candidates[0].step.cost + problem.repair_cost(cure) + (minutes - cure.minutes) * problem.per_minute
    return Candidate(Step(cure, cost, minutes, cure.money, problem.access.to_open(cure.access)))


def _asked(pricing: Pricing, candidates: Sequence[Candidate], check: CheckAt) -> Candidate:
    """A check as a first step, priced if it is not yet."""
    known = [one for one in candidates if one.step.action == check]
    if known:
        return known[0]
    (option,) = pricing.priced([(pricing.problem.checks.index(check), pricing.shown(check))])
    return check_candidate(pricing, option)


def _held(pricing: Pricing, repair: Repair, row: int) -> Held | None:
    """Why a replacement must wait: what may stand that killed the part, in the fault sets in which the part is dead."""
    sets, column, board = pricing.scenarios, pricing.problem.column, pricing.board
    dead = _any(sets.present, [column[at] for at in repair.fixes])
    weight = pricing.weight * dead
    total = float(weight.sum())
    if total <= 0.0:
        return None
    standing = [(at, float(weight @ sets.present[:, column[at]]) / total) for at in repair.killed_by]
    by = sorted((one for one in standing if one[1] >= STANDING), key=lambda one: -one[1])
    if not by:
        return None
    causes = _any(sets.present, [column[at] for at, _ in by])
    again = float(board.cost[row] + board.opening[row]) + board.comeback_cost
    check = _best_check(pricing, causes, KILLS * again)
    return None if check is None and by[0][1] < LIKELY else Held(repair, tuple(by[:NAMED]), check)


def _any(present: Bools, columns: list[int]) -> Bools:
    some: Bools = np.any(present[:, columns], axis=1)
    return some


def _best_check(pricing: Pricing, causes: Bools, at_stake: float) -> CheckAt | None:
    """The check of one reading that moves the chance of the causes most for its money, of those worth their price.

    Parameters
    ----------
    at_stake : float [money]
        Lost where a cause is left standing: as far as the chance moves, a check saves so much at most.
    """
    stands = float(pricing.weight @ causes)
    best, most = None, 0.0
    for check in pricing.problem.checks:
        if check.after is not None or len(check.asks) != 1:
            continue
        joint = pricing.like[check.asks[0]] * pricing.weight
        moved = 0.5 * float(np.abs(joint @ causes - joint.sum(axis=1) * stands).sum())
        price = pricing.problem.check_cost(check) + pricing.opening(check, pricing.board.opened)
        if moved * at_stake <= price:
            continue
        if moved / (price + 1.0) > most:
            best, most = check, moved / (price + 1.0)
    return best
