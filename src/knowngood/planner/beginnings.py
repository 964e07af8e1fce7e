"""Beginnings without a check: some repairs, or a proof, and how things stand after them.

What is done first is paid whole. What comes after it is looked on for, as after a check: a repair in vain is no way
out of looking, and a proof after a repair that may have ended it all spares all looking where it passes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from knowngood.belief.protocol import Array
from knowngood.planner.board import foresight
from knowngood.planner.plans import NOBODY, plan
from knowngood.planner.pricing import Pricing
from knowngood.planner.starts import Starts, all_fixed, joined
from knowngood.planner.steps import PROVE


@dataclass(frozen=True)
class Beginning:
    """What is done before the check.

    Parameters
    ----------
    repairs : tuple of int
    proved : bool
        A proof comes after them.
    paid : float
    then : Starts
        How things stand then: one row.
    going : float
        Chance that the work is not over by then.
    """

    repairs: tuple[int, ...]
    proved: bool
    paid: float
    then: Starts
    going: float

    @property
    def head(self) -> int | str:
        """The first repair, or the proof."""
        return self.repairs[0] if self.repairs else PROVE


@dataclass(frozen=True)
class Onward:
    """What a beginning leads to when one looks on after it.

    Parameters
    ----------
    cost : float
        Expected money to the end.
    share : float
        What a little more money for the repairs after it adds to that.
    """

    cost: float
    share: float


def beginnings(pricing: Pricing, heads: Sequence[int]) -> list[Beginning]:
    """The plan without checks up to its first proof, each head alone with a proof after it and without, a proof."""
    board, bare = pricing.board, pricing.bare
    first_proof = np.flatnonzero(bare.proof[0])
    wanted: dict[tuple[tuple[int, ...], bool], None] = {}
    if len(first_proof):
        wanted[(tuple(int(repair) for repair in bare.order[0][: first_proof[0]]), True)] = None
    for head in heads:
        wanted[((head,), False)] = None
        wanted[((head,), True)] = None
    if board.weight[board.present.sum(axis=1) == 0].sum() > 0:
        wanted[((), True)] = None
    return [_beginning(pricing, repairs, proved) for repairs, proved in wanted if NOBODY not in repairs]


def _beginning(pricing: Pricing, repairs: tuple[int, ...], proved: bool) -> Beginning:
    board, weight = pricing.board, pricing.board.weight
    opened, left = board.opened.copy(), np.ones((1, board.present.shape[1]))
    paid = 0.0
    for repair in repairs:
        paid += board.cost[repair] + float(board.access_cost[board.mask[repair] & ~opened].sum())
        paid -= board.refunded(repair)
        opened |= board.mask[repair]
        left *= 1.0 - board.fixes[repair]
    paid *= float(weight.sum())
    stopped = np.zeros((1, len(weight)))
    if proved:
        stopped = all_fixed(board, left)
        opened &= board.stays
        paid += float(weight.sum()) * board.proof_cost
        paid += float((weight * (1.0 - stopped[0])).sum()) * board.wrong_pass_cost
    going = float((weight * (1.0 - stopped[0])).sum())
    return Beginning(repairs, proved, paid, Starts(weight[None, :], opened[None, :], left, stopped), going)


def onward_from(several: Sequence[tuple[Pricing, Sequence[Beginning]]]) -> list[dict[int | str, Onward]]:
    """The cheapest way to begin with each repair, or with a proof, when one looks on after it.

    Parameters
    ----------
    several : sequence of (Pricing, beginnings from there)
        Of one problem, as it stands and after outcomes: planned in one go.

    Returns
    -------
    list of dict
        One for each of them: first repair, or the proof, to what it leads to.
    """
    every = [(there, one) for there, begun in several for one in begun]
    if not every:
        return [{} for _ in several]
    board, style = several[0][0].board, several[0][0].style  # outcomes change weights and what is open, no more
    planned = plan(board, joined([one.then for _, one in every]), [style]).cost
    blind = np.minimum(planned, [_by_the_pool(there, one) for there, one in every])
    # what it costs whoever sees it hangs on the repairs before alone, not on a proof or an outcome
    seen = {one.repairs: one.then.left[0] for _, one in every}
    costs = {repairs: foresight(board, board.present * left) for repairs, left in seen.items()}
    result, row = [], 0
    for there, begun in several:
        going = np.array([one.going for one in begun])
        known = np.array(
            [float((there.board.weight * (1.0 - one.then.stopped[0])) @ costs[one.repairs]) for one in begun]
        )
        result.append(_cheapest(there, begun, blind[row : row + len(begun)], known, going))
        row += len(begun)
    return result


def _by_the_pool(there: Pricing, begun: Beginning) -> float:
    """Money after a beginning of one step by the best plan of the pool that begins so; infinite where none does."""
    if begun.repairs and (len(begun.repairs) > 1 or begun.proved):
        return np.inf
    return there.cheapest_from(begun.repairs[0] if begun.repairs else NOBODY) - begun.paid


def _cheapest(
    there: Pricing, begun: Sequence[Beginning], blind: Array, known: Array, going: Array
) -> dict[int | str, Onward]:
    """Of each first repair the cheapest beginning, each with what it costs blind and knowing (beginning,)."""
    left = there.onward(blind, known, going)
    share = there.looking.share((blind - known) / np.maximum(going, 1e-12))
    result: dict[int | str, Onward] = {}
    for one, then, some in zip(begun, left, share, strict=True):
        onward = Onward(one.paid + float(then), float(some))
        if one.head not in result or onward.cost < result[one.head].cost:
            result[one.head] = onward
    return result
