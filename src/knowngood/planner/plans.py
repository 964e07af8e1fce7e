"""Repair plans without further checks: built and priced many at a time.

A plan is an order of repairs with proofs in between. After a proof that passes
the work ends, after one that fails it goes on, so a plan is one line and its
cost in each fault set is a plain sum. Every plan starts from its own weights,
its own open access and its own work already done; all of them advance together,
one repair at a time.

The next repair is the one with the best gain over cost, where the gain of a
repair is the weight of the fault sets it helps, sets with fewer faults left
counting more (``fade`` to the power of the number left). As ``fade`` goes to 0
this is the chance to end it all with this one repair, which for independent
faults orders them by p / (c (1 - p)); with ``fade`` 1 it is the plain chance
over cost. Things that must come off are weighed against the best run of repairs
behind them, which for access that forms a tree glues a repair to what lies
before it.

References
----------
Srinivas, A polynomial algorithm for computing the optimal repair strategy in a system with independent component
failures, UAI 1995; Vomlelova, Complexity of decision-theoretic troubleshooting, Int. J. Intelligent Systems 18 (2003);
Ottosen and Jensen, Better safe than sorry: optimal troubleshooting through A* search, 2008 (access as clusters).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.protocol import Array, Bools
from knowngood.planner.board import Board

Ints = NDArray[np.intp]
ALMOST_NOTHING = 1e-12
LONGEST = 24
NOBODY = -1


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


@dataclass(frozen=True)
class Plans:
    """Finished plans.

    Parameters
    ----------
    order : int array (plan, position)
        Repairs; -1 after the last.
    proof : bool array (plan, position)
        A proof comes before the repair at this position.
    reach : array (plan, position)
        Weight with which the position is reached.
    each : array (plan, s)
        Cost in each fault set.
    cost : array (plan,)
        Cost under the plan's own weights.
    """

    order: Ints
    proof: Bools
    reach: Array
    each: Array
    cost: Array

    def __len__(self) -> int:
        return len(self.order)

    def some(self, rows: slice) -> Plans:
        """Some of the plans."""
        return Plans(self.order[rows], self.proof[rows], self.reach[rows], self.each[rows], self.cost[rows])

    def proves_first(self, plan: int) -> bool:
        """Whether nothing is done before the first proof."""
        return bool(self.proof[plan, 0])

    def first(self, plan: int) -> int:
        """The first repair, or -1."""
        return int(self.order[plan, 0])

    def uses(self, plan: int, repair: int) -> float:
        """Weight with which a repair is made in a plan."""
        return float(self.reach[plan][self.order[plan] == repair].sum())


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


@dataclass(frozen=True)
class Style:
    """How a plan picks its next repair: ``fade`` as in the module's text, and whether each repair bears a proof."""

    fade: float = 0.1
    proof_in_index: bool = False


def plan(
    board: Board,
    begin: Starts,
    styles: Sequence[Style] = (Style(),),
    *,
    order: Ints | None = None,
    first: Ints | None = None,
    prove_first: bool | None = None,
    longest: int = LONGEST,
) -> Plans:
    """Build and price one plan a row.

    Parameters
    ----------
    styles : sequence of Style
        One for all plans, or one for each.
    order : int array (plan, position) or None
        Orders to follow; the proofs are still placed by the batch rule.
    first : int array (plan,) or None
        A repair to begin with; the rest is chosen.
    prove_first : bool or None
        Whether to prove before anything else; ``None`` lets the batch rule say.
    """
    return _Run(board, begin, styles).to_the_end(order, first, prove_first, longest)


class _Run:
    """All plans of one call, as they advance."""

    def __init__(self, board: Board, begin: Starts, styles: Sequence[Style]) -> None:
        self.board = board
        self.fade = np.array([style.fade for style in styles])[:, None]
        self.proof_in_index = np.array([style.proof_in_index for style in styles])[:, None] * board.proof_cost
        self.weight = begin.weight
        self.opened = begin.opened.copy()
        self.left = begin.left.copy()
        self.stopped = begin.stopped.copy()
        count, sets = self.weight.shape
        self.rows = np.arange(count)
        self.tried = np.zeros((count, len(board.repairs)))
        self.each = np.zeros((count, sets))
        self.fixed = all_fixed(board, self.left)
        self.powers = self.fade ** np.maximum(np.arange(board.present.sum(axis=1).max(initial=0.0) + 1) - 1.0, 0.0)
        self.best = np.full(count, np.inf)
        self.best_each = np.zeros((count, sets))
        self.best_length = np.zeros(count, dtype=np.intp)

    def to_the_end(self, order: Ints | None, first: Ints | None, prove_first: bool | None, longest: int) -> Plans:
        count = len(self.rows)
        orders, proofs, reaches = [], [], []
        length = longest if order is None else order.shape[1]
        for position in range(length):
            told = position == 0 and first is not None  # the first repair is made, whatever handing over costs
            if self.board.hand_over is not None and not told and not self._consider_handing_over(position):
                break
            chosen = self._choose() if order is None else order[:, position]
            if position == 0 and first is not None:
                chosen = first
            working = chosen != NOBODY
            if not working.any():
                break
            prove = self._worth_proving(chosen) & working
            if position == 0 and prove_first is not None:
                prove = np.full(count, prove_first)
            self._prove(prove)
            reaches.append(self._repair(chosen, working))
            orders.append(np.where(working, chosen, NOBODY))
            proofs.append(prove)
            if reaches[-1].max(initial=0.0) < ALMOST_NOTHING:
                break
        self._finish()
        return self._plans(orders, proofs, reaches)

    def _plans(self, orders: list[Ints], proofs: list[Bools], reaches: list[Array]) -> Plans:
        count = len(self.rows)
        each, cost = self.each, (self.weight * self.each).sum(axis=1)
        order = np.stack(orders, axis=1) if orders else np.full((count, 1), NOBODY, dtype=np.intp)
        proof = np.stack(proofs, axis=1) if orders else np.zeros((count, 1), dtype=bool)
        reach = np.stack(reaches, axis=1) if orders else np.zeros((count, 1))
        if self.board.hand_over is not None:
            sooner = self.best < cost - ALMOST_NOTHING
            each = np.where(sooner[:, None], self.best_each, each)
            cost = np.where(sooner, self.best, cost)
            cut = sooner[:, None] & (np.arange(order.shape[1]) >= self.best_length[:, None])
            order, reach, proof = np.where(cut, NOBODY, order), np.where(cut, 0.0, reach), proof & ~cut
        return Plans(order, proof, reach, each, cost)

    def _choose(self) -> Ints:
        board = self.board
        if not board.repairs:
            return np.full(len(self.rows), NOBODY)
        remaining = ((self.left > 0.5) @ board.present.T).astype(np.intp)
        fade = np.take_along_axis(
            np.broadcast_to(self.powers, (len(self.rows), self.powers.shape[1])), remaining, axis=1
        )
        # A fault that is still there has not let any proof pass: its weight needs no further factor.
        value = self.weight * fade
        per_fault = self.left * (value @ board.present)
        gain = (per_fault @ board.fixes.T) * (self.tried < board.tries)
        price = board.cost + np.broadcast_to(self.proof_in_index, (len(self.rows), 1))
        ratio = gain / price
        total = value.sum(axis=1)
        nothing = gain.max(axis=1, initial=0.0) <= ALMOST_NOTHING * np.maximum(total, 1e-300)
        chosen = self._best_behind_access(gain, price, ratio) if board.mask.any() else ratio.argmax(axis=1)
        return np.where(nothing, NOBODY, chosen)

    def _best_behind_access(self, gain: Array, price: Array, ratio: Array) -> Ints:
        """The first repair of the best run behind any set of steps."""
        board = self.board
        filler = np.ones((len(gain), 1))
        gain, price = np.concatenate([gain, 0.0 * filler], axis=1), np.concatenate([price, filler], axis=1)
        behind_gain, behind_price = gain[:, board.behind], price[:, board.behind]
        by_ratio = np.argsort(-behind_gain / behind_price, axis=2, kind="stable")
        gains = np.cumsum(np.take_along_axis(behind_gain, by_ratio, axis=2), axis=2)
        prices = np.cumsum(np.take_along_axis(behind_price, by_ratio, axis=2), axis=2)
        extra = (~self.opened) @ (board.targets * board.access_cost).T
        runs = (gains / (extra[:, :, None] + prices)).max(axis=2)
        target = runs.argmax(axis=1)
        first = board.behind[target, by_ratio[self.rows, target, 0]]
        free = np.where(board.mask.any(axis=1), -1.0, ratio)
        chosen: Ints = np.where(free.max(axis=1) >= runs[self.rows, target], free.argmax(axis=1), first)
        return chosen

    def _extra(self, repairs: Ints, opened: Bools) -> Array:
        """What must be paid to reach each plan's repair."""
        extra: Array = (self.board.mask[repairs] & ~opened) @ self.board.access_cost
        return extra

    def _worth_proving(self, following: Ints) -> Bools:
        """Prove now if P(all fixed) x cost(next) >= P(not) x (proof + what must be opened again)."""
        board = self.board
        done = (self.weight * np.maximum(self.fixed - self.stopped, 0.0)).sum(axis=1)
        not_done = (self.weight * (1.0 - np.maximum(self.fixed, self.stopped))).sum(axis=1)
        now = self._extra(following, self.opened)
        again = self._extra(following, self.opened & board.stays) - now
        lost = not_done * (board.proof_cost + board.wrong_pass_cost + again)
        return self._could_pass() & (done * (board.cost[following] + now) >= lost - ALMOST_NOTHING)

    def _could_pass(self) -> Bools:
        """Whether a proof now could end it: all may be fixed and no proof has shown so yet."""
        passes = (self.weight * np.maximum(self.fixed - self.stopped, 0.0)).sum(axis=1)
        could: Bools = passes > ALMOST_NOTHING * self.weight.sum(axis=1)
        return could

    def _prove(self, prove: Bools) -> None:
        if not prove.any():
            return
        board = self.board
        fixed = np.maximum(self.fixed, self.stopped)
        pay = (1.0 - self.stopped) * board.proof_cost + (1.0 - fixed) * board.wrong_pass_cost
        self.each += pay * prove[:, None]
        self.stopped = np.where(prove[:, None], fixed, self.stopped)
        self.opened &= board.stays | ~prove[:, None]

    def _repair(self, chosen: Ints, working: Bools) -> Array:
        """Pay for the chosen repairs and let them work; the weight with which each is reached."""
        board = self.board
        going = (1.0 - self.stopped) * working[:, None]
        self.each += going * (board.cost[chosen] + self._extra(chosen, self.opened))[:, None]
        self.opened |= board.mask[chosen] & working[:, None]
        self.left *= 1.0 - board.fixes[chosen] * working[:, None]
        self.tried[self.rows, chosen] += working
        self.fixed = all_fixed(board, self.left)
        reach: Array = (self.weight * going).sum(axis=1)
        return reach

    def _consider_handing_over(self, position: int) -> bool:
        """Remember this point if proving here and handing over the rest is the cheapest end so far.

        False once every plan has already paid more than its cheapest end: what follows is of no use.
        """
        board = self.board
        prove = self._could_pass()[:, None]
        fixed = np.where(prove, np.maximum(self.fixed, self.stopped), self.stopped)
        each = self.each + prove * (1.0 - self.stopped) * board.proof_cost
        each = each + (1.0 - fixed) * (board.hand_over or 0.0)
        cost = (self.weight * each).sum(axis=1)
        better = cost < self.best - ALMOST_NOTHING
        self.best = np.where(better, cost, self.best)
        self.best_each = np.where(better[:, None], each, self.best_each)
        self.best_length = np.where(better, position, self.best_length)
        return bool(((self.weight * self.each).sum(axis=1) < self.best).any())

    def _finish(self) -> None:
        """The last proof, then what is left: handed over, or found one by one and come back."""
        board = self.board
        self._prove(self._could_pass())
        if board.hand_over is not None:
            self.each += (1.0 - self.stopped) * board.hand_over
            return
        untried = self.left * (self.left > 0.5) * board.cheapest
        self.each += untried @ board.present.T + (1.0 - self.stopped) * board.comeback_cost
