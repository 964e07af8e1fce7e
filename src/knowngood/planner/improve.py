"""A repair order made better by moving one repair at a time.

The rule that builds an order looks at one repair after another; where repairs
overlap, or access is shared, moving one of them earlier or later can pay. Every
move is priced exactly on the fault sets; the best is made until none helps.
"""

from __future__ import annotations

import numpy as np

from knowngood.planner.board import Board
from knowngood.planner.plans import NOBODY, Ints, Plans, Starts, Style, plan

STYLES = (Style(0.03), Style(0.3), Style(1.0), Style(0.03, True), Style(1.0, True))
MOST_ROUNDS = 8


def one_of(plans: Plans, row: int) -> Plans:
    """One plan out of several."""
    at = slice(row, row + 1)
    return Plans(plans.order[at], plans.proof[at], plans.reach[at], plans.each[at], plans.cost[at])


def repeated(begin: Starts, count: int) -> Starts:
    """The same start ``count`` times."""
    return Starts(
        np.repeat(begin.weight, count, axis=0),
        np.repeat(begin.opened, count, axis=0),
        np.repeat(begin.left, count, axis=0),
        np.repeat(begin.stopped, count, axis=0),
    )


def best_plan(board: Board, begin: Starts, *, reach: int = 6, rounds: int = MOST_ROUNDS) -> Plans:
    """The cheapest plan found from one start: several ways to choose, then moves among the first ``reach`` repairs.

    Parameters
    ----------
    begin : Starts
        One row.
    reach, rounds : int
        How far into the order moves go, and how many are made at most.
    """
    found = [plan(board, begin, style) for style in STYLES]
    best = min(found, key=lambda each: float(each.cost[0]))
    for _ in range(rounds):
        moves = _moves(best.order[0], reach)
        if not len(moves):
            break
        tried = plan(board, repeated(begin, len(moves)), order=moves)
        row = int(tried.cost.argmin())
        if tried.cost[row] >= best.cost[0] * (1.0 - 1e-9):
            break
        best = one_of(tried, row)
    return best


def _moves(order: Ints, reach: int) -> Ints:
    """Every order in which one repair has moved, within the first ``reach`` or to the end."""
    length = int((order != NOBODY).sum())
    moved: set[tuple[int, ...]] = set()
    for origin in range(min(length, reach)):
        rest = np.delete(order, origin)
        for target in {*range(min(length, reach)), length - 1}:
            moved.add(tuple(np.insert(rest, target, order[origin]).tolist()))
    moved.discard(tuple(order.tolist()))
    return np.array(sorted(moved), dtype=np.intp).reshape(len(moved), len(order))
