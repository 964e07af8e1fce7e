"""Suspects that no check at hand tells apart, and what mixing them up costs.

Two faults are told apart when some outcome of some check is at least
:data:`~knowngood.library.separation.TOLD_APART` times as likely with one as with the
other, each taken alone on an otherwise good car. Where no check does that, the repairs are tried one after the other;
what that wastes is what one more check could save, and often more than any
cleverness in the order of the checks there are.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from knowngood.belief.protocol import Array, Bools, FaultAt
from knowngood.library.separation import TOLD_APART
from knowngood.planner.outcomes import likelihoods
from knowngood.planner.problem import CheckAt, Problem

LEAST = 1e-9  # a chance has a logarithm


@dataclass(frozen=True)
class Alike:
    """Two faults that no check tells apart.

    Parameters
    ----------
    first, second : FaultAt
        The likelier first.
    cost : float
        Money wasted on average because nothing tells them apart: the cheaper of the two orders pays for one repair,
        what must come off for it and a proof in vain.
    ratio : float
        The most any outcome speaks for one against the other.
    """

    first: FaultAt
    second: FaultAt
    cost: float
    ratio: float


def not_told_apart(problem: Problem, chances: Sequence[tuple[FaultAt, float]]) -> tuple[Alike, ...]:
    """Pairs of suspects that no check of the problem tells apart, the dearest to confuse first.

    Parameters
    ----------
    problem : Problem
    chances : sequence of (FaultAt, float)
        The suspects to compare, with the chance that each must be put right.

    Notes
    -----
    Readings are compared one by one. Faults that one and the same repair ends are never reported: mixing them up costs
    nothing. A fault without a repair is compared with none.
    """
    price = {at: _cheapest(problem, at) for at, _ in chances}
    known = [(at, chance) for at, chance in chances if np.isfinite(price[at])]
    if len(known) < 2:
        return ()
    most = ratios(problem, [at for at, _ in known])
    result = []
    for row, (one, chance) in enumerate(known):
        for column in range(row + 1, len(known)):
            other, other_chance = known[column]
            if most[row, column] >= TOLD_APART or _one_repair(problem, one, other):
                continue
            wasted = min(chance * price[other], other_chance * price[one])
            pair = (one, other) if chance >= other_chance else (other, one)
            result.append(Alike(*pair, float(wasted), float(most[row, column])))
    return tuple(sorted(result, key=lambda alike: (-alike.cost, alike.first, alike.second)))


def ratios(problem: Problem, faults: Sequence[FaultAt]) -> Array:
    """The most any outcome of any check speaks for one fault against another (fault, fault), each there alone."""
    present = np.zeros((len(faults), len(problem.belief.faults)), dtype=bool)
    for row, at in enumerate(faults):
        present[row, problem.column[at]] = True
    most = np.zeros((len(faults), len(faults)))
    plain = list(dict.fromkeys(ask for check in problem.checks if check.after is None for ask in check.asks))
    tables = list(likelihoods(problem.belief, plain, present).values()) if plain else []
    for check in problem.checks:
        if check.after is not None:
            tables.append(_moved(problem, check, present))
    for table in tables:
        spoken = np.log(np.maximum(table, LEAST))
        for outcome in spoken:
            np.maximum(most, np.abs(outcome[:, None] - outcome[None, :]), out=most)
    result: Array = np.exp(most)
    return result


def _moved(problem: Problem, check: CheckAt, present: Bools) -> Array:
    """What a swap or a spare shows: its readings are taken as one, since only together they tell what moved."""
    assert check.after is not None
    tables = list(likelihoods(problem.belief, check.asks, check.after(present)).values())
    joint = tables[0]
    for table in tables[1:]:
        joint = (joint[:, None, :] * table[None, :, :]).reshape(-1, joint.shape[1])
    return joint


def _cheapest(problem: Problem, at: FaultAt) -> float:
    """The least that a try at a fault costs: its repair, what comes off, a proof; endless without a repair."""
    return min(
        (
            problem.repair_cost(repair) + problem.opening_cost(repair.access, problem.access) + problem.proof_cost
            for repair in problem.repairs
            if at in repair.fixes
        ),
        default=float("inf"),
    )


def _one_repair(problem: Problem, one: FaultAt, other: FaultAt) -> bool:
    return any(one in repair.fixes and other in repair.fixes for repair in problem.repairs)
