"""A repair order made better by moving one repair at a time.

The rule that builds an order looks at one repair after another; where repairs
overlap, or access is shared, moving one of them earlier or later can pay. Every
move is priced exactly on the fault sets; the best is made until none helps.
"""

from __future__ import annotations

import numpy as np

from knowngood.planner.board import Board
from knowngood.planner.plans import NOBODY, Ints, Plans, Style, plan
from knowngood.planner.starts import Starts
from knowngood.planner.ties import firm

STYLES = (Style(0.03), Style(0.3), Style(1.0), Style(0.03, True), Style(0.7, True), Style(1.0, True))
REACH = 6  # how far into an order moves go
MOST_ROUNDS = 8
BETTER = 1e-9  # share by which a plan must be cheaper to take the place of another


def best_plan(board: Board, begin: Starts) -> Plans:
    """The cheapest plan found from one start.

    Several ways to choose, each likely repair put first in turn, then moves among the first :data:`REACH` repairs.

    Parameters
    ----------
    board : Board
    begin : Starts
        One row.
    """
    found = plan(board, begin.repeated(len(STYLES)), STYLES)
    best = _cheapest(found)
    heads = np.unique(found.order[:, :REACH])
    heads = heads[heads != NOBODY]
    if len(heads):
        headed = _cheapest(plan(board, begin.repeated(len(heads)), STYLES[:1], first=heads))
        best = headed if headed.cost[0] < best.cost[0] * (1.0 - BETTER) else best
    for _ in range(MOST_ROUNDS):
        moves = _moves(best.order[0])
        if not len(moves):
            break
        tried = plan(board, begin.repeated(len(moves)), order=moves)
        if tried.cost.min() >= best.cost[0] * (1.0 - BETTER):
            break
        best = _cheapest(tried)
    return best


def _cheapest(plans: Plans) -> Plans:
    row = int(firm(plans.cost).argmin())
    return plans.some(slice(row, row + 1))


def _moves(order: Ints) -> Ints:
    """Every order in which one repair has moved, within the first :data:`REACH` or to the end."""
    length = int((order != NOBODY).sum())
    moved: set[tuple[int, ...]] = set()
    for origin in range(min(length, REACH)):
        rest = np.delete(order, origin)
        for target in {*range(min(length, REACH)), length - 1}:
            moved.add(tuple(np.insert(rest, target, order[origin]).tolist()))
    moved.discard(tuple(order.tolist()))
    return np.array(sorted(moved), dtype=np.intp).reshape(len(moved), len(order))
