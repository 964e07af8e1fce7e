"""The belief itself: exact chances of any number of faults at once.

See ``docs/explanation/chances.md`` for the derivation with one car worked by hand.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.acting import Acting
from knowngood.belief.clues import ClueMaker, LadderOf, Said, outcome_names, outcome_table, regime_of
from knowngood.belief.elimination import Array, Pass, TooTangled
from knowngood.belief.evaluate import Evaluator
from knowngood.belief.network import Clue, Network
from knowngood.belief.nodes import NodeBuilder, Target, is_single
from knowngood.belief.priors import all_priors
from knowngood.belief.protocol import Ask, FaultAt, Scenarios
from knowngood.belief.timeline import Instance, Snapshot, Timeline, new_part_chances
from knowngood.car import Car, Layout, Place
from knowngood.errors import ImpossibleEvidence, Problem
from knowngood.library.records import Library

REPEAT_SHARE = 0.3  # a second number from the same meter at the same place shares its bias; from memory


@dataclass
class Known:
    """Everything the evidence comes to: what was said of ladders, findings, and where parts were when."""

    said: list[Said] = field(default_factory=list)
    found: list[tuple[int, Instance, Array]] = field(default_factory=list)
    snapshots: list[Snapshot] = field(default_factory=lambda: [Snapshot()])
    levels: dict[str, Array] = field(default_factory=dict)
    texts: dict[int, str] = field(default_factory=dict)


class Model:
    """What does not change with evidence: the car, its possible faults, who acts on what."""

    def __init__(self, library: Library, car: Car, layout: Layout) -> None:
        self.library = library
        self.car = car
        self.layout = layout
        self.priors = all_priors(library, car, layout)
        self.faults = tuple(self.priors)
        self.column = {at: index for index, at in enumerate(self.faults)}
        self.places: dict[str, list[FaultAt]] = {}
        for at in self.faults:
            self.places.setdefault(at.fault, []).append(at)
        self.acting = Acting(library, layout)
        self.ladders = LadderOf(self.acting, library)
        self.timeline = Timeline(library, self.faults, layout.cylinders)
        self.clues = ClueMaker(library, car, layout, self.ladders)

    def seat(self, place: Place) -> int:
        """Where a place sits along the engine: 0 for engine and bank, then the cylinders bank by bank."""
        if not is_single(place):
            return 0
        return min(self._row.index(number) for number in self.acting.cylinders_of(place)) + 1

    @cached_property
    def _row(self) -> tuple[int, ...]:
        return tuple(number for bank in self.layout.banks for number in bank)

    def chance_of(self, instance: Instance) -> float:
        """Chance of an instance that stems from no other."""
        birth = self.timeline.births.get(instance)
        if birth is None or birth.kind != "new":
            return self.priors[FaultAt(instance.fault, instance.home)]
        part = self.library.faults[instance.fault].part
        old = {at.fault: self.priors[at] for at in self.timeline.by_part[part] if at.place == instance.home}
        record = self.library.parts.get(part)
        new_bad = (record.new_bad_per_1000 if record is not None else 10.0) / 1000.0
        return max(new_part_chances(old, new_bad)[instance.fault], 1e-12)


class ExactBelief:
    """Chances of faults given all that is known; fills :class:`knowngood.belief.protocol.Belief`.

    Parameters
    ----------
    model : Model
    known : Known

    Raises
    ------
    ImpossibleEvidence
        No set of faults explains the readings; they are named.
    """

    def __init__(self, model: Model, known: Known) -> None:
        self.model = model
        self.known = known
        self.now = len(known.snapshots) - 1
        self.left_out: tuple[int, ...] = ()
        self.network = self._fitting()
        self.full = self.network.run()
        if not np.isfinite(self.full.log_chance):
            raise ImpossibleEvidence(self._named())
        self._chances: Array | None = None

    def _named(self) -> Problem:
        lines = "; ".join(dict.fromkeys(self.known.texts.values()))
        return Problem(f"No set of faults explains these together: {lines}.", "Strike the one that is most in doubt.")

    def _fitting(self) -> Network:
        """The network with all evidence; where its tables would not fit, without the weakest entries, which are named.

        Absences weigh least and bind most: they go first, then the latest words of complaint.
        """
        while True:
            try:
                return self._build()
            except TooTangled:
                said = [one for one in self.known.said if one.entry not in self.left_out]
                if not said:
                    raise
                weakest = min(said, key=lambda one: float(np.ptp(np.log(np.maximum(one.table, 1e-12)))))
                self.left_out = (*self.left_out, weakest.entry)

    def _build(self) -> Network:
        model, known = self.model, self.known
        if self.left_out:
            known = replace(known, said=[said for said in known.said if said.entry not in self.left_out])
        classes = self._classes(known.said)
        builder = NodeBuilder(model.acting, model.places, known.snapshots, classes)
        clues: list[Clue] = []
        met: dict[tuple[int, str], int] = {}
        for said in known.said:
            node = builder.node(said.target)
            table = said.table
            if said.target in classes:
                table = table[..., np.unique(classes[said.target], return_index=True)[1]]
            if said.same:
                times = met.get((node, said.same), 0)
                met[(node, said.same)] = times + 1
                if times:
                    table = np.power(table, REPEAT_SHARE) if said.same.endswith("#") else np.ones_like(table)
            clues.append(Clue(said.entry, table, node=node, level=said.level))
        clues += [Clue(entry, table, instance=instance) for entry, instance, table in known.found]
        needed = {instance for node in builder.nodes for instance in node.faults}
        needed.update(instance for _, instance, _ in known.found)
        chance: dict[Instance, float] = {}
        left_of: dict[Instance, tuple[Instance, float]] = {}
        waiting = list(needed)
        while waiting:
            instance = waiting.pop()
            birth = model.timeline.births.get(instance)
            if birth is not None and birth.parent is not None:
                left_of[instance] = (birth.parent, 1.0 - birth.works)
                if birth.parent not in chance and birth.parent not in left_of:
                    waiting.append(birth.parent)
            else:
                chance[instance] = model.chance_of(instance)
        levels = {said.level: len(known.levels[said.level]) for said in known.said if said.level}
        return Network(builder.nodes, clues, chance, left_of, levels, model.seat)

    def _classes(self, every: Sequence[Said]) -> dict[Target, tuple[int, ...]]:
        """Levels that all that was said of a ladder tells apart, as classes of neighbours; sums are left whole."""
        steps: dict[Target, NDArray[np.bool_]] = {}
        for said in every:
            if self.model.acting.ladders[said.target.ladder].combine == "worst":
                differs = np.any(np.diff(np.atleast_2d(said.table), axis=-1) != 0.0, axis=0)
                known = steps.get(said.target)
                steps[said.target] = differs if known is None else known | differs
        return {target: (0, *(int(i) for i in np.cumsum(differs))) for target, differs in steps.items()}

    @property
    def faults(self) -> tuple[FaultAt, ...]:
        """Every fault that could be there now, in a fixed order."""
        return self.model.faults

    def instance_now(self, at: FaultAt) -> Instance:
        """The instance of a fault at its place at this moment."""
        return self.known.snapshots[self.now].instance(self.model.library.faults[at.fault], at.place)

    def chances(self) -> Array:
        """Chance of each fault (fault,)."""
        if self._chances is None:
            self._chances = self._chances_of(self.full)
        return self._chances

    def _chances_of(self, run: Pass) -> Array:
        marginals = run.marginals()
        known: dict[Instance, float] = {}
        for instance, variable in self.network.lone.items():
            known[instance] = float(marginals[variable][1])
        for variable, group, instances in self.network.groups:
            known.update(zip(instances, map(float, group.split(marginals[variable])), strict=True))
        return np.array([self._chance_now(self.instance_now(at), known) for at in self.faults])

    def _chance_now(self, instance: Instance, known: Mapping[Instance, float]) -> float:
        if instance in known:
            return known[instance]
        birth = self.model.timeline.births.get(instance)
        if birth is not None and birth.parent is not None:
            return (1.0 - birth.works) * self._chance_now(birth.parent, known)
        return self.model.chance_of(instance)

    def chances_by_entry(self, entries: Sequence[int]) -> Array:
        """Chance of each fault before any entry and after each in turn: (1 + entries, fault)."""
        every = frozenset(clue.entry for clue in self.network.clues)
        rows: list[Array] = []
        for count in range(len(entries) + 1):
            without = every - frozenset(entries[:count])
            if count and entries[count - 1] not in every:
                rows.append(rows[-1])
                continue
            rows.append(self._chances_of(self.network.run(without)))
        return np.array(rows)

    def chances_without(self, entry: int) -> Array:
        """Chance of each fault had one entry not been made (fault,)."""
        return self._chances_of(self.network.run(frozenset((entry,))))

    def surprise(self, entry: int) -> float:
        """Chance of an entry's readings given all the others, against their chance on an arrival with nothing known.

        Ratio below one: the others make this entry less likely than it was at first.
        """
        every = frozenset(clue.entry for clue in self.network.clues)
        others = self.network.run(frozenset((entry,))).log_chance
        alone = self.network.run(every - {entry}).log_chance - self.network.run(every).log_chance
        return float(np.exp(self.full.log_chance - others - alone))

    def chance_of_any(self, wanted: Iterable[FaultAt]) -> float:
        """Chance that at least one of these faults is there now.

        Exact; faults that no evidence bears on are independent of the rest and multiply in.
        """
        in_network = {*self.network.lone, *(one for _, _, instances in self.network.groups for one in instances)}
        touched: set[Instance] = set()
        none = 1.0
        for at in wanted:
            instance = self.instance_now(at)
            if instance in in_network:
                touched.add(instance)
            else:
                none *= 1.0 - float(self.chances()[self.model.column[at]])
        if touched:
            none *= self.network.chance_of_none(frozenset(touched), self.full.log_chance)
        return 1.0 - none

    def outcomes(self, ask: Ask) -> tuple[str, ...]:
        """Names of the outcomes a check of this kind can have."""
        kind = self.model.library.readings[ask.reading]
        return outcome_names(kind, self.model.ladders.of(kind))

    def _target(self, ask: Ask) -> Target:
        kind = self.model.library.readings[ask.reading]
        ladder = self.model.ladders.of(kind)
        regime = regime_of((ask.regime,) if ask.regime else (), kind.when)
        return Target(ladder.id, ask.place, regime, self.now)

    def _outcome_table(self, ask: Ask) -> Array:
        kind = self.model.library.readings[ask.reading]
        return outcome_table(kind, self.model.ladders.of(kind))

    def given(self, ask: Ask, outcome: str) -> ExactBelief:
        """The belief after that outcome; this one is left as it was."""
        table = self._outcome_table(ask)[:, self.outcomes(ask).index(outcome)]
        said = Said(-1, self._target(ask), table)
        return ExactBelief(self.model, replace(self.known, said=[*self.known.said, said]))

    def outcome_chances(self, ask: Ask) -> tuple[Array, Array]:
        """Chance of each outcome (outcome,), and of each fault under each outcome (outcome, fault)."""
        after = [self.given(ask, outcome) for outcome in self.outcomes(ask)]
        chance = np.exp(np.array([belief.full.log_chance for belief in after]) - self.full.log_chance)
        return chance / chance.sum(), np.array([belief.chances() for belief in after])

    def likelihood(self, ask: Ask, present: NDArray[np.bool_]) -> Array:
        """Chance of each outcome in each fault set: (outcome, scenario)."""
        return self.likelihoods((ask,), present)[0]

    def likelihoods(self, asks: Sequence[Ask], present: NDArray[np.bool_]) -> list[Array]:
        """:meth:`likelihood` of many checks over the same fault sets, sharing what they have in common."""
        evaluator = Evaluator(self.model.acting, self.model.column, present)
        result = []
        for ask in asks:
            target = self._target(ask)
            states = evaluator.states(target.ladder, target.place, target.regime)
            result.append(self._outcome_table(ask).T[:, states])
        return result

    def drawn(self, most: int, rng: np.random.Generator) -> dict[Instance, NDArray[np.bool_]]:
        """Draws of every instance the evidence bears on: instance -> bool array (draw,)."""
        states = self.full.draw(most, rng)
        drawn: dict[Instance, NDArray[np.bool_]] = {}
        for instance, variable in self.network.lone.items():
            drawn[instance] = states[:, variable] == 1
        for variable, group, instances in self.network.groups:
            members = group.draw(states[:, variable], rng)
            for position, instance in enumerate(instances):
                drawn[instance] = members[:, position]
        return drawn

    def scenarios(self, most: int, rng: np.random.Generator) -> Scenarios:
        """Draws of fault sets from the present chances, evenly weighted."""
        drawn = self.drawn(most, rng)
        present = np.zeros((most, len(self.faults)), dtype=bool)
        for column, at in enumerate(self.faults):
            present[:, column] = self._drawn_now(self.instance_now(at), drawn, most, rng)
        return Scenarios(np.full(most, 1.0 / most), present, exact=False)

    def _drawn_now(
        self, instance: Instance, drawn: dict[Instance, NDArray[np.bool_]], most: int, rng: np.random.Generator
    ) -> NDArray[np.bool_]:
        known = drawn.get(instance)
        if known is not None:
            return known
        birth = self.model.timeline.births.get(instance)
        if birth is not None and birth.parent is not None:
            parent = self._drawn_now(birth.parent, drawn, most, rng)
            return parent & (rng.random(most) < 1.0 - birth.works)
        return rng.random(most) < self.model.chance_of(instance)
