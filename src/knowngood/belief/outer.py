"""Evidence that is not in the tables: it weighs draws instead."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

import numpy as np

from knowngood.belief.clues import Said
from knowngood.belief.elimination import Array
from knowngood.belief.model import Known, Model
from knowngood.belief.node_states import Bools, NodeStates
from knowngood.belief.nodes import NodeBuilder
from knowngood.belief.timeline import Instance

LEAST = 1e-30


class Drawing(dict[Instance, Bools]):
    """Draws by instance; one that was not drawn yet is drawn when it is asked for, and kept in ``drawn``."""

    def __init__(self, drawn: dict[Instance, Bools], draw: Callable[[Instance], Bools]) -> None:
        super().__init__(drawn)
        self.drawn, self.draw = drawn, draw

    def __missing__(self, instance: Instance) -> Bools:
        there = self.draw(instance)
        self.drawn[instance] = self[instance] = there
        return there


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

    def log_weight(self, drawn: Mapping[Instance, Bools], count: int, without: frozenset[int]) -> Array:
        """Log of the chance of all this evidence but some entries, in each draw (draw,)."""
        states = NodeStates(self.nodes, drawn, count)
        result = np.zeros(count)
        shared: dict[str, Array] = {}
        for node, said, sign in self.clues:
            if said.entry in without:
                continue
            table = np.log(np.maximum(said.counted[..., states.of(node)], LEAST))
            if said.level:
                shared[said.level] = shared.get(said.level, np.zeros_like(table)) + table
            else:
                result += sign * table
        for sums in shared.values():
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
