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
        self._inputs = [[(source, _table(nodes[source].size, through)) for source, through in n.inputs] for n in nodes]

    def of(self, there: Bools) -> list[Levels]:
        """State of each node in each draw: (draw,) by node, from draws of the instances (instance, draw)."""
        return [state for _, state in self.fed(self.acted(there, range(len(self.nodes))))]

    def acted(self, there: Bools, some: Iterable[int]) -> dict[int, Contribution]:
        """What faults alone do to some of the nodes, by node (draw,)."""
        return {
            at: _join(self.nodes[at]).reduce(there[self.rows[at]].view(np.uint8) * self._levels[at], axis=0, initial=0)
            for at in some
        }

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


def _join(node: Node) -> np.ufunc:
    return np.maximum if node.op == "max" else np.add


def _kind(node: Node) -> type[np.uint8 | np.int16]:
    """Numbers that hold the worst of some faults, or their sum before it is cut off."""
    return np.uint8 if node.op == "max" else np.int16


def _table(size: int, through: Sequence[int]) -> Levels | None:
    """What a node hands on, by its state; ``None`` where that is the state itself."""
    return None if list(through[:size]) == list(range(size)) else np.array(through, dtype=np.uint8)
