"""Evidence that is not in the tables: it weighs draws instead."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.clues import Said
from knowngood.belief.elimination import Array
from knowngood.belief.model import Known, Model
from knowngood.belief.node_states import Bits, Bools, Levels, NodeStates, either, packed
from knowngood.belief.nodes import NodeBuilder
from knowngood.belief.timeline import Instance

LEAST = 1e-30
MOST_KINDS = 2**62  # what a whole number holds


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

    def log_weight_of(self, states: Levels, count: int, entries: frozenset[int]) -> Array:
        """Log of the chance of some entries alone, in each draw (draw,); unknown levels as what stood in for them."""
        result = np.zeros(count)
        for node, said, sign in self.clues:
            if said.entry in entries and not said.level:
                result += sign * np.log(np.maximum(said.counted[states[node]], LEAST))
        return result


@dataclass(frozen=True)
class Rest:
    """What the faults inside the tables do to the nodes outside, for as long as they stay: to those that faults outside
    reach (node, draw), the states of all without these (node, draw), and the log of the chance of what is read of nodes
    that they do not reach (draw,)."""

    acted: Levels
    states: Levels
    log_chance: Array

    def taken(self, rows: NDArray[np.intp]) -> Rest:
        """In some of the draws."""
        return Rest(self.acted.take(rows, axis=1), self.states.take(rows, axis=1), self.log_chance[rows])

    def where(self, kept: Bools, other: Rest) -> Rest:
        """The other's draws where ``kept``, else these."""
        return Rest(
            either(kept, other.acted, self.acted),
            either(kept, other.states, self.states),
            np.where(kept, other.log_chance, self.log_chance),
        )


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
        met = set(NodeStates(outer.nodes, outside).met)
        moving: list[int] = []  # nodes that faults outside reach
        for at, node in enumerate(outer.nodes):
            if at in met or any(source in moving for source, _ in node.inputs):
                moving.append(at)
        self._moving = NodeStates(outer.nodes, outside, moving)
        plain: dict[int, Array] = {}  # logs of all that is said of a node, by its state
        levels: dict[str, dict[int, Array]] = {}  # of each unknown level, by (level, state)
        for read, said, sign in outer.clues:
            if said.share > 0.0:
                table = sign * np.log(np.maximum(said.counted, LEAST))
                of = levels.setdefault(said.level, {}) if said.level else plain
                of[read] = of[read] + table if read in of else table
        self._resting_tables = {read: table for read, table in plain.items() if read not in moving}
        self._moving_tables = {read: table for read, table in plain.items() if read in moving}
        at_rest = {name: not any(read in moving for read in level) for name, level in levels.items()}
        self._resting_levels = [level for name, level in levels.items() if at_rest[name]]
        self._moving_levels = [level for name, level in levels.items() if not at_rest[name]]

    def rest(self, inside: Bools) -> Rest:
        """What draws of the faults inside come to (instance, draw)."""
        acted = self._inside.acted(packed(inside), inside.shape[1])
        states = np.zeros_like(acted)
        self._inside.feed(acted, states)
        resting = _summed(self._resting_tables, self._resting_levels, states)
        return Rest(acted[list(self._moving.some)], states, resting)

    def __call__(self, rest: Rest, outside: Bits) -> Array:
        """Log of the chance in each draw (draw,)."""
        states = rest.states.copy()
        acted = self._moving.joined(rest.acted, self._moving.acted(outside, states.shape[1]))
        self._moving.feed(acted, states)
        return rest.log_chance + _summed(self._moving_tables, self._moving_levels, states)


def _summed(plain: Mapping[int, Array], levels: Sequence[Mapping[int, Array]], states: Levels) -> Array:
    """Logs summed over what is said of nodes (draw,); unknown levels are summed out, all alike likely at first."""
    result = np.zeros(states.shape[1])
    for node, table in plain.items():
        result += table.take(states[node])
    for level in levels:
        nodes = list(level)
        first, draw = alike(states[nodes])
        sums = np.sum([level[node].take(states[node, first], axis=1) for node in nodes], axis=0)
        top = sums.max(axis=0)
        result += (top + np.log(np.exp(sums - top).mean(axis=0)))[draw]
    return result


def alike(states: Levels) -> tuple[NDArray[np.intp], NDArray[np.intp]]:
    """Draws with the same states (node, draw): one of each kind, and of each draw which kind it is of.

    >>> [some.tolist() for some in alike(np.array([[0, 1, 0], [2, 2, 2]], dtype=np.uint8))]
    [[0, 1], [0, 1, 0]]
    """
    key, kinds = np.zeros(states.shape[1], dtype=np.intp), 1
    for row, most in zip(states, states.max(axis=1).tolist(), strict=True):
        if kinds * (most + 1) > MOST_KINDS:
            met, key = np.unique(key, return_inverse=True)
            kinds = len(met)
        key, kinds = key * (most + 1) + row, kinds * (most + 1)
    _, first, draw = np.unique(key, return_index=True, return_inverse=True)
    return first, draw
