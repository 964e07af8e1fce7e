"""The states of nodes in many drawn fault sets at once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.nodes import Node
from knowngood.belief.timeline import Instance

Bools = NDArray[np.bool_]
Levels = NDArray[np.uint8]
Contribution = NDArray[Any]


class NodeStates:
    """Nodes laid out once, so that their states in many sets of draws come fast.

    Parameters
    ----------
    nodes : sequence of Node
        Inputs before the nodes they feed.
    instances : iterable of Instance
        In the order of the rows of the draws; faults of the nodes that are not among them are left out.
    """

    def __init__(self, nodes: Sequence[Node], instances: Iterable[Instance]) -> None:
        self.nodes = nodes
        row = {instance: position for position, instance in enumerate(instances)}
        known = [[(row[one], level) for one, level in node.faults.items() if one in row] for node in nodes]
        self.rows = [np.array([at for at, _ in some], dtype=np.intp) for some in known]
        self._levels: list[Contribution] = [
            np.array([level for _, level in some], dtype=_kind(node)).reshape(-1, 1)
            for node, some in zip(nodes, known, strict=True)
        ]
        self._worst: dict[tuple[int, ...], _Worst] = {}
        self._inputs = [[(source, _table(nodes[source].size, through)) for source, through in n.inputs] for n in nodes]

    def of(self, there: Bools) -> list[Levels]:
        """State of each node in each draw: (draw,) by node, from draws of the instances (instance, draw)."""
        return [state for _, state in self.fed(self.acted(there, range(len(self.nodes))))]

    def acted(self, there: Bools, some: Iterable[int]) -> dict[int, Contribution]:
        """What faults alone do to some of the nodes, by node (draw,)."""
        wanted = tuple(some)
        if wanted not in self._worst:
            self._worst[wanted] = _Worst([(at, *self._acting(at)) for at in wanted if self.nodes[at].op == "max"])
        worst = self._worst[wanted].of(there)
        return {at: worst[at] if at in worst else self._joined(at, there) for at in wanted}

    def _acting(self, at: int) -> tuple[NDArray[np.intp], Contribution]:
        return self.rows[at], self._levels[at].ravel()

    def _joined(self, at: int, there: Bools) -> Contribution:
        own = there[self.rows[at]].view(np.uint8) * self._levels[at]
        result: Contribution = _join(self.nodes[at]).reduce(own, axis=0, initial=0)
        return result

    def fed(self, acted: Mapping[int, Contribution], known: Sequence[Levels] = ()) -> Iterator[tuple[int, Levels]]:
        """Nodes with their states, from what faults alone do to them and what other nodes hand on.

        Parameters
        ----------
        acted : mapping node -> array (draw,)
            Nodes before those they feed.
        known : sequence of array (draw,)
            States of all nodes, where some of those that feed are not among ``acted``.
        """
        states = dict(enumerate(known))
        for at, own in acted.items():
            node = self.nodes[at]
            fed = [
                states[source] if table is None else table.take(states[source]) for source, table in self._inputs[at]
            ]
            if node.op == "net":
                own = (fed[0].astype(np.int16) - fed[1] + node.shift).astype(np.uint8)
            else:
                for part in fed:
                    own = _join(node)(own, part)
                if node.op == "add":
                    own = np.minimum(own, node.size - 1).astype(np.uint8)
            states[at] = own
            yield at, own


class _Worst:
    """The worst that faults alone do to many nodes, 64 draws in a number.

    Parameters
    ----------
    nodes : sequence of (node, int array (fault,), array (fault,))
        Rows of the faults in the draws, and the level that each reaches.
    """

    def __init__(self, nodes: Sequence[tuple[int, NDArray[np.intp], Contribution]]) -> None:
        self._nodes = [node for node, _, _ in nodes]
        # the first level of every node, then the second of those that have one, and so on
        ranked = [
            (rank, place, level, faults[reached == level])
            for place, (_, faults, reached) in enumerate(nodes)
            for rank, level in enumerate(np.unique(reached))
        ]
        ranked.sort(key=lambda one: one[:2])
        sizes = [len(faults) for *_, faults in ranked]
        self._starts = np.cumsum([0, *sizes])[:-1]
        self._rows = np.concatenate([faults for *_, faults in ranked]) if ranked else np.zeros(0, dtype=np.intp)
        self._levels = np.array([level for _, _, level, _ in ranked], dtype=np.uint8).reshape(-1, 1)
        ranks = np.array([rank for rank, *_ in ranked], dtype=np.intp)
        self._places = np.array([place for _, place, *_ in ranked], dtype=np.intp)
        self._of_rank = [np.flatnonzero(ranks == rank) for rank in range(int(ranks.max(initial=-1)) + 1)]

    def of(self, there: Bools) -> dict[int, Contribution]:
        """By node (draw,), from draws of the faults (instance, draw)."""
        draws = there.shape[1]
        result = np.zeros((len(self._nodes), draws), dtype=np.uint8)
        if len(self._rows):
            packed = np.packbits(there, axis=1)
            wide = np.ascontiguousarray(np.pad(packed, [(0, 0), (0, -packed.shape[1] % 8)])).view(np.uint64)
            some = np.bitwise_or.reduceat(wide[self._rows], self._starts, axis=0).view(np.uint8)
            levels = np.unpackbits(some, axis=1, count=draws) * self._levels
            for rank in self._of_rank:
                places = self._places[rank]
                result[places] = np.maximum(result[places], levels[rank])
        return dict(zip(self._nodes, result, strict=True))


def _join(node: Node) -> np.ufunc:
    return np.maximum if node.op == "max" else np.add


def _kind(node: Node) -> type[np.uint8 | np.int16]:
    """Numbers that hold the worst of some faults, or their sum before it is cut off."""
    return np.uint8 if node.op == "max" else np.int16


def _table(size: int, through: Sequence[int]) -> Levels | None:
    """What a node hands on, by its state; ``None`` where that is the state itself."""
    return None if list(through[:size]) == list(range(size)) else np.array(through, dtype=np.uint8)
