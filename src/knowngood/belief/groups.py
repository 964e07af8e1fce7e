"""Faults that touch the same nodes, folded into one variable.

A group's states are the joint contributions its faults can make together. The
fold is exact: whatever is learnt of the group tells each of its faults apart
again (:meth:`Group.split`), and a state drawn for the group is drawn on into
its faults (:meth:`Group.draw`). Thirty causes of "will not start" are one
variable with four states.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Vector = tuple[int, ...]


@dataclass(frozen=True)
class Rule:
    """How contributions to one node join: the worst wins, or they add up to ``most``."""

    adds: bool
    most: int

    def join(self, a: int, b: int) -> int:
        """Two contributions as one."""
        return min(a + b, self.most) if self.adds else max(a, b)


def _join(a: Vector, b: Vector, rules: Sequence[Rule]) -> Vector:
    return tuple(rule.join(x, y) for rule, x, y in zip(rules, a, b, strict=True))


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
        classes: dict[Vector, list[int]] = {}
        for member, vector in enumerate(vectors):
            classes.setdefault(tuple(vector), []).append(member)
        self.classes = list(classes.items())
        nothing: Vector = (0,) * len(rules)
        states = {nothing: 0}
        for vector, members in self.classes:
            edge = list(states)
            for _ in members:
                edge = [reached for reached in {_join(state, vector, rules) for state in edge} if reached not in states]
                for reached in sorted(edge):
                    states[reached] = len(states)
        self.states = list(states)
        # classes whose members add up are taken member by member, the others as "any of them"
        self.steps: list[tuple[float, NDArray[np.intp], list[int]]] = []
        for vector, members in self.classes:
            # a state that cannot be reached from here (a lone fault twice) has no chance; it may jump to itself
            jump = np.array(
                [states.get(_join(state, vector, rules), here) for here, state in enumerate(self.states)], dtype=np.intp
            )
            if bool(np.array_equal(jump[jump], jump)):
                self.steps.append((self._any(members), jump, members))
            else:
                self.steps.extend((float(self.chances[member]), jump, [member]) for member in members)
        self.forward: list[Array] = [np.eye(1, len(self.states))[0]]
        for chance, jump, _ in self.steps:
            before = self.forward[-1]
            after = (1.0 - chance) * before
            np.add.at(after, jump, chance * before)
            self.forward.append(after)
        self.prior = self.forward[-1]

    def _any(self, members: Sequence[int]) -> float:
        return float(-np.expm1(np.log1p(-self.chances[list(members)]).sum()))

    def contribution(self, position: int) -> tuple[int, ...]:
        """Contribution to the node at ``position``, by state of the group."""
        return tuple(state[position] for state in self.states)

    def split(self, posterior: Array) -> Array:
        """Chance of each fault, given the chance of each state of the group (state,)."""
        return self.behind @ posterior

    @cached_property
    def behind(self) -> Array:
        """Chance of each fault in each state (fault, state): evidence on the group does not change it."""
        behind = np.diag(np.divide(1.0, self.prior, out=np.zeros_like(self.prior), where=self.prior > 0.0))
        result = np.empty((len(self.chances), len(self.prior)))
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
            after = (1.0 - chance) * result
            np.add.at(after, jump, chance * result)
            result = gone * after
        return result

    def draw(self, states: NDArray[np.intp], rng: np.random.Generator) -> NDArray[np.bool_]:
        """Faults present in each scenario (scenario, fault), given the group's state in each."""
        n = len(states)
        present = np.zeros((n, len(self.chances)), dtype=bool)
        now = states.copy()
        for index in range(len(self.steps) - 1, -1, -1):
            chance, jump, members = self.steps[index]
            before = self.forward[index]
            without = (1.0 - chance) * before  # from state s, staying s
            # chance of coming from each earlier state into the present one through the fault
            ways = np.zeros((len(before), len(before)))
            ways[np.arange(len(before)), jump] = chance * before
            into = ways[:, now]
            total = without[now] + into.sum(axis=0)
            dice = rng.random(n) * total
            has = dice >= without[now]
            if has.any():
                climbing = np.cumsum(into, axis=0)
                chosen = (dice[None, :] - without[now][None, :] >= climbing[:-1]).sum(axis=0)
                now = np.where(has, np.minimum(chosen, len(before) - 1), now)
                self._draw_members(present, has, members, rng)
        return present

    def _draw_members(
        self, present: NDArray[np.bool_], has: NDArray[np.bool_], members: Sequence[int], rng: np.random.Generator
    ) -> None:
        """At least one of the members, in the scenarios where the class is present."""
        if len(members) == 1:
            present[has, members[0]] = True
            return
        chances = self.chances[list(members)]
        rest = -np.expm1(np.cumsum(np.log1p(-chances)[::-1])[::-1])  # any of this and the later ones
        rows = np.flatnonzero(has)
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
