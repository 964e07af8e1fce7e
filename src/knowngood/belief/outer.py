"""Evidence that is not in the tables: it weighs draws instead."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property

import numpy as np

from knowngood.belief.clues import Said
from knowngood.belief.elimination import Array
from knowngood.belief.model import Known, Model
from knowngood.belief.node_states import Bools, NodeStates
from knowngood.belief.nodes import NodeBuilder
from knowngood.belief.timeline import Instance

LEAST = 1e-30


class Outer:
    """The nodes of the evidence outside the tables.

    Parameters
    ----------
    model, known
    weighing : sequence of (Said, sign)
        With sign -1, what stood in for some of it inside the tables.
    """

    def __init__(self, model: Model, known: Known, weighing: Sequence[tuple[Said, float]]) -> None:
        builder = NodeBuilder(model.acting, model.places, known.snapshots, {})
        self.clues = [(builder.node(said.target), said, sign) for said, sign in weighing]
        self.nodes = builder.nodes

    @cached_property
    def _together(self) -> tuple[dict[int, Array], list[dict[int, Array]]]:
        """Logs of all that is said of a node by its state; and, of each unknown level, by (level, state)."""
        plain: dict[int, Array] = {}
        shared: dict[str, dict[int, Array]] = {}
        for node, said, sign in self.clues:
            if said.share > 0.0:
                table = sign * np.log(np.maximum(said.counted, LEAST))
                of = shared.setdefault(said.level, {}) if said.level else plain
                of[node] = of[node] + table if node in of else table
        return plain, list(shared.values())

    def log_weight(self, drawn: Mapping[Instance, Bools], count: int) -> Array:
        """Log of the chance of all this evidence in each draw (draw,)."""
        states = NodeStates(self.nodes, drawn, count)
        plain, shared = self._together
        result = np.zeros(count)
        for node, table in plain.items():
            result += table[states.of(node)]
        for level in shared:
            sums = np.sum([table[:, states.of(node)] for node, table in level.items()], axis=0)
            top = sums.max(axis=0)
            result += top + np.log(np.exp(sums - top).mean(axis=0))
        return result

    def log_weight_of(self, drawn: Mapping[Instance, Bools], count: int, entries: frozenset[int]) -> Array:
        """Log of the chance of some entries alone, in each draw (draw,); unknown levels as what stood in for them."""
        states = NodeStates(self.nodes, drawn, count)
        result = np.zeros(count)
        for node, said, sign in self.clues:
            if said.entry in entries and not said.level:
                result += sign * np.log(np.maximum(said.counted[states.of(node)], LEAST))
        return result
