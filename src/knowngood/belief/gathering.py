"""Which faults are folded into one variable: those of one cylinder, and those that touch the same nodes."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.groups import Array, Codes, Group, Lattice, Rule, Vector
from knowngood.belief.nodes import Node
from knowngood.belief.timeline import Instance

MOST_STATES = 600
MOST_CODES = 1 << 62
OVERLAP = 0.8


@dataclass(frozen=True)
class Fed:
    """A variable whose states are what some faults do together.

    ``by_cause``: the faults with their chances, one group for each state of the common causes; one alone where these do
    not bear on any of them.
    """

    variable: int
    by_cause: tuple[Group, ...]
    instances: tuple[Instance, ...]

    @property
    def prior(self) -> Array:
        """Chance of each state, given the common causes where they bear on it: (state,) or (cause, state)."""
        rows = np.array([group.prior for group in self.by_cause])
        return rows if len(rows) > 1 else rows[0]

    def split(self, joint: Array) -> Array:
        """Chance of each fault (fault, ...), given that of each state (state, ...) or (cause, state, ...)."""
        if len(self.by_cause) == 1:
            return self.by_cause[0].split(joint)
        return np.sum([group.split(one) for group, one in zip(self.by_cause, joint, strict=True)], axis=0)

    def prior_without(self, absent: frozenset[int]) -> Array:
        """As :attr:`prior`, with some of the faults absent; it sums to the chance of their absence."""
        rows = np.array([group.prior_without(absent) for group in self.by_cause])
        return rows if len(rows) > 1 else rows[0]

    def draw(self, states: Codes, cause: Codes, rng: np.random.Generator) -> NDArray[np.bool_]:
        """Faults present in each draw (draw, fault), given the state in each and that of the common causes."""
        if len(self.by_cause) == 1:
            return self.by_cause[0].draw(states, rng)
        present = np.zeros((len(states), len(self.instances)), dtype=bool)
        for number, group in enumerate(self.by_cause):
            rows = np.flatnonzero(cause == number)
            present[rows] = group.draw(states[rows], rng)
        return present


def gathered(
    nodes: Sequence[Node], feeds: Mapping[Instance, Sequence[tuple[int, int]]]
) -> Iterator[tuple[list[Instance], tuple[int, ...]]]:
    """Sets of instances to fold, with the nodes they touch.

    All faults that touch nodes of one cylinder only go together where their states are not too many; a part that has
    been in two cylinders, or a fault of the whole engine, goes with those that touch the very same nodes.
    """
    together: dict[object, list[Instance]] = {}
    whole: dict[tuple[int, ...], list[Instance]] = {}
    for instance, fed in feeds.items():
        cylinders = {nodes[node].cylinder for node, _ in fed}
        if cylinders == {0}:
            whole.setdefault(tuple(node for node, _ in fed), []).append(instance)
            continue
        one = cylinders.pop() if len(cylinders) == 1 else 0
        together.setdefault(one or tuple(node for node, _ in fed), []).append(instance)
    parts = [part for instances in together.values() for part in _foldable(nodes, instances, feeds)]
    for part in [*parts, *_overlapping(nodes, list(whole.values()), feeds)]:
        yield part, tuple(sorted({node for instance in part for node, _ in feeds[instance]}))


def _overlapping(
    nodes: Sequence[Node], classes: list[list[Instance]], feeds: Mapping[Instance, Sequence[tuple[int, int]]]
) -> list[list[Instance]]:
    """Faults of the whole engine, put together where what they do overlaps: few joint states against many variables."""
    touched = sorted({node for instances in classes for one in instances for node, _ in feeds[one]})
    rules = tuple(Rule(nodes[node].op == "add", nodes[node].size - 1) for node in touched)
    if math.prod(rule.most + 1 for rule in rules) >= MOST_CODES:
        return classes
    lattice = Lattice(rules)
    found: list[tuple[Codes, list[Instance]]] = []
    summing = [one for one in classes if any(nodes[node].op == "add" for node, _ in feeds[one[0]])]
    for instances in sorted((one for one in classes if one not in summing), key=lambda one: -len(feeds[one[0]])):
        vectors = [vector_of(feeds[one], touched) for one in instances]
        alone = lattice.reachable(vectors)
        assert alone is not None
        best: tuple[float, int, Codes] | None = None
        for position, (codes, _) in enumerate(found):
            both = lattice.grown(codes, vectors, MOST_STATES)
            if both is not None:
                growth = len(both) / (len(codes) * len(alone))
                if growth <= OVERLAP and (best is None or growth < best[0]):
                    best = (growth, position, both)
        if best is None:
            found.append((alone, list(instances)))
        else:
            found[best[1]] = (best[2], found[best[1]][1] + list(instances))
    return [*summing, *(instances for _, instances in found)]


def _foldable(
    nodes: Sequence[Node], instances: list[Instance], feeds: Mapping[Instance, Sequence[tuple[int, int]]]
) -> list[list[Instance]]:
    """All at once where their joint states are not too many, else by the nodes they touch."""
    touched = sorted({node for instance in instances for node, _ in feeds[instance]})
    rules = tuple(Rule(nodes[node].op == "add", nodes[node].size - 1) for node in touched)
    if math.prod(rule.most + 1 for rule in rules) < MOST_CODES:
        vectors = tuple(vector_of(feeds[instance], touched) for instance in instances)
        if few_states(vectors, rules):
            return [instances]
    by_nodes: dict[tuple[int, ...], list[Instance]] = {}
    for instance in instances:
        by_nodes.setdefault(tuple(node for node, _ in feeds[instance]), []).append(instance)
    return list(by_nodes.values())


def vector_of(fed: Sequence[tuple[int, int]], touched: Sequence[int]) -> Vector:
    """What a fault contributes to each node that is touched."""
    known = dict(fed)
    return tuple(known.get(node, 0) for node in touched)


@lru_cache(maxsize=256)
def few_states(vectors: tuple[Vector, ...], rules: tuple[Rule, ...]) -> bool:
    """Whether some faults can do few enough different things together."""
    return Lattice(rules).reachable(vectors, MOST_STATES) is not None
