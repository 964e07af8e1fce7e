"""The problem as arrays: scenarios, which repair ends which fault, what things cost.

Closing is paid when a thing is opened: whatever comes off goes on again once,
before the next proof. What is off at the start goes back on in every plan, so
it is in none of the prices.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.protocol import Array, Bools, FaultAt, Scenarios
from knowngood.planner.problem import Problem, Repair

MOST_REPAIRS = 40
MOST_TARGETS = 16
NEGLIGIBLE = 1e-12


@dataclass(frozen=True)
class Board:
    """Arrays over patterns p of the faults f that matter, repairs r, access steps a, targets m (sets of steps).

    Fault sets that differ only in what need not be put right are one pattern: no plan can tell them apart.

    Parameters
    ----------
    weight : array (p,)
    weight_of_sets : array (s,)
        The same of each fault set.
    present : array (p, f)
        1 where the fault is there.
    pattern : int array (s,)
        The pattern of each fault set.
    repairs : tuple of Repair
        Those that are needed in some scenario, the likeliest first.
    fixes : array (r, f)
        Chance that the repair ends the fault.
    cost : array (r,)
    refund : array (r,)
        Money that comes back of each where there was nothing to put right.
    tries : array (r,)
        How often each repair is worth trying.
    cheapest : array (f,)
        Cost of the cheapest repair of each fault.
    mask : bool array (r, a)
    access_cost : array (a,)
        Opening and closing together.
    stays : bool array (a,)
    opened : bool array (a,)
    targets : bool array (m, a)
    behind : int array (m, k)
        The repairs that need something of a target and nothing else; filled up with the number of repairs.
    proof_cost, wrong_pass_cost, comeback_cost : float
    hand_over : float or None
    steps : tuple of str
        Names of the access steps.
    exact : bool
        The scenarios are all there are.
    left_out : tuple of float
        Of each repair that was left out beyond :data:`MOST_REPAIRS`, the chance that it is needed, at most (the chances
        of its faults added), the likeliest first.
    """

    weight: Array
    weight_of_sets: Array
    present: Array
    pattern: NDArray[np.intp]
    repairs: tuple[Repair, ...]
    fixes: Array
    cost: Array
    refund: Array
    tries: Array
    cheapest: Array
    mask: Bools
    access_cost: Array
    stays: Bools
    opened: Bools
    targets: Bools
    behind: NDArray[np.intp]
    proof_cost: float
    wrong_pass_cost: float
    comeback_cost: float
    hand_over: float | None
    steps: tuple[str, ...]
    exact: bool
    left_out: tuple[float, ...] = ()

    def gathered(self, rows: Array) -> Array:
        """Rows over fault sets (k, s) summed up over those of one pattern: (k, p)."""
        order, begins = self._by_pattern
        sums: Array = np.add.reduceat(rows.take(order, axis=1), begins, axis=1)
        return sums

    @cached_property
    def _by_pattern(self) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
        """The fault sets, those of one pattern behind each other, and where each pattern's begin."""
        order = np.argsort(self.pattern, kind="stable")
        return order, np.searchsorted(self.pattern[order], np.arange(len(self.weight)))

    @cached_property
    def enders(self) -> tuple[NDArray[np.intp], NDArray[np.intp], NDArray[np.intp]]:
        """Faults that some repair ends, those repairs one fault's behind the other's, and where each fault's begin."""
        fault, repair = np.nonzero(self.fixes.T > 0)
        faults, starts = np.unique(fault, return_index=True)
        return faults, repair, starts

    @cached_property
    def for_nothing(self) -> Bools:
        """Whether each repair puts nothing right in a pattern (r, p)."""
        nothing: Bools = (self.fixes > 0.0).astype(float) @ self.present.T == 0.0
        return nothing

    @cached_property
    def opening(self) -> Array:
        """Money to open, and later close, what each repair needs beyond what is open (r,)."""
        money: Array = self.mask.astype(float) @ np.where(self.opened, 0.0, self.access_cost)
        return money

    def refunded(self, repair: int) -> float:
        """Money of a repair that comes back, times the chance that it does."""
        return float(self.refund[repair] * (self.weight @ self.for_nothing[repair])) if self.refund[repair] else 0.0

    def mask_of(self, steps: frozenset[str]) -> Bools:
        """A set of steps as a row of yes and no."""
        return np.array([step in steps for step in self.steps], dtype=bool)


def board_of(problem: Problem, scenarios: Scenarios) -> Board:
    """Put the problem into arrays, leaving out what no scenario needs.

    Faults that must be put right and have no repair are one column that nothing ends, where handing over is an
    option; else they are left out.
    """
    matter = _what_matters(problem, scenarios)
    weight = scenarios.weight
    if not scenarios.exact:
        weight = _within_reach(weight, matter.present, matter.of_sets)
    # as whole bytes: the same order, and soon told apart
    packed = np.packbits(matter.of_sets > 0.0, axis=1)
    _, first, pattern = np.unique(packed, axis=0, return_index=True, return_inverse=True)
    matrix = matter.of_sets[first]
    repairs = matter.repairs
    fixes = _fixes(repairs, matter.faults, matrix.shape[1])
    cost = np.array([problem.repair_cost(repair) for repair in repairs])
    cheapest = np.where(fixes > 0, cost[:, None], np.inf).min(axis=0, initial=np.inf)
    cheapest[~np.isfinite(cheapest)] = 0.0

    access = problem.access
    closures = [access.needed(repair.access) for repair in repairs]
    closures_of_checks = [access.needed(check.access) for check in problem.checks]
    steps = tuple(sorted(frozenset().union(access.open, *closures, *closures_of_checks)))
    times = [access.steps[step] for step in steps]
    mask = np.array([[step in closure for step in steps] for closure in closures], dtype=bool)
    mask = mask.reshape(len(repairs), len(steps))
    targets = _targets(mask)
    return Board(
        weight=np.bincount(pattern, weights=weight, minlength=len(matrix)).astype(float),
        weight_of_sets=weight,
        present=matrix,
        pattern=pattern,
        repairs=repairs,
        fixes=fixes,
        cost=np.maximum(cost, 1e-9),
        refund=np.array([repair.refund for repair in repairs]),
        tries=np.array([repair.tries for repair in repairs], dtype=float),
        cheapest=cheapest,
        mask=mask,
        access_cost=np.array([(one.open_minutes + one.close_minutes) * problem.per_minute + one.risk for one in times]),
        stays=np.array([one.stays for one in times], dtype=bool),
        opened=np.array([step in access.open for step in steps], dtype=bool),
        targets=targets,
        behind=_behind(mask, targets),
        proof_cost=problem.proof_cost,
        wrong_pass_cost=(1.0 - problem.proof_sees) * problem.comeback_cost,
        comeback_cost=problem.comeback_cost,
        hand_over=problem.hand_over,
        steps=steps,
        exact=scenarios.exact,
        left_out=matter.left_out,
    )


class _Matter(NamedTuple):
    """What is weighed: ``faults`` with a repair, their ``repairs``, and ``left_out`` as the board tells it.

    ``present``: what matters in each fault set (s, fault of the belief). ``of_sets``: the faults kept (s, f), behind
    them one column for those without a repair where these can be handed over.
    """

    faults: list[FaultAt]
    repairs: tuple[Repair, ...]
    left_out: tuple[float, ...]
    present: Bools
    of_sets: Array


def _what_matters(problem: Problem, scenarios: Scenarios) -> _Matter:
    present = scenarios.present if scenarios.matters is None else scenarios.matters
    needed = [fault for fault in problem.belief.faults if problem.must is None or fault in problem.must]
    chance = scenarios.weight @ present
    column = problem.column
    live = {fault for fault in needed if chance[column[fault]] > NEGLIGIBLE}
    repairs = tuple(repair for repair in problem.repairs if any(fault in live for fault in repair.fixes))
    covered = {fault for repair in repairs for fault in repair.fixes if fault in live}
    left_out: tuple[float, ...] = ()
    if len(repairs) > MOST_REPAIRS:
        by_need = sorted(repairs, key=lambda repair: (-round(_need(repair, live, column, chance), 9), repair.id))
        repairs = tuple(by_need[:MOST_REPAIRS])
        left_out = tuple(_need(repair, live, column, chance) for repair in by_need[MOST_REPAIRS:])
    kept = [fault for fault in needed if fault in live and any(fault in repair.fixes for repair in repairs)]
    columns = [present[:, [column[fault] for fault in kept]].astype(float)]
    beyond = [column[fault] for fault in needed if fault in live and fault not in covered]
    if problem.hand_over is not None and beyond:
        columns.append(present[:, beyond].any(axis=1, keepdims=True).astype(float))
    return _Matter(kept, repairs, left_out, present, np.concatenate(columns, axis=1))


def _fixes(repairs: Sequence[Repair], faults: Sequence[FaultAt], columns: int) -> Array:
    """Chance that each repair ends each fault (r, column)."""
    fixes = np.zeros((len(repairs), columns))
    for row, repair in enumerate(repairs):
        for at, fault in enumerate(faults):
            if fault in repair.fixes:
                fixes[row, at] = repair.works
    return fixes


def _within_reach(weight: Array, present: Bools, kept: Array) -> Array:
    """Weights of drawn sets without those in which all that matters was left out: they must not look finished."""
    out = present.any(axis=1) & ~kept.any(axis=1)
    left = np.where(out, 0.0, weight)
    return left / left.sum() if left.sum() > NEGLIGIBLE else weight


def foresight(board: Board, present: Array | None = None) -> Array:
    """What each pattern (p,) costs at least to whoever sees it; ``present`` (p, f): with what is left of each.

    A repair that ends several of its faults is shared out among them; each fault then takes its cheapest share. No
    choice of repairs can cost less than the sum of these (weak duality of covering).
    """
    present = board.present if present is None else present
    repairs = np.zeros(len(present))
    faults, enders, starts = board.enders
    if len(faults):
        share = board.cost / np.maximum(present @ (board.fixes.T > 0), 1.0)  # (p, r)
        least = np.minimum.reduceat(share.T[enders], starts, axis=0)
        repairs = np.multiply(present.T[faults], least, order="C").sum(axis=0)  # fault by fault, in their order
    cost: Array = repairs + board.proof_cost
    if board.hand_over is not None:
        cost = np.where(board.present.any(axis=1), np.minimum(cost, board.hand_over), cost)
    return cost


def _need(repair: Repair, live: set, column: dict, chance: Array) -> float:
    return float(sum(chance[column[fault]] for fault in repair.fixes if fault in live))


def _targets(mask: Bools) -> Bools:
    """Sets of steps worth opening: each repair's own, then unions of two that share a step."""
    distinct: list[tuple[bool, ...]] = []
    for row in mask.tolist():
        if any(row) and tuple(row) not in distinct:
            distinct.append(tuple(row))
    for i, one in enumerate(tuple(distinct)):
        for other in tuple(distinct)[i + 1 :]:
            union = tuple(a or b for a, b in zip(one, other, strict=True))
            if (
                len(distinct) < MOST_TARGETS
                and union not in distinct
                and any(a and b for a, b in zip(one, other, strict=True))
            ):
                distinct.append(union)
    return np.array(distinct, dtype=bool).reshape(len(distinct), mask.shape[1])


def _behind(mask: Bools, targets: Bools) -> NDArray[np.intp]:
    possible = [np.flatnonzero(mask.any(axis=1) & ~(mask & ~target).any(axis=1)) for target in targets]
    behind = np.full((len(targets), max(map(len, possible), default=0)), len(mask), dtype=np.intp)
    for row, some in enumerate(possible):
        behind[row, : len(some)] = some
    return behind
