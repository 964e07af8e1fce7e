"""Which faults are behind what was found: not only there, but the ones that show.

A worn plug is there on half of all old cars; it is behind a dead cylinder only
where nothing worse acts there. In drawn fault sets every finding that is not as
it should be is followed down to the faults that reach its level.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.exact import ExactBelief
from knowngood.belief.network import Clue
from knowngood.belief.timeline import Instance

DRAWS = 2000
Bools = NDArray[np.bool_]
Levels = NDArray[np.int16]


def is_abnormal(clue: Clue) -> bool:
    """Whether a clue speaks for another state than the healthy one."""
    if clue.instance is not None:
        return float(clue.table[1]) > float(clue.table[0])
    healthy, most = float(clue.table[..., 0].max()), float(clue.table.max())
    return healthy < 0.8 * most


class Blame:
    """Drawn fault sets followed from findings to faults.

    Parameters
    ----------
    belief : ExactBelief
    rng : Generator
    """

    def __init__(self, belief: ExactBelief, rng: np.random.Generator, draws: int = DRAWS) -> None:
        self.belief = belief
        self.nodes = belief.network.nodes
        self.drawn: Mapping[Instance, Bools] = belief.drawn(draws, rng)
        self.draws = draws
        self._states: dict[int, Levels] = {}
        self.blamed: dict[Instance, Bools] = {}
        self._follow_all()

    def _state(self, index: int) -> Levels:
        known = self._states.get(index)
        if known is not None:
            return known
        node = self.nodes[index]
        parts = [self.drawn[one].astype(np.int16) * np.int16(level) for one, level in node.faults.items()]
        inputs = [np.array(through, dtype=np.int16)[self._state(source)] for source, through in node.inputs]
        if node.op == "net":
            state = (inputs[0] - inputs[1] + node.shift).astype(np.int16)
        elif not parts and not inputs:
            state = np.zeros(self.draws, dtype=np.int16)
        elif node.op == "add":
            state = np.minimum(np.sum([*parts, *inputs], axis=0), node.size - 1).astype(np.int16)
        else:
            state = np.max([*parts, *inputs], axis=0).astype(np.int16)
        self._states[index] = state
        return state

    def _follow_all(self) -> None:
        for clue in self.belief.network.clues:
            if not is_abnormal(clue):
                continue
            if clue.instance is not None:
                self._mark(clue.instance, np.ones(self.draws, dtype=bool))
            else:
                node = self.nodes[clue.node]
                healthy = node.shift if node.op == "net" else 0
                self._follow(clue.node, self._state(clue.node) != healthy)

    def _mark(self, instance: Instance, where: Bools) -> None:
        blamed = where & self.drawn[instance]
        known = self.blamed.get(instance)
        self.blamed[instance] = blamed if known is None else known | blamed

    def _follow(self, index: int, where: Bools) -> None:
        if not where.any():
            return
        node, state = self.nodes[index], self._state(index)
        if node.op == "net":
            (first, _), (second, _) = node.inputs
            self._follow(first, where & (state > node.shift))
            self._follow(second, where & (state < node.shift))
            return
        for instance, level in node.faults.items():
            self._mark(instance, where & (state > 0) & ((node.op == "add") | (state == level)))
        for source, through in node.inputs:
            reaching = np.array(through, dtype=np.int16)[self._state(source)]
            self._follow(source, where & (reaching > 0) & ((node.op == "add") | (reaching == state)))


def kinds_behind(belief: ExactBelief, rng: np.random.Generator) -> tuple[dict[str, float], NDArray[np.float64]]:
    """Chance of each kind of fault to be behind a finding at one of its places at least, and of each fault (fault,)."""
    blame = Blame(belief, rng)
    anywhere: dict[str, Bools] = {}
    each = np.zeros(len(belief.faults))
    for column, at in enumerate(belief.faults):
        blamed = blame.blamed.get(belief.instance_now(at))
        if blamed is not None:
            each[column] = blamed.mean()
            known = anywhere.get(at.fault)
            anywhere[at.fault] = blamed if known is None else known | blamed
    return {fault: float(where.mean()) for fault, where in anywhere.items()}, each
