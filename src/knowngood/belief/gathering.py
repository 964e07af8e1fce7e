"""Which faults are folded into one variable: those of one cylinder, and those that touch the same nodes."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.courses import Course, root_of
from knowngood.belief.groups import MOST_CODES, Array, Codes, Group, Lattice, Rule, Ways
from knowngood.belief.nodes import Node
from knowngood.belief.timeline import Instance

MOST_STATES = 600  # of one variable
OVERLAP = 0.8  # joint states of two classes, as a share of all pairs of theirs, up to which they are put together


Feeds = Mapping[Instance, Mapping[int, tuple[int, ...]]]
"""Of each fault, by its root, what each of its ways contributes to each node it touches."""


@dataclass(frozen=True)
class Fed:
    """A variable whose states are what some faults do together.

    ``by_cause``: the faults with their chances, one group for each state of the common causes; one alone where these do
    not bear on any of them.
    """

    variable: int
    by_cause: tuple[Group, ...]
    courses: tuple[Course, ...]

    @cached_property
    def faces(self) -> tuple[Instance, ...]:
        """All faces of the faults, fault by fault."""
        return tuple(face for course in self.courses for face in course.faces)

    @cached_property
    def _table(self) -> NDArray[np.bool_] | None:
        """Which faces are true in which row of the group (face, row); ``None`` where each is a row of its own."""
        if all(len(course.faces) == 1 for course in self.courses):
            return None
        table = np.zeros((len(self.faces), sum(len(course.shares) for course in self.courses)), dtype=bool)
        face = row = 0
        for course in self.courses:
            faces, ways = course.table.shape
            table[face : face + faces, row : row + ways] = course.table
            face, row = face + faces, row + ways
        return table

    @property
    def prior(self) -> Array:
        """Chance of each state, given the common causes where they bear on it: (state,) or (cause, state)."""
        rows = np.array([group.prior for group in self.by_cause])
        return rows if len(rows) > 1 else rows[0]

    def split(self, joint: Array) -> Array:
        """Chance of each face (face, ...), given that of each state (state, ...) or (cause, state, ...)."""
        if len(self.by_cause) == 1:
            rows = self.by_cause[0].split(joint)
        else:
            rows = np.sum([group.split(one) for group, one in zip(self.by_cause, joint, strict=True)], axis=0)
        return rows if self._table is None else np.tensordot(self._table.astype(float), rows, axes=1)

    def prior_without(self, absent: frozenset[Instance]) -> Array | None:
        """As :attr:`prior`, with some of the faces not true; it sums to the chance of that. ``None``: none is here."""
        gone = np.array([face in absent for face in self.faces])
        if not gone.any():
            return None
        rows = gone if self._table is None else self._table[gone].any(axis=0)
        without = frozenset(np.flatnonzero(rows).tolist())
        left = np.array([group.prior_without(without) for group in self.by_cause])
        return left if len(left) > 1 else left[0]

    @property
    def faces_of_rows(self) -> list[Codes]:
        """Of each row of the group, which faces are true in it."""
        table = self._table
        if table is None:
            return [np.array([face], dtype=np.intp) for face in range(len(self.faces))]
        return [np.flatnonzero(column) for column in table.T]


def fed_by(nodes: Sequence[Node], courses: Mapping[Instance, Course]) -> Feeds:
    """What the ways of each fault contribute to the nodes that meet any face of it."""
    feeds: dict[Instance, dict[int, tuple[int, ...]]] = {}
    for index, node in enumerate(nodes):
        for face, contribution in node.faults.items():
            course = courses[root_of(face)]
            known = feeds.setdefault(course.root, {})
            if len(course.shares) == 1:
                known[index] = (contribution,)
                continue
            before = known.get(index, (0,) * len(course.shares))
            known[index] = tuple(
                max(so_far, contribution) if face in holds else so_far
                for so_far, holds in zip(before, course.holds, strict=True)
            )
    return feeds


def gathered(nodes: Sequence[Node], feeds: Feeds) -> Iterator[tuple[list[Instance], tuple[int, ...]]]:
    """Sets of instances to fold, with the nodes they touch.

    All faults that touch nodes of one cylinder only go together where their states are not too many; a part that has
    been in two cylinders, or a fault of the whole engine, goes with those that touch the very same nodes.
    """
    together: dict[object, list[Instance]] = {}
    whole: dict[tuple[int, ...], list[Instance]] = {}
    for instance, fed in feeds.items():
        cylinders = {nodes[node].cylinder for node in fed}
        if cylinders == {0}:
            whole.setdefault(tuple(fed), []).append(instance)
            continue
        one = cylinders.pop() if len(cylinders) == 1 else 0
        together.setdefault(one or tuple(fed), []).append(instance)
    parts = [part for instances in together.values() for part in _foldable(nodes, instances, feeds)]
    for part in [*parts, *_overlapping(nodes, list(whole.values()), feeds)]:
        yield part, tuple(sorted({node for instance in part for node in feeds[instance]}))


def _overlapping(nodes: Sequence[Node], classes: list[list[Instance]], feeds: Feeds) -> list[list[Instance]]:
    """Faults of the whole engine, put together where what they do overlaps: few joint states against many variables."""
    touched = sorted({node for instances in classes for one in instances for node in feeds[one]})
    rules = tuple(Rule(nodes[node].op == "add", nodes[node].size - 1) for node in touched)
    if math.prod(rule.most + 1 for rule in rules) >= MOST_CODES:
        return classes
    lattice = Lattice(rules)
    found: list[tuple[Codes, list[Instance]]] = []
    summing = [one for one in classes if any(nodes[node].op == "add" for node in feeds[one[0]])]
    for instances in sorted((one for one in classes if one not in summing), key=lambda one: -len(feeds[one[0]])):
        vectors = [vector_of(feeds[one], touched) for one in instances]
        alone = lattice.fitting(vectors)
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


def _foldable(nodes: Sequence[Node], instances: list[Instance], feeds: Feeds) -> list[list[Instance]]:
    """All at once where their joint states are not too many, else by the nodes they touch."""
    touched = sorted({node for instance in instances for node in feeds[instance]})
    rules = tuple(Rule(nodes[node].op == "add", nodes[node].size - 1) for node in touched)
    if math.prod(rule.most + 1 for rule in rules) < MOST_CODES:
        vectors = tuple(vector_of(feeds[instance], touched) for instance in instances)
        if few_states(vectors, rules):
            return [instances]
    by_nodes: dict[tuple[int, ...], list[Instance]] = {}
    for instance in instances:
        by_nodes.setdefault(tuple(feeds[instance]), []).append(instance)
    return list(by_nodes.values())


def vector_of(fed: Mapping[int, tuple[int, ...]], touched: Sequence[int]) -> Ways:
    """What each way of a fault contributes to each node that is touched."""
    ways = len(next(iter(fed.values())))
    columns = [fed.get(node, (0,) * ways) for node in touched]
    return tuple(zip(*columns, strict=True))


@lru_cache(maxsize=256)
def few_states(members: tuple[Ways, ...], rules: tuple[Rule, ...]) -> bool:
    """Whether some faults can do few enough different things together."""
    return Lattice(rules).reachable(members, MOST_STATES) is not None


def bundles(nodes: Sequence[Node], feeds: Feeds) -> dict[int, tuple[int, ...]]:
    """Nodes whose direct faults are joined once for all of them, by node: those of a cylinder, and those of the whole
    engine or a bank that reach cylinders; only where few joint states can be."""
    reaching = {source for node in nodes if node.cylinder for source, _ in node.inputs}
    together: dict[int, list[int]] = {}
    for index, node in enumerate(nodes):
        if node.faults and (node.cylinder or (index in reaching and node.op == "max")):
            together.setdefault(node.cylinder, []).append(index)
    result: dict[int, tuple[int, ...]] = {}
    for members in together.values():
        rules = tuple(Rule(nodes[index].op == "add", nodes[index].size - 1) for index in members)
        every = sorted({root_of(face) for index in members for face in nodes[index].faults})
        vectors = tuple(vector_of(feeds[root], members) for root in every)
        if math.prod(rule.most + 1 for rule in rules) < MOST_CODES and few_states(vectors, rules):
            result.update(dict.fromkeys(members, tuple(members)))
    return result
