"""Drawn fault sets: from the tables, and weighed by what the tables do not hold."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property

import numpy as np

from knowngood.belief.building import Built
from knowngood.belief.clues import Said
from knowngood.belief.common_causes import at_work
from knowngood.belief.elimination import Array, Pass
from knowngood.belief.model import Known, Model
from knowngood.belief.node_states import Bools, NodeStates
from knowngood.belief.outer import Drawing, Outer
from knowngood.belief.protocol import FaultAt
from knowngood.belief.timeline import Instance

DRAWS, OVERSAMPLED = 3000, 2


class Draws:
    """Draws from a network; where it holds only part of the evidence, weighed by the rest.

    Parameters
    ----------
    model, known, built
    run : Pass
        Messages with all evidence of the network.
    weighing : sequence of (Said, sign)
        Evidence outside the network; with sign -1, what stands in for some of it inside.
    """

    def __init__(
        self, model: Model, known: Known, built: Built, run: Pass, weighing: Sequence[tuple[Said, float]]
    ) -> None:
        self.model, self.known, self.run = model, known, run
        self.network, self.common = built.network, built.common
        self.weighing = weighing
        self.effective = float("inf")
        self.log_mean_weight = 0.0

    @cached_property
    def outside(self) -> Outer:
        """The evidence outside the network, its nodes worked out once."""
        return Outer(self.model, self.known, self.weighing)

    @cached_property
    def kept(self) -> dict[Instance, Bools]:
        """One set of :data:`DRAWS` draws that serves all that is asked."""
        return self.draw(DRAWS, np.random.default_rng(len(self.known.said)))

    @cached_property
    def position(self) -> dict[Instance, int]:
        """Where an instance stands in :attr:`there`."""
        return {instance: index for index, instance in enumerate(self.kept)}

    @cached_property
    def there(self) -> Array:
        """The kept draws as numbers (instance, draw)."""
        return np.array([self.kept[instance] for instance in self.position], dtype=float)

    def draw(self, most: int, rng: np.random.Generator) -> dict[Instance, Bools]:
        """Draws of every instance the evidence bears on: instance -> bool array (draw,).

        Notes how many independent ones they are worth (``effective``), and the log of the mean weight of the rest.
        """
        count = OVERSAMPLED * most if self.weighing else most
        states = self.run.draw(count, rng)
        drawn: dict[Instance, Bools] = {}
        for instance, variable in self.network.lone.items():
            drawn[instance] = states[:, variable] == 1
        cause = states[:, self.network.cause] if self.common.states > 1 else np.zeros(count, dtype=np.intp)
        for state in range(self.common.states):
            drawn[at_work(state)] = cause == state
        for one in self.network.groups:
            members = one.draw(states[:, one.variable], cause, rng)
            for position, instance in enumerate(one.instances):
                drawn[instance] = members[:, position]
        if not self.weighing:
            return drawn
        missing = Drawing(drawn, lambda instance: self._drawn_now(instance, drawn, count, rng))
        log_weight = self.outside.log_weight(missing, count, frozenset())
        weight = np.exp(log_weight - log_weight.max())
        total = float(weight.sum())
        self.effective = _worth(weight / total, drawn)
        self.log_mean_weight = float(np.log(total / count) + log_weight.max())
        chosen = np.searchsorted(np.cumsum(weight) / total, (np.arange(most) + rng.random()) / most)
        chosen = np.minimum(chosen, count - 1)
        return {instance: there[chosen] for instance, there in drawn.items()}

    def weights_without(self, entries: frozenset[int]) -> Array:
        """How much each of the kept draws weighs had some entries not been made (draw,); sums to 1."""
        states = NodeStates(self.network.nodes, self.kept, DRAWS)
        log_weight = np.zeros(DRAWS)
        for clue in self.network.clues:
            if clue.entry in entries and clue.instance is None and not clue.level:
                log_weight -= np.log(np.maximum(clue.table[states.of(clue.node)], 1e-30))
        log_weight -= self.outside.log_weight_of(self.kept, DRAWS, entries)
        weight = np.exp(log_weight - log_weight.max())
        result: Array = weight / weight.sum()
        return result

    def present_now(
        self, faults: Sequence[FaultAt], drawn: dict[Instance, Bools], count: int, rng: np.random.Generator
    ) -> Bools:
        """Draws of instances as fault sets of this moment (draw, fault); what no evidence bears on is drawn besides."""
        snapshot, library = self.known.snapshots[-1], self.model.library
        present = np.zeros((count, len(faults)), dtype=bool)
        for column, at in enumerate(faults):
            instance = snapshot.instance(library.faults[at.fault], at.place)
            present[:, column] = self._drawn_now(instance, drawn, count, rng)
        return present

    def _drawn_now(
        self, instance: Instance, drawn: dict[Instance, Bools], most: int, rng: np.random.Generator
    ) -> Bools:
        known = drawn.get(instance)
        if known is not None:
            return known
        birth = self.model.timeline.births.get(instance)
        if birth is not None and birth.parent is not None:
            parent = self._drawn_now(birth.parent, drawn, most, rng)
            drawn[birth.parent] = parent  # what was there before the cure is asked for again by earlier readings
            return parent & (rng.random(most) < 1.0 - birth.works)
        chance = self.model.chance_of(instance, self.common)
        if self.common.states == 1:
            return rng.random(most) < chance[0]
        return rng.random(most) < chance @ [drawn[at_work(state)] for state in range(self.common.states)]


def _worth(share: Array, drawn: Mapping[Instance, Bools]) -> float:
    """How many even draws these are worth, for the fault they tell least of: it may be in the heaviest ones."""
    square = share**2
    worst = float(square.sum()) / 4.0
    for there in drawn.values():
        chance = float(share[there].sum())
        variance = float(square[there].sum()) * (1.0 - chance) ** 2 + float(square[~there].sum()) * chance**2
        worst = max(worst, variance)
    return 0.25 / worst
