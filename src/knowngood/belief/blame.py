"""Which faults are behind what was found: not only there, but the ones that show.

A worn plug is there on half of all old cars; it is behind a dead cylinder only
where nothing worse acts there. In drawn fault sets every finding that is not as
it should be is followed down to the faults that reach its level.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.courses import there
from knowngood.belief.drawing import DRAWS
from knowngood.belief.exact import ExactBelief
from knowngood.belief.node_states import Bools, NodeStates
from knowngood.belief.nodes import Node
from knowngood.belief.protocol import FaultAt, Scenarios
from knowngood.belief.timeline import Instance

AGAINST_HEALTHY = 0.8  # of the likeliest state's chance: a reading that leaves the healthy one less found something


def is_abnormal(table: NDArray[np.float64], healthy: int = 0) -> bool:
    """Whether a clue's table, over states or (level, state), speaks for another state than the healthy one."""
    return float(table[..., healthy].max()) < AGAINST_HEALTHY * float(table.max())


class Blame:
    """Drawn fault sets followed from findings to faults, first by the nodes of the tables, then by those outside.

    Parameters
    ----------
    belief : ExactBelief
    rng : Generator
    """

    def __init__(self, belief: ExactBelief, rng: np.random.Generator) -> None:
        self.belief = belief
        self.drawn = belief.draws.kept if belief.draws.weighing else belief.drawn(DRAWS, rng)
        self._there = np.array(list(self.drawn.values()), dtype=bool).reshape(len(self.drawn), DRAWS)
        self.blamed: dict[Instance, Bools] = {}
        self._follow_all()

    def _follow_all(self) -> None:
        network = self.belief.network
        self._see(network.nodes)
        for clue in network.clues:
            if clue.instance is None:
                self._from_node(clue.node, clue.table)
            elif is_abnormal(clue.table):
                self._mark(clue.instance, np.ones(DRAWS, dtype=bool))
        outer = self.belief.draws.outside
        self._see(outer.nodes)
        for node, said, sign in outer.clues:
            if sign > 0.0:
                self._from_node(node, said.table)

    def _see(self, nodes: Sequence[Node]) -> None:
        self._nodes = nodes
        self._states = NodeStates(nodes, self.drawn).of(self._there)

    def _from_node(self, index: int, table: NDArray[np.float64]) -> None:
        node = self._nodes[index]
        healthy = node.shift if node.op == "net" else 0
        if is_abnormal(table, healthy):
            self._follow(index, self._states[index] != healthy)

    def _mark(self, instance: Instance, where: Bools) -> None:
        drawn = self.drawn.get(instance)
        if drawn is None:
            return
        fault = there(instance)
        known = self.blamed.setdefault(fault, np.zeros_like(where))
        known |= where & drawn

    def _follow(self, index: int, where: Bools) -> None:
        if not where.any():
            return
        node, state = self._nodes[index], self._states[index]
        if node.op == "net":
            (first, _), (second, _) = node.inputs
            self._follow(first, where & (state > node.shift))
            self._follow(second, where & (state < node.shift))
            return
        where = where & (state > 0)
        by_level: dict[int, Bools] = {}  # where faults of that level show
        for instance, level in node.faults.items():
            if level not in by_level:
                by_level[level] = where if node.op == "add" else where & (state == level)
            self._mark(instance, by_level[level])
        for source, through in node.inputs:
            reaching = np.array(through, dtype=np.uint8).take(self._states[source])
            self._follow(source, where & ((reaching > 0) if node.op == "add" else (reaching == state)))

    def matrix(self) -> Bools:
        """Faults of this moment behind something that was found (draw, fault)."""
        result = np.zeros((DRAWS, len(self.belief.faults)), dtype=bool)
        for column, at in enumerate(self.belief.faults):
            blamed = self.blamed.get(self.belief.instance_now(at))
            if blamed is not None:
                result[:, column] = blamed
        return result

    def ever(self) -> Bools:
        """Faults of any moment behind something that was found, by where their part came from (draw, fault)."""
        column = {at: index for index, at in enumerate(self.belief.faults)}
        result = np.zeros((DRAWS, len(column)), dtype=bool)
        for instance, blamed in self.blamed.items():
            at = FaultAt(instance.fault, instance.home)
            if at in column:
                result[:, column[at]] |= blamed
        return result


def behind_findings(belief: ExactBelief, rng: np.random.Generator) -> Scenarios:
    """Draws of fault sets with the faults that are behind something found marked as what matters."""
    blame = Blame(belief, rng)
    present = belief.present_now(blame.drawn, DRAWS, rng)
    weight = np.full(DRAWS, 1.0 / DRAWS)
    return Scenarios(weight, present, exact=False, matters=blame.matrix(), mattered=blame.ever())
