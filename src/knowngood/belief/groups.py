"""Faults that touch the same nodes, folded into one variable.

A group's states are the joint contributions its faults can make together. The
fold is exact: whatever is learnt of the group tells each of its faults apart
again (:meth:`Group.split`), and a state drawn for the group is drawn on into
its faults (:attr:`Group.way_back`). Thirty causes of "will not start" are one
variable with four states.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.ordering import TooTangled
from knowngood.belief.protocol import Array
from knowngood.belief.way_back import WayBack

Codes = NDArray[np.intp]
Vector = tuple[int, ...]
Ways = tuple[Vector, ...]
"""What one fault may contribute to each node, one way or another: as it is mild or severe, or shows in this look."""
FEW_STATES = 256  # up to which the table of rows by states is kept
MOST_CODES = 1 << 62  # of joint contributions, each a whole number of the machine
MOST_JUMPS = 1 << 22  # states of one group times the ways of its faults, each a whole number kept: 32 MB


@dataclass(frozen=True)
class Rule:
    """How contributions to one node join: the worst wins, or they add up to ``most``."""

    adds: bool
    most: int


class Lattice:
    """Joint contributions written as whole numbers, and what joining one more contribution makes of them.

    Raises
    ------
    TooTangled
        They are more than whole numbers of the machine can tell apart.
    """

    def __init__(self, rules: Sequence[Rule]) -> None:
        every = math.prod(rule.most + 1 for rule in rules)
        if every >= MOST_CODES:
            raise TooTangled(every)
        self.rules = rules
        self.weights = [math.prod(rule.most + 1 for rule in rules[position + 1 :]) for position in range(len(rules))]

    def column(self, codes: Codes, position: int) -> Codes:
        """Contribution to the node at ``position``."""
        result: Codes = codes // self.weights[position] % (self.rules[position].most + 1)
        return result

    def joined(self, codes: Codes, vector: Vector) -> Codes:
        """Each joint contribution with one more."""
        result = codes.copy()
        for position, (rule, more) in enumerate(zip(self.rules, vector, strict=True)):
            if more:
                before = self.column(codes, position)
                after = np.minimum(before + more, rule.most) if rule.adds else np.maximum(before, more)
                result += (after - before) * self.weights[position]
        return result

    def both(self, a: Codes, b: Codes) -> Codes:
        """Two joint contributions as one, place by place."""
        result = np.zeros_like(a)
        for position, rule in enumerate(self.rules):
            first, second = self.column(a, position), self.column(b, position)
            joined = np.minimum(first + second, rule.most) if rule.adds else np.maximum(first, second)
            result += joined * self.weights[position]
        return result

    def reachable(self, members: Sequence[Ways], most: int) -> Codes | None:
        """All joint contributions of some of the faults, ascending; ``None`` where they are more than ``most``."""
        return self.grown(np.zeros(1, dtype=np.intp), members, most)

    def fitting(self, members: Sequence[Ways]) -> Codes:
        """The same of faults that cannot be taken apart.

        Raises
        ------
        TooTangled
            Where each way leads from each of them would be more than :data:`MOST_JUMPS`.
        """
        ways = sum(map(len, members))
        codes = self.reachable(members, MOST_JUMPS // max(ways, 1))
        if codes is None:
            raise TooTangled(MOST_JUMPS)
        return codes

    def grown(self, codes: Codes, members: Sequence[Ways], most: int) -> Codes | None:
        """All of these with some of the faults or none, ascending; ``None`` where they are too many."""
        once: set[Ways] = set()  # faults that do no more together with another of the kind
        for ways in members:
            if ways in once:
                continue
            if len(ways) == 1 and not any(rule.adds and more for rule, more in zip(self.rules, ways[0], strict=True)):
                once.add(ways)
            codes = np.unique(np.concatenate([codes, *(self.joined(codes, vector) for vector in ways)]))
            if len(codes) > most:
                return None
        return codes


@dataclass(frozen=True)
class Step:
    """One fault let into a group in one of its ways, or any of some faults that are alike.

    ``chances``: of each way (way,). ``jumps``: state reached from each (way, state). ``rows``: of the group's result,
    the ways of the fault, or the faults that are alike.
    """

    chances: Array
    jumps: tuple[Codes, ...]
    rows: tuple[int, ...]

    @property
    def spared(self) -> float:
        """Chance that nothing of it is there."""
        return 1.0 - float(self.chances.sum())

    def after(self, before: Array) -> Array:
        """Chance of each state once this is let in."""
        result = self.spared * before
        for chance, jump in zip(self.chances, self.jumps, strict=True):
            result += np.bincount(jump, chance * before, len(before))
        return result


class Group:
    """Independent faults with their contributions to the same nodes.

    A *row* is one way of one fault; most faults have one.

    Parameters
    ----------
    chances : sequence of tuple of float
        Of each fault, the chance of each of its ways before evidence.
    members : sequence of tuple of tuple of int
        Of each fault, what each of its ways contributes to each node.
    rules : sequence of Rule
        One per node.

    Raises
    ------
    TooTangled
        They can do more different things together than are worth a variable.
    """

    def __init__(self, chances: Sequence[tuple[float, ...]], members: Sequence[Ways], rules: Sequence[Rule]) -> None:
        self.chances = np.array([chance for ways in chances for chance in ways])
        self.members = members
        self.lattice = Lattice(rules)
        self.codes: Codes = self.lattice.fitting(members)
        self.steps = self._steps(members)
        self.forward: list[Array] = [np.eye(1, len(self.codes))[0]]
        for step in self.steps:
            self.forward.append(step.after(self.forward[-1]))
        self.prior = self.forward[-1]

    def _steps(self, members: Sequence[Ways]) -> list[Step]:
        """Faults that are alike are let in as "any of them", unless they add up; the others one by one."""
        alike: dict[Vector, list[int]] = {}
        steps: list[Step] = []
        row = 0
        for ways in members:
            if len(ways) == 1:
                alike.setdefault(ways[0], []).append(row)
            else:
                rows = tuple(range(row, row + len(ways)))
                steps.append(Step(self.chances[list(rows)], tuple(self._jump(vector) for vector in ways), rows))
            row += len(ways)
        for vector, every in alike.items():
            jump = self._jump(vector)
            if bool(np.array_equal(jump[jump], jump)):
                steps.append(Step(np.array([self._any(every)]), (jump,), tuple(every)))
            else:
                steps.extend(Step(self.chances[[one]], (jump,), (one,)) for one in every)
        return steps

    @property
    def states(self) -> list[Vector]:
        """What the faults can do together: one contribution to each node."""
        columns = [self.contribution(position).tolist() for position in range(len(self.lattice.rules))]
        return list(zip(*columns, strict=True))

    def _jump(self, vector: Vector) -> Codes:
        """State reached from each with one more contribution.

        A state that cannot be reached from here (a lone fault twice) has no chance; it jumps to itself.
        """
        wanted = self.lattice.joined(self.codes, vector)
        found = np.minimum(np.searchsorted(self.codes, wanted), len(self.codes) - 1)
        return np.where(self.codes[found] == wanted, found, np.arange(len(self.codes)))

    def _any(self, rows: Sequence[int]) -> float:
        return float(-np.expm1(np.log1p(-self.chances[list(rows)]).sum()))

    def contribution(self, position: int) -> Codes:
        """Contribution to the node at ``position``, by state of the group."""
        return self.lattice.column(self.codes, position)

    def split(self, posterior: Array) -> Array:
        """Chance of each row (row, ...), given the chance of each state of the group (state, ...)."""
        if len(self.codes) <= FEW_STATES:
            return self.behind @ posterior
        return self._split(posterior)

    @cached_property
    def behind(self) -> Array:
        """Chance of each row in each state (row, state): evidence on the group does not change it."""
        return self._split(np.eye(len(self.prior)))

    def _split(self, posterior: Array) -> Array:
        share = np.divide(1.0, self.prior, out=np.zeros_like(self.prior), where=self.prior > 0.0)
        behind = posterior * share.reshape(-1, *(1,) * (posterior.ndim - 1))
        result = np.empty((len(self.chances), *posterior.shape[1:]))
        for step, before in zip(reversed(self.steps), reversed(self.forward[:-1]), strict=True):
            after = step.spared * behind
            for position, (chance, jump) in enumerate(zip(step.chances, step.jumps, strict=True)):
                with_it = behind[jump]
                after += chance * with_it
                here = chance * (before @ with_it)
                rows = step.rows if len(step.chances) == 1 else step.rows[position : position + 1]
                for row in rows:
                    result[row] = here * self.chances[row] / chance if chance > 0.0 else 0.0
            behind = after
        return result

    def prior_without(self, absent: frozenset[int]) -> Array:
        """Chance of each state with some rows absent (state,); it sums to the chance of their absence."""
        result = self.forward[0]
        for step in self.steps:
            if len(step.chances) > 1:
                kept = step.chances * [row not in absent for row in step.rows]
                free = step.spared * result
                for chance, jump in zip(kept, step.jumps, strict=True):
                    free += np.bincount(jump, chance * result, len(result))
                result = free
                continue
            left = [row for row in step.rows if row not in absent]
            gone = float(np.prod([1.0 - self.chances[row] for row in step.rows if row in absent]))
            chance = self._any(left) if left else 0.0
            result = gone * ((1.0 - chance) * result + np.bincount(step.jumps[0], chance * result, len(result)))
        return result

    @cached_property
    def way_back(self) -> WayBack:
        """From a state back to the ways that make it up, as draws need it."""
        jumps: dict[Vector, Codes] = {}
        faults, row = [], 0
        for ways in self.members:
            for vector in ways:
                if vector not in jumps:
                    jumps[vector] = self._jump(vector)
            faults.append((self.chances[row : row + len(ways)], [jumps[vector] for vector in ways]))
            row += len(ways)
        return WayBack(faults, len(self.codes))


@lru_cache(maxsize=256)
def group_of(chances: tuple[tuple[float, ...], ...], members: tuple[Ways, ...], rules: tuple[Rule, ...]) -> Group:
    """A group, the same one for cylinders that are alike."""
    return Group(chances, members, rules)
