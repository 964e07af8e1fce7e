"""Evidence that is not in the tables: it weighs draws instead."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from knowngood.belief.clues import Said
from knowngood.belief.elimination import Array
from knowngood.belief.model import Known, Model
from knowngood.belief.node_states import Bools, Levels, NodeStates
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
        builder = NodeBuilder(model.faces(known.snapshots), {})
        self.clues = [(builder.node(said.target), said, sign) for said, sign in weighing]
        self.nodes = builder.nodes

    def log_weight_of(self, states: Sequence[Levels], count: int, entries: frozenset[int]) -> Array:
        """Log of the chance of some entries alone, in each draw (draw,); unknown levels as what stood in for them."""
        result = np.zeros(count)
        for node, said, sign in self.clues:
            if said.entry in entries and not said.level:
                result += sign * np.log(np.maximum(said.counted[states[node]], LEAST))
        return result


class Weighing:
    """Log of the chance of all this evidence, in draws of the faults inside and outside the tables.

    What the faults inside come to is worked out once for as long as they stay, so that those outside are tried fast.

    Parameters
    ----------
    outer : Outer
    inside, outside : sequence of Instance
        In the order of the rows of the draws.
    """

    def __init__(self, outer: Outer, inside: Sequence[Instance], outside: Sequence[Instance]) -> None:
        self._inside = NodeStates(outer.nodes, inside)
        self._outside = NodeStates(outer.nodes, outside)
        self._moving: list[int] = []  # nodes that faults outside reach
        for at, node in enumerate(outer.nodes):
            if len(self._outside.rows[at]) or any(source in self._moving for source, _ in node.inputs):
                self._moving.append(at)
        plain: dict[int, Array] = {}  # logs of all that is said of a node, by its state
        levels: dict[str, dict[int, Array]] = {}  # of each unknown level, by (level, state)
        for read, said, sign in outer.clues:
            if said.share > 0.0:
                table = sign * np.log(np.maximum(said.counted, LEAST))
                of = levels.setdefault(said.level, {}) if said.level else plain
                of[read] = of[read] + table if read in of else table
        self._resting_tables = {read: table for read, table in plain.items() if read not in self._moving}
        self._moving_tables = {read: table for read, table in plain.items() if read in self._moving}
        at_rest = {name: not any(read in self._moving for read in level) for name, level in levels.items()}
        self._resting_levels = [level for name, level in levels.items() if at_rest[name]]
        self._moving_levels = [level for name, level in levels.items() if not at_rest[name]]
        self._of: Bools | None = None

    def __call__(self, inside: Bools, outside: Bools) -> Array:
        """Log of the chance in each draw (draw,), from (instance, draw); one inside is known again by its identity."""
        if self._of is not inside:
            self._of = inside
            self._acted = self._inside.acted(inside, range(len(self._inside.nodes)))
            self._states = [state for _, state in self._inside.fed(self._acted)]
            self._resting = _summed(self._resting_tables, self._resting_levels, self._states)
        acted = {}
        for at, more in self._outside.acted(outside, self._moving).items():
            join = np.maximum if self._inside.nodes[at].op == "max" else np.add
            acted[at] = join(self._acted[at], more) if len(self._outside.rows[at]) else self._acted[at]
        states = list(self._states)
        for at, state in self._inside.fed(acted, self._states):
            states[at] = state
        return self._resting + _summed(self._moving_tables, self._moving_levels, states)


def _summed(plain: Mapping[int, Array], levels: Sequence[Mapping[int, Array]], states: Sequence[Levels]) -> Array:
    """Logs summed over what is said of nodes (draw,); unknown levels are summed out, all alike likely at first."""
    result = np.zeros(len(states[0]))
    for node, table in plain.items():
        result += table.take(states[node])
    for level in levels:
        sums = np.sum([table.take(states[node], axis=1) for node, table in level.items()], axis=0)
        top = sums.max(axis=0)
        result += top + np.log(np.exp(sums - top).mean(axis=0))
    return result
