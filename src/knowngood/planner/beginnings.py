"""Beginnings without a check: some repairs, or a proof, and how things stand after them.

What is done first is paid whole. What comes after it is looked on for, as after a check: a repair in vain is no way
out of looking, and a proof after a repair that may have ended it all spares all looking where it passes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

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
    paid : float
    then : Starts
        How things stand then: one row.
    going : float
        Chance that the work is not over by then.
    """

    repairs: tuple[int, ...]
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
    return Beginning(repairs, paid, Starts(weight[None, :], opened[None, :], left, stopped), going)


def onward_from(pricing: Pricing, begun: Sequence[Beginning]) -> dict[int | str, Onward]:
    """The cheapest way to begin with each repair, or with a proof, when one looks on after it."""
    if not begun:
        return {}
    board = pricing.board
    blind = plan(board, joined([each.then for each in begun]), [pricing.style]).cost
    going = np.array([each.going for each in begun])
    known = np.array(
        [
            float((board.weight * (1.0 - each.then.stopped[0])) @ foresight(board, board.present * each.then.left[0]))
            for each in begun
        ]
    )
    left = pricing.onward(blind, known, going)
    share = pricing.looking.share((blind - known) / np.maximum(going, 1e-12))
    result: dict[int | str, Onward] = {}
    for each, then, some in zip(begun, left, share, strict=True):
        one = Onward(each.paid + float(then), float(some))
        if each.head not in result or one.cost < result[each.head].cost:
            result[each.head] = one
    return result
