"""What the car must cost at least, whatever is done: how far an advice can be from the best possible plan.

Whoever saw the faults would pay at least the repairs they need and one proof,
or hand the car over, and would find everything open. Nobody sees the faults, so
the first step is added: whatever it is, it costs what it costs, and where it is
a repair, it may be one that is not needed.
"""

from __future__ import annotations

import numpy as np

from knowngood.planner.board import foresight
from knowngood.planner.pricing import Pricing

SHOWN_UP_TO = 0.20


def at_least(pricing: Pricing) -> float:
    """Expected money below which no plan can end."""
    board, weight, problem = pricing.board, pricing.board.weight, pricing.problem
    sees_all = foresight(board)
    base = float(weight @ sees_all)
    failing = board.present.any(axis=1)
    # A repair first saves at most itself, and only where it is needed.
    in_vain = weight @ (board.present @ (board.fixes.T > 0) <= 0) if board.repairs else np.zeros(0)
    firsts = [problem.check_cost(check) for check in problem.checks]
    firsts += [float(cost) for cost in board.cost * in_vain]
    firsts.append(board.proof_cost - float(weight[~failing] @ sees_all[~failing]))
    if board.hand_over is not None:
        firsts.append(board.hand_over * float(weight[failing].sum()) - base)
    return base + max(0.0, min(firsts))


def within(pricing: Pricing, cost: float) -> float | None:
    """Share by which a plan may be dearer than the best one; ``None`` where more than 20 %, which says nothing."""
    least = at_least(pricing)
    if least <= 0.0:
        return None
    over = cost / least - 1.0
    return max(over, 0.0) if over <= SHOWN_UP_TO else None
