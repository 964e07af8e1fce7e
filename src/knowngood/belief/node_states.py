"""The states of nodes in many drawn fault sets at once."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.nodes import Node
from knowngood.belief.protocol import Bools
from knowngood.belief.timeline import Instance

Bits = NDArray[np.uint64]
Levels = NDArray[np.uint8]
Narrow = TypeVar("Narrow", Levels, Bools)


def packed(there: Bools) -> Bits:
    """Yes and no of many draws (instance, draw), 64 in a number; the last number of a row is filled up with no."""
    narrow = np.packbits(there, axis=1)
    wide = np.zeros((len(narrow), -(-narrow.shape[1] // 8) * 8), dtype=np.uint8)
    wide[:, : narrow.shape[1]] = narrow
    return wide.view(np.uint64)


def either(kept: Bools, others: Narrow, these: Narrow) -> Narrow:
    """The others' draws (row, draw) where ``kept``, else these; of bytes, so that whole words are taken at once."""
    one, other = these.view(np.uint8), others.view(np.uint8)
    result = one ^ other
    result &= -kept.view(np.uint8)  # all bits of a draw, or none
    result ^= one
    return result.view(these.dtype)


class NodeStates:
    """Nodes laid out once, so that their states in many sets of draws come fast.

    Parameters
    ----------
    nodes : sequence of Node
        Inputs before the nodes they feed.
    instances : iterable of Instance
        In the order of the rows of the draws; faults of the nodes that are not among them are left out.
    some : sequence of int, optional
        The nodes whose states are wanted, ascending; all where it is not given.
    """

    def __init__(self, nodes: Sequence[Node], instances: Iterable[Instance], some: Sequence[int] | None = None) -> None:
        self.nodes, self.some = nodes, list(range(len(nodes)) if some is None else some)
        row = {instance: position for position, instance in enumerate(instances)}
        met = [[(row[one], level) for one, level in nodes[at].faults.items() if one in row] for at in self.some]
        self._met = [
            (np.array([at for at, _ in one], dtype=np.intp), np.array([level for _, level in one], dtype=np.uint8))
            for one in met
        ]
        self._adds = [at for at, node in enumerate(self.some) if nodes[node].op == "add"]
        self._most = np.array([nodes[self.some[at]].size - 1 for at in self._adds], dtype=np.int16).reshape(-1, 1)
        self._worst = _Worst([(at, *self._met[at]) for at in range(len(met)) if nodes[self.some[at]].op == "max"])
        self._sums = _Sums([(at, *self._met[at]) for at in self._adds if len(met[at])])
        # of the nodes that others feed: what these hand on, and whether a sum of it may be more than a byte holds
        self._inputs = [
            (
                at,
                [(source, _table(nodes[source].size, through)) for source, through in nodes[at].inputs],
                nodes[at].size + sum(max(through) for _, through in nodes[at].inputs) > np.iinfo(np.uint8).max,
            )
            for at in self.some
            if nodes[at].inputs
        ]

    @property
    def met(self) -> list[int]:
        """Nodes that any of the faults acts on by itself."""
        return [node for node, (rows, _) in zip(self.some, self._met, strict=True) if len(rows)]

    def of(self, there: Bits, draws: int) -> Levels:
        """State of each node in each of so many draws (node, draw), from those of the instances, packed."""
        states = np.zeros((len(self.nodes), draws), dtype=np.uint8)
        self.feed(self.acted(there, draws), states)
        return states

    def acted(self, there: Bits, draws: int) -> Levels:
        """What faults alone do to each node that is wanted (node, draw)."""
        result = np.zeros((len(self.some), draws), dtype=np.uint8)
        self._worst.put(there, result)
        self._sums.put(there, result)
        return self._within(result)

    def joined(self, one: Levels, other: Levels) -> Levels:
        """What two sets of faults do together to each node that is wanted (node, draw)."""
        result = np.maximum(one, other)
        if self._adds:
            result[self._adds] = one[self._adds] + other[self._adds]  # neither is more than a state
        return self._within(result)

    def _within(self, acted: Levels) -> Levels:
        if self._adds:
            acted[self._adds] = np.minimum(acted[self._adds], self._most)
        return acted

    def feed(self, acted: Levels, states: Levels) -> None:
        """Put the states of the nodes that are wanted in, from what faults alone do to them and other nodes hand on.

        Parameters
        ----------
        acted : array (node, draw)
            Of the nodes that are wanted.
        states : array (node, draw)
            Of all nodes; those that are not wanted are known.
        """
        states[self.some] = acted
        for at, inputs, wide in self._inputs:
            node, own = self.nodes[at], states[at]
            fed = [states[source] if table is None else table.take(states[source]) for source, table in inputs]
            if node.op == "net":
                states[at] = fed[0].astype(np.int16) - fed[1] + node.shift
            elif node.op == "add":
                total = own.astype(np.int16) if wide else own
                for part in fed:
                    total += part
                np.minimum(total, node.size - 1, out=own, casting="unsafe")
            else:
                for part in fed:
                    np.maximum(own, part, out=own)


class _Worst:
    """The worst that faults alone do to many nodes.

    Parameters
    ----------
    nodes : sequence of (place, int array (fault,), array (fault,))
        Row of the node in the result, rows of the faults in the draws, and the level that each reaches.
    """

    def __init__(self, nodes: Sequence[tuple[int, NDArray[np.intp], Levels]]) -> None:
        # the first level of every node, then the second of those that have one, and so on
        ranked = [
            (rank, place, level, faults[reached == level])
            for place, faults, reached in nodes
            for rank, level in enumerate(np.unique(reached))
        ]
        ranked.sort(key=lambda one: one[:2])
        self._rows, self._starts = _laid([faults for *_, faults in ranked])
        self._levels = np.array([level for _, _, level, _ in ranked], dtype=np.uint8).reshape(-1, 1)
        ranks = np.array([rank for rank, *_ in ranked], dtype=np.intp)
        self._places = np.array([place for _, place, *_ in ranked], dtype=np.intp)
        self._ends = np.cumsum(np.bincount(ranks)).tolist() if ranked else []

    def put(self, there: Bits, result: Levels) -> None:
        """Into the rows of these nodes (node, draw)."""
        if not len(self._rows):
            return
        some = np.bitwise_or.reduceat(there.take(self._rows, axis=0), self._starts, axis=0).view(np.uint8)
        levels = np.unpackbits(some, axis=1, count=result.shape[1]) * self._levels
        start = 0
        for end in self._ends:
            places = self._places[start:end]
            result[places] = np.maximum(result[places], levels[start:end]) if start else levels[:end]
            start = end


class _Sums:
    """What faults alone add to many nodes; parameters as for :class:`_Worst`, each node with a fault at least."""

    def __init__(self, nodes: Sequence[tuple[int, NDArray[np.intp], Levels]]) -> None:
        self._rows, starts = _laid([faults for _, faults, _ in nodes])
        of_node = itertools.pairwise([*starts.tolist(), len(self._rows)])
        self._nodes = [(place, slice(*some)) for (place, *_), some in zip(nodes, of_node, strict=True)]
        levels = [reached for *_, reached in nodes]
        self._levels = np.concatenate([np.zeros(0, dtype=np.uint8), *levels]).reshape(-1, 1)
        self._most = np.iinfo(np.uint8).max
        self._wide = np.int16 if any(int(one.sum()) > self._most for one in levels) else np.uint8

    def put(self, there: Bits, result: Levels) -> None:
        """Into the rows of these nodes (node, draw)."""
        if not len(self._rows):
            return
        each = np.unpackbits(there.take(self._rows, axis=0).view(np.uint8), axis=1, count=result.shape[1])
        each *= self._levels
        for place, some in self._nodes:  # one by one: cut up by the array library it takes ten times as long
            sums = np.add.reduce(each[some], axis=0, dtype=self._wide)
            result[place] = sums if self._wide is np.uint8 else np.minimum(sums, self._most)


def _laid(some: Sequence[NDArray[np.intp]]) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Lists one behind the other, and where each starts."""
    starts = np.cumsum([0, *map(len, some)])[:-1]
    return np.concatenate([np.zeros(0, dtype=np.intp), *some]), starts


def _table(size: int, through: Sequence[int]) -> Levels | None:
    """What a node hands on, by its state; ``None`` where that is the state itself."""
    return None if list(through[:size]) == list(range(size)) else np.array(through, dtype=np.uint8)
