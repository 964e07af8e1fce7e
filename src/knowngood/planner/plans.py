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
from knowngood.planner.starts import Starts, all_fixed
from knowngood.planner.ties import firm, firm_order

Ints = NDArray[np.intp]
ALMOST_NOTHING = 1e-12
HAIR = 1e-9  # share by which sums may differ between machines
PASSED_OVER = 1e-6  # share by which a bound must be worse: far more than a hair
ONE_BY_ONE, AT_A_TIME = 8, 4  # repairs far down a plan are chosen several at a time: their order matters little there
NOBODY = -1


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

    @property
    def heads(self) -> Ints:
        """First repair of each plan (plan,); -1 where a proof comes before it, or nothing is repaired."""
        first: Ints = np.where(self.proof[:, 0], NOBODY, self.order[:, 0])
        return first

    def proves_first(self, plan: int) -> bool:
        """Whether nothing is done before the first proof."""
        return bool(self.proof[plan, 0])

    def first(self, plan: int) -> int:
        """The first repair, or -1."""
        return int(self.order[plan, 0])

    def uses_of_all(self, repairs: int, share: Array) -> Array:
        """Weight with which each repair is made, over all the plans together, each plan by its share (plan,)."""
        made = self.order != NOBODY
        reach = (self.reach * share[:, None])[made]
        uses: Array = np.bincount(self.order[made], weights=reach, minlength=repairs).astype(float)
        return uses


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
    longest: int | None = None,
) -> Plans:
    """Build and price one plan a row.

    Parameters
    ----------
    board : Board
    begin : Starts
        Where each plan begins; one row a plan.
    styles : sequence of Style
        One for all plans, or one for each.
    order : int array (plan, position) or None
        Orders to follow; the proofs are still placed by the batch rule.
    first : int array (plan,) or None
        A repair to begin with; the rest is chosen.
    prove_first : bool or None
        Whether to prove before anything else; ``None`` lets the batch rule say.
    longest : int or None
        Repairs at most. ``None``: each as often as it is worth trying. A plan that is cut short ends where a car that
        comes back shows what is left, and that must not be a way out of looking.
    """
    longest = int(board.tries.sum()) if longest is None else longest
    return _Run(board, begin, styles).to_the_end(order, first, prove_first, longest)


class _Run:
    """All plans of one call, as they advance."""

    def __init__(self, board: Board, begin: Starts, styles: Sequence[Style]) -> None:
        self.board = board
        self.log_fade = np.log([style.fade for style in styles])[:, None]
        self.proof_in_index = np.array([style.proof_in_index for style in styles])[:, None] * board.proof_cost
        self.weight = begin.weight
        self.opened = begin.opened.copy()
        self.left = begin.left.copy()
        self.stopped = begin.stopped.copy()
        count, sets = self.weight.shape
        self.rows = np.arange(count)
        self.tried = np.zeros((count, len(board.repairs)))
        self.fixed = all_fixed(board, self.left)
        self.total = self.weight.sum(axis=1)
        self.mass_fixed = self._mass(self.fixed)
        self.mass_stopped = self._mass(self.stopped)
        self.each = np.zeros((count, sets))
        self.owed = np.zeros(count)  # paid since the last proof, in every fault set that has not stopped
        self.cost = np.zeros(count)
        self.best = np.full(count, np.inf)
        self.best_each = np.zeros((count, sets))
        self.best_length = np.zeros(count, dtype=np.intp)
        self.queue: list[Ints] = []
        self.refunds = bool(board.refund.any())

    def to_the_end(self, order: Ints | None, first: Ints | None, prove_first: bool | None, longest: int) -> Plans:
        count = len(self.rows)
        orders, proofs, reaches = [], [], []
        length = longest if order is None else order.shape[1]
        for position in range(length):
            told = position == 0 and first is not None  # the first repair is made, whatever handing over costs
            if self.board.hand_over is not None and not told and not self._consider_handing_over(position):
                break
            chosen = self._next(position) if order is None else order[:, position]
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
        each, cost = self.each, self.cost
        order = np.stack(orders, axis=1) if orders else np.full((count, 1), NOBODY, dtype=np.intp)
        proof = np.stack(proofs, axis=1) if orders else np.zeros((count, 1), dtype=bool)
        reach = np.stack(reaches, axis=1) if orders else np.zeros((count, 1))
        if self.board.hand_over is not None:
            sooner = self.best < cost - ALMOST_NOTHING
            each[sooner] = self.best_each[sooner]
            cost = np.where(sooner, self.best, cost)
            cut = sooner[:, None] & (np.arange(order.shape[1]) >= self.best_length[:, None])
            order, reach, proof = np.where(cut, NOBODY, order), np.where(cut, 0.0, reach), proof & ~cut
        return Plans(order, proof, reach, each, cost)

    def _mass(self, share: Array) -> Array:
        """Weight of what a chance per fault set amounts to."""
        mass: Array = np.einsum("ps,ps->p", self.weight, share)
        return mass

    def _next(self, position: int) -> Ints:
        """The next repair of each plan; far down the first of a few chosen together."""
        if not self.queue:
            chosen, gain = self._choose()
            self.queue = [chosen]
            if position >= ONE_BY_ONE:
                self.queue += self._to_follow(chosen, gain)
        return self.queue.pop(0)

    def _to_follow(self, chosen: Ints, gain: Array) -> list[Ints]:
        """The best of the others one by one, once what the chosen one needs is open."""
        board = self.board
        closed = ~(self.opened | board.mask[chosen]) * board.access_cost
        ratio = gain / (board.cost + closed @ board.mask.T)
        ratio[self.rows, chosen] = 0.0
        ratio[chosen == NOBODY] = 0.0
        best = firm_order(ratio)[:, : AT_A_TIME - 1]
        worth = np.take_along_axis(ratio, best, axis=1) > 0.0
        return [repairs for repairs in np.where(worth, best, NOBODY).T if (repairs != NOBODY).any()]

    def _choose(self) -> tuple[Ints, Array]:
        """The best next repair of each plan, and what each would gain."""
        board = self.board
        if not board.repairs:
            return np.full(len(self.rows), NOBODY), np.zeros((len(self.rows), 0))
        fewer = np.maximum((self.left > 0.5).astype(float) @ board.present.T - 1.0, 0.0)
        # A fault that is still there has not let any proof pass: its weight needs no further factor.
        value = self.weight * np.exp(self.log_fade * fewer)
        per_fault = self.left * (value @ board.present)
        gain = (per_fault @ board.fixes.T) * (self.tried < board.tries)
        price = board.cost + np.broadcast_to(self.proof_in_index, (len(self.rows), 1))
        if self.refunds:
            unneeded = self.weight @ board.for_nothing.T / np.maximum(self.total, 1e-300)[:, None]
            price = price - board.refund * unneeded
        ratio = firm(gain / price)
        nothing = gain.max(axis=1, initial=0.0) <= ALMOST_NOTHING * np.maximum(value.sum(axis=1), 1e-300)
        chosen = self._best_behind_access(gain, price, ratio) if board.mask.any() else ratio.argmax(axis=1)
        return np.where(nothing, NOBODY, chosen), gain

    def _best_behind_access(self, gain: Array, price: Array, ratio: Array) -> Ints:
        """The first repair of the best run behind any set of steps.

        No run is better than its best repair would be with all open, and the best is no worse than any repair with
        what comes off for it alone: most sets of steps need no more than that to be passed over.
        """
        board, count = self.board, len(self.rows)
        every_gain, every_price = np.zeros((count, gain.shape[1] + 1)), np.ones((count, gain.shape[1] + 1))
        every_gain[:, :-1], every_price[:, :-1] = gain, price
        at_most = (every_gain / every_price).take(board.behind, axis=1).max(axis=2)
        at_least = (gain / (price + (~self.opened * board.access_cost) @ board.mask.T)).max(axis=1, keepdims=True)
        row, target = np.nonzero(at_most >= at_least * (1.0 - PASSED_OVER))
        behind = board.behind[target]
        places = behind + row[:, None] * every_gain.shape[1]
        behind_gain, behind_price = every_gain.take(places), every_price.take(places)
        by_ratio = firm_order(behind_gain / behind_price)
        gains = np.cumsum(np.take_along_axis(behind_gain, by_ratio, axis=1), axis=1)
        prices = np.cumsum(np.take_along_axis(behind_price, by_ratio, axis=1), axis=1)
        extra = (~self.opened) @ (board.targets * board.access_cost).T
        runs, first = np.zeros(extra.shape), np.zeros(extra.shape, dtype=np.intp)
        runs[row, target] = (gains / (extra[row, target, None] + prices)).max(axis=1)
        first[row, target] = np.take_along_axis(behind, by_ratio[:, :1], axis=1)[:, 0]
        runs = firm(runs)
        best = runs.argmax(axis=1)
        free = np.where(board.mask.any(axis=1), -1.0, ratio)
        sooner = free.max(axis=1) >= (1.0 - HAIR) * runs[self.rows, best]
        chosen: Ints = np.where(sooner, free.argmax(axis=1), first[self.rows, best])
        return chosen

    def _extra(self, repairs: Ints, opened: Bools) -> Array:
        """What must be paid to reach each plan's repair."""
        extra: Array = (self.board.mask[repairs] & ~opened) @ self.board.access_cost
        return extra

    def _worth_proving(self, following: Ints) -> Bools:
        """Prove now if P(all fixed) x cost(next) >= P(not) x (proof + what must be opened again)."""
        board = self.board
        now = self._extra(following, self.opened)
        again = self._extra(following, self.opened & board.stays) - now
        lost = (self.total - self.mass_fixed) * (board.proof_cost + board.wrong_pass_cost + again)
        saved = (self.mass_fixed - self.mass_stopped) * (board.cost[following] + now)
        return self._could_pass() & (saved >= (1.0 - HAIR) * lost - ALMOST_NOTHING)

    def _could_pass(self) -> Bools:
        """Whether a proof now could end it: all may be fixed and no proof has shown so yet."""
        could: Bools = self.mass_fixed - self.mass_stopped > ALMOST_NOTHING * self.total
        return could

    def _settle(self, rows: Ints) -> None:
        """Spread what is owed over the fault sets that have not stopped."""
        self.each[rows] += self.owed[rows, None] * (1.0 - self.stopped[rows])
        self.owed[rows] = 0.0

    def _prove(self, prove: Bools) -> None:
        rows = np.flatnonzero(prove)
        if not len(rows):
            return
        board = self.board
        self.owed[rows] += board.proof_cost
        self._settle(rows)
        self.cost[rows] += (self.total - self.mass_stopped)[rows] * board.proof_cost
        if board.wrong_pass_cost > 0.0:
            self.each[rows] += (1.0 - self.fixed[rows]) * board.wrong_pass_cost
            self.cost[rows] += (self.total - self.mass_fixed)[rows] * board.wrong_pass_cost
        self.stopped[rows] = self.fixed[rows]
        self.mass_stopped[rows] = self.mass_fixed[rows]
        self.opened &= board.stays | ~prove[:, None]

    def _repair(self, chosen: Ints, working: Bools) -> Array:
        """Pay for the chosen repairs and let them work; the weight with which each is reached."""
        board = self.board
        price = (board.cost[chosen] + self._extra(chosen, self.opened)) * working
        reach = (self.total - self.mass_stopped) * working
        self.owed += price
        self.cost += price * reach
        if self.refunds:
            back = (board.refund[chosen] * working)[:, None] * board.for_nothing[chosen] * (1.0 - self.stopped)
            self.each -= back
            self.cost -= self._mass(back)
        self.opened |= board.mask[chosen] & working[:, None]
        self.left *= 1.0 - board.fixes[chosen] * working[:, None]
        self.tried[self.rows, chosen] += working
        self.fixed = all_fixed(board, self.left)
        self.mass_fixed = self._mass(self.fixed)
        return reach

    def _consider_handing_over(self, position: int) -> bool:
        """Remember this point if proving here and handing over the rest is the cheapest end so far.

        False once every plan has already paid more than its cheapest end: what follows is of no use.
        """
        board, rest = self.board, self.board.hand_over or 0.0
        prove = self._could_pass()
        passed = np.where(prove, self.mass_fixed, self.mass_stopped)
        going = self.total - self.mass_stopped
        cost = self.cost + prove * going * board.proof_cost + (self.total - passed) * rest
        rows = np.flatnonzero(cost < self.best - ALMOST_NOTHING)
        self.best[rows], self.best_length[rows] = cost[rows], position
        owed = (self.owed + prove * board.proof_cost)[rows, None]
        done = np.where(prove[rows, None], self.fixed[rows], self.stopped[rows])
        self.best_each[rows] = self.each[rows] + owed * (1.0 - self.stopped[rows]) + (1.0 - done) * rest
        return bool((self.cost < self.best).any())

    def _finish(self) -> None:
        """The last proof, then what is left: handed over, or found one by one and come back."""
        board = self.board
        self._prove(self._could_pass())
        self._settle(self.rows)
        rest = board.comeback_cost if board.hand_over is None else board.hand_over
        last = (1.0 - self.stopped) * rest
        if board.hand_over is None:
            last += (self.left * (self.left > 0.5) * board.cheapest) @ board.present.T
        self.each += last
        self.cost += self._mass(last)
