"""The states of nodes in many drawn fault sets at once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.nodes import Node
from knowngood.belief.timeline import Instance

Bools = NDArray[np.bool_]
Levels = NDArray[np.int16]


class NodeStates:
    """States worked out node by node, each once.

    Parameters
    ----------
    nodes : sequence of Node
    drawn : mapping Instance -> bool array (draw,)
    draws : int
    """

    def __init__(self, nodes: Sequence[Node], drawn: Mapping[Instance, Bools], draws: int) -> None:
        self.nodes = nodes
        self.drawn = drawn
        self.draws = draws
        self._known: dict[int, Levels] = {}

    def of(self, index: int) -> Levels:
        """State of one node in each draw (draw,)."""
        known = self._known.get(index)
        if known is not None:
            return known
        node = self.nodes[index]
        by_level: dict[int, list[Bools]] = {}
        for one, level in node.faults.items():
            by_level.setdefault(level, []).append(self.drawn[one])
        if node.op == "add":
            parts = [np.sum(some, axis=0, dtype=np.int16) * np.int16(level) for level, some in by_level.items()]
        else:
            parts = [np.any(some, axis=0) * np.int16(level) for level, some in by_level.items()]
        inputs = [np.array(through, dtype=np.int16)[self.of(source)] for source, through in node.inputs]
        if node.op == "net":
            state = (inputs[0] - inputs[1] + node.shift).astype(np.int16)
        elif not parts and not inputs:
            state = np.zeros(self.draws, dtype=np.int16)
        elif node.op == "add":
            state = np.minimum(np.sum([*parts, *inputs], axis=0), node.size - 1).astype(np.int16)
        else:
            state = np.max([*parts, *inputs], axis=0).astype(np.int16)
        self._known[index] = state
        return state
