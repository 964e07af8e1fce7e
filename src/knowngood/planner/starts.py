"""Where plans start: weights of the fault sets, what is open, what has been done and proved by then."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from knowngood.belief.protocol import Array, Bools
from knowngood.planner.board import Board


@dataclass(frozen=True)
class Starts:
    """Where plans start: one row each.

    Parameters
    ----------
    weight : array (plan, s)
        Weights of the fault sets the work began with; need not sum to 1.
    opened : bool array (plan, a)
    left : array (plan, f)
        Chance that a fault that was there is still there after the work done so far.
    stopped : array (plan, s)
        Chance that an earlier proof has already ended the work.
    """

    weight: Array
    opened: Bools
    left: Array
    stopped: Array

    def __len__(self) -> int:
        return len(self.weight)

    def repeated(self, count: int) -> Starts:
        """Every row ``count`` times."""
        return Starts(
            np.repeat(self.weight, count, axis=0),
            np.repeat(self.opened, count, axis=0),
            np.repeat(self.left, count, axis=0),
            np.repeat(self.stopped, count, axis=0),
        )


def starts(board: Board, weight: Array, opened: Bools | None = None) -> Starts:
    """Plans that start from how things stand, one for each row of weights."""
    count = len(weight)
    if opened is None:
        opened = np.broadcast_to(board.opened, (count, len(board.opened)))
    return Starts(
        weight=weight,
        opened=opened.copy(),
        left=np.ones((count, board.present.shape[1])),
        stopped=np.zeros((count, len(board.weight))),
    )


def joined(several: Sequence[Starts]) -> Starts:
    """All rows of several."""
    return Starts(
        np.concatenate([each.weight for each in several]),
        np.concatenate([each.opened for each in several]),
        np.concatenate([each.left for each in several]),
        np.concatenate([each.stopped for each in several]),
    )


def all_fixed(board: Board, left: Array) -> Array:
    """Chance that nothing is left, (plan, s), from the chance that each fault that was there still is."""
    gone = np.log(np.maximum(1.0 - left, 1e-30))
    fixed: Array = np.exp(gone @ board.present.T)
    return fixed
