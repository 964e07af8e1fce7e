"""Faults that touch the same nodes, folded into one variable.

A group's states are the joint contributions its faults can make together. The
fold is exact: whatever is learnt of the group tells each of its faults apart
again (:meth:`Group.split`), and a state drawn for the group is drawn on into
its faults (:meth:`Group.draw`). Thirty causes of "will not start" are one
variable with four states.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Codes = NDArray[np.intp]
Vector = tuple[int, ...]
FEW_STATES = 256


@dataclass(frozen=True)
class Rule:
    """How contributions to one node join: the worst wins, or they add up to ``most``."""

    adds: bool
    most: int

    def join(self, a: int, b: int) -> int:
        """Two contributions as one."""
        return min(a + b, self.most) if self.adds else max(a, b)


class Lattice:
    """Joint contributions written as whole numbers, and what joining one more contribution makes of them."""

    def __init__(self, rules: Sequence[Rule]) -> None:
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

    def reachable(self, vectors: Sequence[Vector], most: int | None = None) -> Codes | None:
        """All joint contributions of some of the vectors, ascending; ``None`` where they are more than ``most``."""
        return self.grown(np.zeros(1, dtype=np.intp), vectors, most)

    def grown(self, codes: Codes, vectors: Sequence[Vector], most: int | None = None) -> Codes | None:
        """All of these with some of the vectors or none, ascending; ``None`` where they are too many."""
        for vector in vectors:
            codes = np.union1d(codes, self.joined(codes, vector))
            if most is not None and len(codes) > most:
                return None
        return codes


class Group:
    """Independent faults with their contributions to the same nodes.

    Parameters
    ----------
    chances : sequence of float
        Chance of each fault before evidence.
    vectors : sequence of tuple of int
        Contribution of each fault to each node when present.
    rules : sequence of Rule
        One per node.
    """

    def __init__(self, chances: Sequence[float], vectors: Sequence[Vector], rules: Sequence[Rule]) -> None:
        self.chances = np.asarray(chances, dtype=float)
        self.lattice = Lattice(rules)
        codes = self.lattice.reachable(vectors)
        assert codes is not None
        self.codes: Codes = codes
        classes: dict[Vector, list[int]] = {}
        for member, vector in enumerate(vectors):
            classes.setdefault(tuple(vector), []).append(member)
        # classes whose members add up are taken member by member, the others as "any of them"
        self.steps: list[tuple[float, Codes, list[int]]] = []
        for vector, members in classes.items():
            jump = self._jump(vector)
            if bool(np.array_equal(jump[jump], jump)):
                self.steps.append((self._any(members), jump, members))
            else:
                self.steps.extend((float(self.chances[member]), jump, [member]) for member in members)
        self.forward: list[Array] = [np.eye(1, len(codes))[0]]
        for chance, jump, _ in self.steps:
            before = self.forward[-1]
            self.forward.append((1.0 - chance) * before + np.bincount(jump, chance * before, len(codes)))
        self.prior = self.forward[-1]

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

    def _any(self, members: Sequence[int]) -> float:
        return float(-np.expm1(np.log1p(-self.chances[list(members)]).sum()))

    def contribution(self, position: int) -> Codes:
        """Contribution to the node at ``position``, by state of the group."""
        return self.lattice.column(self.codes, position)

    def split(self, posterior: Array) -> Array:
        """Chance of each fault (fault, ...), given the chance of each state of the group (state, ...)."""
        if len(self.codes) <= FEW_STATES:
            return self.behind @ posterior
        return self._split(posterior)

    @cached_property
    def behind(self) -> Array:
        """Chance of each fault in each state (fault, state): evidence on the group does not change it."""
        return self._split(np.eye(len(self.prior)))

    def _split(self, posterior: Array) -> Array:
        share = np.divide(1.0, self.prior, out=np.zeros_like(self.prior), where=self.prior > 0.0)
        behind = posterior * share.reshape(-1, *(1,) * (posterior.ndim - 1))
        result = np.empty((len(self.chances), *posterior.shape[1:]))
        for index in range(len(self.steps) - 1, -1, -1):
            chance, jump, members = self.steps[index]
            with_it = behind[jump]
            here = chance * (self.forward[index] @ with_it)
            for member in members:
                result[member] = here * self.chances[member] / chance if chance > 0.0 else 0.0
            behind = (1.0 - chance) * behind + chance * with_it
        return result

    def prior_without(self, absent: frozenset[int]) -> Array:
        """Chance of each state with some members absent (state,); it sums to the chance of their absence."""
        result = self.forward[0]
        for _, jump, members in self.steps:
            free = [member for member in members if member not in absent]
            gone = float(np.prod([1.0 - self.chances[member] for member in members if member in absent]))
            chance = self._any(free) if free else 0.0
            result = gone * ((1.0 - chance) * result + np.bincount(jump, chance * result, len(result)))
        return result

    def draw(self, states: Codes, rng: np.random.Generator) -> NDArray[np.bool_]:
        """Faults present in each scenario (scenario, fault), given the group's state in each."""
        n = len(states)
        present = np.zeros((n, len(self.chances)), dtype=bool)
        now = states.copy()
        for (_, _, members), back in zip(reversed(self.steps), reversed(self._back), strict=True):
            order, climbing, ends, climbed, none = back
            without, (low, high) = none[now], climbed[:, now]
            dice = rng.random(n) * (without + high - low)
            rows = np.flatnonzero(dice >= without)
            if len(rows):
                place = np.searchsorted(climbing, low[rows] + dice[rows] - without[rows], side="right") - 1
                place = np.clip(place, ends[now[rows]], ends[now[rows] + 1] - 1)
                now[rows] = order[place]
                self._draw_members(present, rows, members, rng)
        return present

    @cached_property
    def _back(self) -> list[tuple[Codes, Array, Codes, Array, Array]]:
        """Of each step, what it takes to go back: the earlier states in the order of the state they come to through the
        fault, so that those of one lie together; their climbing chances, where those of each state end, the chances
        climbed to at either end of each state, and the chance to come to it without the fault.
        """
        result = []
        for (chance, jump, _), before in zip(self.steps, self.forward[:-1], strict=True):
            order = np.argsort(jump, kind="stable")
            climbing = np.concatenate([[0.0], np.cumsum(chance * before[order])])
            ends = np.searchsorted(jump[order], np.arange(len(before) + 1))
            climbed = np.stack([climbing[ends[:-1]], climbing[ends[1:]]])
            result.append((order, climbing, ends, climbed, (1.0 - chance) * before))
        return result

    def _draw_members(
        self, present: NDArray[np.bool_], rows: Codes, members: Sequence[int], rng: np.random.Generator
    ) -> None:
        """At least one of the members, in the scenarios (rows) where the class is present."""
        if len(members) == 1:
            present[rows, members[0]] = True
            return
        chances = self.chances[list(members)]
        rest = -np.expm1(np.cumsum(np.log1p(-chances)[::-1])[::-1])  # any of this and the later ones
        found = np.zeros(len(rows), dtype=bool)
        for position, member in enumerate(members):
            needed = np.where(found, chances[position], np.minimum(1.0, chances[position] / rest[position]))
            hit = rng.random(len(rows)) < needed
            present[rows, member] = hit
            found |= hit


@lru_cache(maxsize=256)
def group_of(chances: tuple[float, ...], vectors: tuple[Vector, ...], rules: tuple[Rule, ...]) -> Group:
    """A group, the same one for cylinders that are alike."""
    return Group(chances, vectors, rules)
