"""Drawn fault sets: from the tables, and weighed by what the tables do not hold."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property

import numpy as np

from knowngood.belief.building import Built
from knowngood.belief.clues import Said
from knowngood.belief.common_causes import causes_in_state
from knowngood.belief.courses import root_of
from knowngood.belief.elimination import Array, Pass
from knowngood.belief.model import Known, Model
from knowngood.belief.node_states import Bools, Levels, NodeStates, packed
from knowngood.belief.opened import Opened
from knowngood.belief.outer import Outer, Weighing
from knowngood.belief.rejuvenation import Branches, Crowd, Ints, Rejuvenated, Rejuvenation
from knowngood.belief.timeline import Instance

SURE = 1e-12  # a chance of 0 or 1 would leave a fault outside nothing to be moved to
FEW_WAYS = 8  # of a fault: counted through for all such faults at once; more are looked up fault by fault
DRAWS = 2000  # a whole number of populations of :mod:`knowngood.belief.rejuvenation`


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
        self.network, self.common, self.courses = built.network, built.common, built.courses
        self.weighing = weighing

    @cached_property
    def outside(self) -> Outer:
        """The evidence outside the network, its nodes worked out once."""
        return Outer(self.model, self.known, self.weighing)

    @cached_property
    def kept(self) -> dict[Instance, Bools]:
        """One set of :data:`DRAWS` draws that serves all that is asked."""
        return self._of(self._made_to_keep[1].crowd)

    @property
    def begun(self) -> Crowd:
        """The kept draws before the evidence outside the network was let in."""
        return self._made_to_keep[0]

    @property
    def effective(self) -> float:
        """How many independent draws the kept ones are worth; infinite where nothing lies outside the network."""
        return self._made_to_keep[1].effective if self.weighing else float("inf")

    @property
    def log_mean_weight(self) -> float:
        """Natural logarithm of the mean chance of the evidence outside, in the kept draws."""
        return self._made_to_keep[1].log_mean_weight

    @cached_property
    def _made_to_keep(self) -> tuple[Crowd, Rejuvenated]:
        return self._made(DRAWS, np.random.default_rng(len(self.known.said)))

    @cached_property
    def position(self) -> dict[Instance, int]:
        """Where an instance stands in :attr:`there`."""
        return {instance: index for index, instance in enumerate(self.kept)}

    @cached_property
    def there(self) -> Array:
        """The kept draws as numbers (instance, draw)."""
        return np.array([self.kept[instance] for instance in self.position], dtype=float)

    def draw(self, most: int, rng: np.random.Generator) -> dict[Instance, Bools]:
        """Other draws of every instance the evidence bears on: instance -> bool array (draw,)."""
        return self._of(self._made(most, rng)[1].crowd)

    def _made(self, most: int, rng: np.random.Generator) -> tuple[Crowd, Rejuvenated]:
        """Draws from the tables, and the same with the rest let in."""
        begun = self.first(self.run, most, rng)
        return begun, self._with_the_rest(begun, rng) if self.weighing else Rejuvenated(begun, float("inf"), 0.0)

    def first(self, run: Pass, most: int, rng: np.random.Generator) -> Crowd:
        """Draws from a filling of the tables, the faults outside by their own chance."""
        states = run.draw(most, rng)
        dice = rng.random((len(self._outside), most))
        return Crowd(states, self._opened.inside(states, rng), dice, dice < self._chances(states))

    def log_chances_outside(self, crowd: Crowd) -> dict[int, Array]:
        """Of each entry outside the tables, the log of its chance in each draw (draw,)."""
        most, drawn = len(crowd), self._of(crowd)
        states = NodeStates(self.outside.nodes, drawn).of(packed(np.array(list(drawn.values()), dtype=bool)), most)
        entries = {
            said.entry for _, said, sign in self.outside.clues if sign > 0.0 and said.share > 0.0 and not said.level
        }
        return {entry: self.outside.log_weight_of(states, most, frozenset((entry,))) for entry in sorted(entries)}

    @cached_property
    def _opened(self) -> Opened:
        return Opened(self.network, self.courses)

    @cached_property
    def _outside(self) -> list[Instance]:
        """Faults that only the rest of the evidence bears on, by their roots: of one face, of several, of many ways."""
        if not self.weighing:
            return []
        known = set(self._opened.instances)
        met = dict.fromkeys(root_of(face) for node in self.outside.nodes for face in node.faults)

        def place(root: Instance) -> int:
            course = self.courses[root]
            return (len(course.faces) > 1) + (len(course.shares) > FEW_WAYS)

        return sorted((root for root in met if root not in known), key=place)

    @cached_property
    def _faces_outside(self) -> list[Instance]:
        return [face for root in self._outside for face in self.courses[root].faces]

    @cached_property
    def _plain(self) -> int:
        """How many of the faults outside have one face only; they are the first."""
        return sum(len(self.courses[root].faces) == 1 for root in self._outside)

    def _of(self, crowd: Crowd) -> dict[Instance, Bools]:
        """The draws by face."""
        there = [*crowd.inside, *self._faces(crowd)]
        return dict(zip([*self._opened.instances, *self._faces_outside], there, strict=True))

    def _faces(self, crowd: Crowd) -> Bools:
        """Which faces of the faults outside are true in each draw (face, draw); a die under its chance tells the way,
        too."""
        return np.concatenate([crowd.there[: self._plain], self._faces_of_several(crowd)])

    def _faces_of_several(self, crowd: Crowd) -> Bools:
        """Those of the faults that have several faces (face, draw)."""
        dice, there = crowd.dice[self._plain :], crowd.there[self._plain :]
        # with one state of the common causes all draws have the same
        cause = None if self.common.states == 1 else self._opened.cause(crowd.states)
        few = self._faces_of_few(dice[: self._few], there[: self._few], cause)
        many = [
            table[:, ways_under(one, climbing, cause)] & true
            for one, true, (climbing, table) in zip(dice[self._few :], there[self._few :], self._many, strict=True)
        ]
        return np.concatenate([few, *many])

    def _faces_of_few(self, dice: Array, there: Bools, cause: Ints | None) -> Bools:
        """Those of the faults that have few ways (face, draw), all at once."""
        climbing = self._climbing
        way = np.zeros(dice.shape, dtype=np.uint8)
        for climbed in climbing if cause is None else climbing[:, :, cause]:
            way += climbed <= dice
        fault, true_in = self._of_ways
        way = way[fault]
        faces = np.zeros(way.shape, dtype=bool)
        for number, some in enumerate(true_in):
            faces |= (way == number) & some[:, None]
        result: Bools = faces & there[fault]
        return result

    @cached_property
    def _few(self) -> int:
        """How many of the faults with several faces have few ways; they are the first of them."""
        return sum(len(self.courses[root].shares) <= FEW_WAYS for root in self._outside[self._plain :])

    def _climbing_of(self, root: Instance) -> Array:
        """Climbing chances of the ways of a fault, but the last (way, cause)."""
        chances = self.courses[root].chances(self.model.chance_of(root, self.common))
        result: Array = np.cumsum(chances, axis=1)[:, :-1].T
        return result

    @cached_property
    def _climbing(self) -> Array:
        """The same of each fault of several faces and few ways (way, fault, cause); filled up with what no die
        reaches."""
        few = self._outside[self._plain :][: self._few]
        most = max((len(self.courses[root].shares) for root in few), default=1)
        result = np.full((most - 1, len(few), self.common.states), np.inf)
        for row, root in enumerate(few):
            climbing = self._climbing_of(root)
            result[: len(climbing), row] = climbing
        return result

    @cached_property
    def _many(self) -> list[tuple[Array, Bools]]:
        """Of faults of many ways the climbing chances (way, cause), and which faces are true in which (face, way)."""
        return [
            (self._climbing_of(root), self.courses[root].table) for root in self._outside[self._plain + self._few :]
        ]

    @cached_property
    def _of_ways(self) -> tuple[Ints, Bools]:
        """Of each face of the faults of few ways, which fault it is of (face,), and in which ways it is true (way,
        face)."""
        few = [self.courses[root].table for root in self._outside[self._plain :][: self._few]]
        fault = np.repeat(np.arange(len(few)), [len(table) for table in few])
        true_in = np.zeros((len(self._climbing) + 1, len(fault)), dtype=bool)
        face = 0
        for table in few:
            true_in[: table.shape[1], face : face + len(table)] = table.T
            face += len(table)
        return fault, true_in

    def _with_the_rest(self, crowd: Crowd, rng: np.random.Generator) -> Rejuvenated:
        """The draws with the evidence outside the tables let in."""
        weighing = Weighing(self.outside, self._opened.instances, self._faces_outside)

        def log_weight(crowd: Crowd) -> Array:
            assert crowd.rest is not None
            plain, several = crowd.there[: self._plain], self._faces_of_several(crowd)
            return weighing(crowd.rest, np.concatenate([packed(plain), packed(several)]))

        def opened(known: Crowd, states: Ints) -> Crowd:
            there = known.there if self.common.states == 1 else known.dice < self._chances(states)
            inside = self._opened.inside(states, rng, known)
            return Crowd(states, inside, known.dice, there, weighing.rest(inside))

        return Rejuvenation(
            Branches(self.run),
            opened,
            log_weight,
            lambda crowd: self._chances(crowd.states),
            rng,
        )(replace(crowd, rest=weighing.rest(crowd.inside)))

    def _chances(self, states: Ints) -> Array:
        """Chance of each fault outside in each draw (fault, draw), by the states of the network."""
        if self.common.states == 1:
            return np.broadcast_to(self._chances_by_cause, (len(self._outside), states.shape[1]))
        result: Array = self._chances_by_cause[:, self._opened.cause(states)]
        return result

    @cached_property
    def _chances_by_cause(self) -> Array:
        """Chance of each fault outside in each state of the common causes (fault, cause); never 0 or 1."""
        by_cause = np.array(
            [self.courses[root].chances(self.model.chance_of(root, self.common)).sum(axis=1) for root in self._outside]
        )
        return np.clip(by_cause.reshape(len(self._outside), self.common.states), SURE, 1.0 - SURE)

    @cached_property
    def _states_kept(self) -> tuple[Levels, Levels]:
        """States of the nodes of the network, and of those outside, in the kept draws."""
        there = packed(np.array(list(self.kept.values()), dtype=bool))
        network, outside = (NodeStates(nodes, self.kept) for nodes in (self.network.nodes, self.outside.nodes))
        return network.of(there, DRAWS), outside.of(there, DRAWS)

    def weights_without(self, entries: frozenset[int]) -> Array:
        """How much each of the kept draws weighs had some entries not been made (draw,); sums to 1."""
        inside, outside = self._states_kept
        log_weight = np.zeros(DRAWS)
        for clue in self.network.clues:
            if clue.entry in entries and clue.instance is None and not clue.level:
                log_weight -= np.log(np.maximum(clue.table[inside[clue.node]], 1e-30))
        log_weight -= self.outside.log_weight_of(outside, DRAWS, entries)
        weight = np.exp(log_weight - log_weight.max())
        result: Array = weight / weight.sum()
        return result

    def present_now(
        self, instances: Sequence[Instance], drawn: dict[Instance, Bools], count: int, rng: np.random.Generator
    ) -> Bools:
        """Draws as sets of these instances (draw, instance); what no evidence bears on is drawn besides."""
        present = np.zeros((len(instances), count), dtype=bool)
        for row, instance in enumerate(instances):
            present[row] = self._drawn_now(instance, drawn, count, rng)
        return np.ascontiguousarray(present.T)

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
            return rng.random(most) < np.where(parent, 1.0 - birth.works, birth.comes)
        chance = self.model.chance_of(instance, self.common)
        if self.common.states == 1:
            return rng.random(most) < chance[0]
        return rng.random(most) < chance @ [drawn[causes_in_state(state)] for state in range(self.common.states)]


def ways_under(dice: Array, climbing: Array, cause: Ints | None) -> Ints:
    """Which way each die tells (draw,).

    Parameters
    ----------
    dice : array (draw,)
    climbing : array (way, cause)
        Climbing chances of the ways, but the last.
    cause : int array (draw,) or None
        State of the common causes in each draw; ``None`` where there is one only.

    Examples
    --------
    >>> ways_under(np.array([0.05, 0.25, 0.7]), np.array([[0.1], [0.3]]), None).tolist()
    [0, 1, 2]
    """
    if cause is None:
        return np.searchsorted(climbing[:, 0], dice, side="right")
    result = np.zeros(len(dice), dtype=np.intp)
    for state in range(climbing.shape[1]):
        here = cause == state
        result[here] = np.searchsorted(climbing[:, state], dice[here], side="right")
    return result
