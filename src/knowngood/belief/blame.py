"""Which faults are behind what was found: not only there, but the ones that show.

A worn plug is there on half of all old cars; it is behind a dead cylinder only
where nothing worse acts there. In drawn fault sets every finding that is not as
it should be is followed down to the faults that reach its level.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.courses import there
from knowngood.belief.drawing import DRAWS
from knowngood.belief.exact import ExactBelief
from knowngood.belief.node_states import Bits, Bools, Levels, NodeStates, packed
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
        self._row = {instance: row for row, instance in enumerate(self.drawn)}
        self._there = packed(np.array(list(self.drawn.values()), dtype=bool).reshape(len(self.drawn), DRAWS))
        self._blamed = np.zeros_like(self._there)
        self._follow_all()

    def _follow_all(self) -> None:
        network, outer = self.belief.network, self.belief.draws.outside
        for clue in network.clues:
            if clue.instance in self._row and is_abnormal(clue.table):
                row = self._row[clue.instance]
                self._blamed[row] = self._there[row]
        self._follow(network.nodes, [(clue.node, clue.table) for clue in network.clues if clue.instance is None])
        self._follow(outer.nodes, [(node, said.table) for node, said, sign in outer.clues if sign > 0.0])

    def _follow(self, nodes: Sequence[Node], read: Sequence[tuple[int, NDArray[np.float64]]]) -> None:
        """From what was read of nodes down to faults.

        Nodes come after their inputs: gone through from the last to the first, each is met once, when all the draws in
        which it shows or feeds something that was found are known.
        """
        states = NodeStates(nodes, self.drawn).of(self._there, DRAWS)
        where = np.zeros(states.shape, dtype=bool)
        for index, table in read:
            healthy = nodes[index].shift if nodes[index].op == "net" else 0
            if is_abnormal(table, healthy):
                where[index] |= states[index] != healthy
        shown: list[tuple[list[int], Bools]] = []
        for index in range(len(nodes) - 1, -1, -1):
            if not where[index].any():
                continue
            node, state = nodes[index], states[index]
            if node.op == "net":
                (first, _), (second, _) = node.inputs
                where[first] |= where[index] & (state > node.shift)
                where[second] |= where[index] & (state < node.shift)
                continue
            here = where[index] & (state > 0)
            shown += self._acting(node, state, here)
            for source, through in node.inputs:
                reaching = np.array(through, dtype=np.uint8).take(states[source])
                where[source] |= here & ((reaching > 0) if node.op == "add" else (reaching == state))
        self._mark(shown)

    def _acting(self, node: Node, state: Levels, here: Bools) -> list[tuple[list[int], Bools]]:
        """Rows of the faults that act on a node by themselves, and the draws in which they are what shows."""
        by_level: dict[int, list[int]] = {}
        for instance, level in node.faults.items():
            if instance in self._row:
                by_level.setdefault(0 if node.op == "add" else level, []).append(self._row[instance])
        return [(rows, here if node.op == "add" else here & (state == level)) for level, rows in by_level.items()]

    def _mark(self, shown: Sequence[tuple[Sequence[int], Bools]]) -> None:
        """Blame the faults of those rows where they are there in those draws."""
        if not shown:
            return
        draws = packed(np.array([where for _, where in shown]))
        rows = np.concatenate([rows for rows, _ in shown])
        order = np.argsort(rows, kind="stable")
        of = np.repeat(np.arange(len(shown)), [len(rows) for rows, _ in shown])[order]
        rows, starts = np.unique(rows[order], return_index=True)
        self._blamed[rows] |= np.bitwise_or.reduceat(draws[of], starts, axis=0) & self._there[rows]

    @cached_property
    def blamed(self) -> dict[Instance, Bits]:
        """Draws in which each fault is behind something that was found, whatever face of it."""
        result: dict[Instance, Bits] = {}
        for instance, row in self._row.items():
            fault, bits = there(instance), self._blamed[row]
            result[fault] = result[fault] | bits if fault in result else bits
        return result

    def matrix(self, present: Bools) -> Bools:
        """Faults of this moment (draw, fault) behind something that was found, also what was found before work that
        left them there."""
        so_far = [self._so_far(instance) for instance in self.belief.instances_now]
        return unpacked(np.array(so_far)) & present

    def _so_far(self, instance: Instance) -> Bits:
        """Draws in which a fault is behind something found, at its moment or at one that it was there from on."""
        result = self.blamed.get(instance, np.zeros(self._there.shape[1], dtype=np.uint64))
        birth = self.belief.model.timeline.births.get(instance)
        if birth is None or birth.parent is None or birth.parent not in self.drawn:
            return result
        return result | (self._so_far(birth.parent) & packed(self.drawn[birth.parent][None])[0])

    def ever(self) -> Bools:
        """Faults of any moment behind something that was found, by where their part came from (draw, fault)."""
        column = self.belief.model.column
        result = np.zeros((len(column), self._there.shape[1]), dtype=np.uint64)
        for instance, blamed in self.blamed.items():
            at = FaultAt(instance.fault, instance.home)
            if at in column:
                result[column[at]] |= blamed
        return unpacked(result)


def unpacked(some: Bits) -> Bools:
    """Bits of draws (fault, draw) as they are told (draw, fault)."""
    each = np.unpackbits(some.view(np.uint8), axis=1, count=DRAWS).view(bool)
    return np.ascontiguousarray(each.T)


def behind_findings(belief: ExactBelief, rng: np.random.Generator) -> Scenarios:
    """Draws of fault sets with the faults that are behind something found marked as what matters."""
    blame = Blame(belief, rng)
    present = belief.present_now(blame.drawn, DRAWS, rng)
    weight = np.full(DRAWS, 1.0 / DRAWS)
    return Scenarios(weight, present, exact=False, matters=blame.matrix(present), mattered=blame.ever())
