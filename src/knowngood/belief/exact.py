"""The belief itself: exact chances of any number of faults at once.

See ``docs/explanation/chances.md`` for the derivation with one car worked by hand.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from copy import copy
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.clues import Said, outcome_names, outcome_table, regime_of
from knowngood.belief.elimination import Array, Pass, TooTangled
from knowngood.belief.evaluate import Evaluator
from knowngood.belief.fitting import repeats_shared, smaller_parts
from knowngood.belief.model import Known, Model
from knowngood.belief.network import Clue, Network
from knowngood.belief.node_states import Bools, NodeStates
from knowngood.belief.nodes import NodeBuilder, Target
from knowngood.belief.outer import Drawing, Outer
from knowngood.belief.protocol import Ask, FaultAt, Scenarios
from knowngood.belief.timeline import Instance
from knowngood.errors import ImpossibleEvidence, Problem

DRAWS, OVERSAMPLED = 3000, 4


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
        self.weighing: list[tuple[Said, float]] = []
        self.network = self._fitting()
        self.full = self.network.run()
        if not np.isfinite(self.full.log_chance):
            raise ImpossibleEvidence(self._named())
        self._chances: Array | None = None
        self._draws: dict[Instance, Bools] | None = None
        self._outer: Outer | None = None
        self.effective = float("inf")
        self._mean_weight = 0.0

    def _named(self) -> Problem:
        lines = "; ".join(dict.fromkeys(self.known.texts.values()))
        return Problem(f"No set of faults explains these together: {lines}.", "Strike the one that is most in doubt.")

    def _fitting(self) -> Network:
        """The network with all evidence; where its tables would not fit, with part of it.

        The rest then weighs draws from that part (:meth:`drawn`): nothing is left out, but chances have the error of
        draws. What goes first is what joins many cylinders and says least: complaints of the whole engine.
        """
        said = repeats_shared(self.known.said, self.model, self.known.snapshots)
        for kept in smaller_parts(said, self.model):
            try:
                network = self._build(kept)
            except TooTangled:
                continue
            inside = {id(one) for one in kept}
            self.weighing = [(one, 1.0) for one in said if id(one) not in inside]
            whole = {id(one) for one in said}
            self.weighing += [(one, -1.0) for one in kept if id(one) not in whole]
            return network
        raise ImpossibleEvidence(self._named())

    def _builder(self, every: Sequence[Said]) -> NodeBuilder:
        model = self.model
        return NodeBuilder(model.acting, model.places, self.known.snapshots, self._classes(every))

    def _build(self, every: Sequence[Said]) -> Network:
        model, known = self.model, self.known
        builder = self._builder(every)
        clues: list[Clue] = []
        for said in every:
            node = builder.node(said.target)
            table = said.counted
            if said.target in builder.classes:
                table = table[..., np.unique(builder.classes[said.target], return_index=True)[1]]
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
        levels = {said.level: len(known.levels[said.level]) for said in every if said.level}
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

    @property
    def exact(self) -> bool:
        """Whether chances are exact, or means over weighted draws."""
        return not self.weighing

    @property
    def error_bound(self) -> float:
        """Three standard errors of a chance of one half; 0 where chances are exact.

        The draws that are kept are picked from the weighted ones, so both counts limit what they can tell.
        """
        if self.exact:
            return 0.0
        self.cached_draws()
        return 1.5 * float(np.sqrt(1.0 / self.effective + 1.0 / DRAWS))

    def anew(self) -> ExactBelief:
        """The same belief with everything summed again, on the plan there is."""
        again = copy(self)
        again.full, again._chances, again._draws = self.network.run(), None, None
        return again

    def _chances_of(self, run: Pass) -> Array:
        if not self.exact:
            return self._chances_drawn(self.cached_draws())
        known: dict[Instance, float] = {}
        for instance, variable in self.network.lone.items():
            known[instance] = float(run.marginal(variable)[1])
        for one in self.network.groups:
            known.update(zip(one.instances, one.group.split(run.marginal(one.variable)).tolist(), strict=True))
        return np.array([self._chance_now(self.instance_now(at), known) for at in self.faults])

    def _chances_drawn(self, drawn: Mapping[Instance, Bools]) -> Array:
        known = {instance: float(there.mean()) for instance, there in drawn.items()}
        return np.array([self._chance_now(self.instance_now(at), known) for at in self.faults])

    def cached_draws(self) -> dict[Instance, Bools]:
        if self._draws is None:
            self._draws = self.drawn(DRAWS, np.random.default_rng(len(self.known.said)))
        return self._draws

    def _chance_now(self, instance: Instance, known: Mapping[Instance, float]) -> float:
        if instance in known:
            return known[instance]
        birth = self.model.timeline.births.get(instance)
        if birth is not None and birth.parent is not None:
            return (1.0 - birth.works) * self._chance_now(birth.parent, known)
        return self.model.chance_of(instance)

    def chances_by_entry(self, entries: Sequence[int]) -> Array:
        """Chance of each fault before any entry and after each in turn: (1 + entries, fault); exact beliefs only."""
        every = self.entries_in()
        rows: list[Array] = []
        for count in range(len(entries) + 1):
            if count and entries[count - 1] not in every:
                rows.append(rows[-1])
                continue
            rows.append(self._chances_but(every - frozenset(entries[:count])))
        return np.array(rows)

    def entries_in(self) -> frozenset[int]:
        """Entries that bear on the belief."""
        return frozenset(clue.entry for clue in self.network.clues) | {said.entry for said, _ in self.weighing}

    def _chances_but(self, without: frozenset[int]) -> Array:
        if self.exact:
            return self._chances_of(self.network.run(without))
        return self._reweighed(without)

    def _reweighed(self, without: frozenset[int]) -> Array:
        """Chances had some entries not been made, from the draws there are: each weighs as if they had not counted."""
        drawn = self.cached_draws()
        states = NodeStates(self.network.nodes, drawn, DRAWS)
        log_weight = np.zeros(DRAWS)
        for clue in self.network.clues:
            if clue.entry in without and clue.instance is None and not clue.level:
                log_weight -= np.log(np.maximum(clue.table[states.of(clue.node)], 1e-30))
        log_weight -= self.outside().log_weight_of(drawn, DRAWS, without)
        weight = np.exp(log_weight - log_weight.max())
        weight /= weight.sum()
        known = {instance: float(weight @ there) for instance, there in drawn.items()}
        return np.array([self._chance_now(self.instance_now(at), known) for at in self.faults])

    def chances_without(self, *entries: int) -> Array:
        """Chance of each fault had these entries not been made (fault,)."""
        return self._chances_but(frozenset(entries))

    def surprise(self, entry: int) -> float:
        """Chance of an entry's readings given all the others, against their chance on an arrival with nothing known.

        Ratio below one: the others make this entry less likely than it was at first. 1 where chances are not exact.
        """
        if not self.exact:
            return 1.0
        every = self.entries_in()
        others = self.network.run(frozenset((entry,))).log_chance
        alone = self.network.run(every - {entry}).log_chance - self.network.run(every).log_chance
        return float(np.exp(self.full.log_chance - others - alone))

    def chance_of_any(self, wanted: Iterable[FaultAt]) -> float:
        """Chance that at least one of these faults is there now.

        Faults that no evidence bears on are independent of the rest and multiply in.
        """
        in_network = self.network.instances()
        drawn = {} if self.exact else self.cached_draws()
        touched: set[Instance] = set()
        none = 1.0
        for at in wanted:
            instance = self.instance_now(at)
            if instance in (in_network if self.exact else drawn):
                touched.add(instance)
            else:
                none *= 1.0 - float(self.chances()[self.model.column[at]])
        if touched and self.exact:
            none *= self.network.chance_of_none(frozenset(touched), self.full.log_chance)
        elif touched:
            none *= 1.0 - float(np.any([drawn[instance] for instance in touched], axis=0).mean())
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
        table = self.model.outcome_tables.get(ask.reading)
        if table is None:
            kind = self.model.library.readings[ask.reading]
            table = self.model.outcome_tables[ask.reading] = outcome_table(kind, self.model.ladders.of(kind))
        return table

    def given(self, ask: Ask, outcome: str) -> ExactBelief:
        """The belief after that outcome; this one is left as it was."""
        table = self._outcome_table(ask)[:, self.outcomes(ask).index(outcome)]
        said = Said(-1, self._target(ask), table)
        return ExactBelief(self.model, replace(self.known, said=[*self.known.said, said]))

    def outcome_chances(self, ask: Ask) -> tuple[Array, Array]:
        """Chance of each outcome (outcome,), and of each fault under each outcome (outcome, fault)."""
        after = [self.given(ask, outcome) for outcome in self.outcomes(ask)]
        chance = np.exp(np.array([belief.log_chance for belief in after]) - self.log_chance)
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

    @property
    def log_chance(self) -> float:
        """Natural logarithm of the chance of all evidence."""
        if self.exact:
            return self.full.log_chance
        self.cached_draws()
        return self.full.log_chance + self._mean_weight

    def drawn(self, most: int, rng: np.random.Generator) -> dict[Instance, Bools]:
        """Draws of every instance the evidence bears on: instance -> bool array (draw,)."""
        drawn, effective, mean = self._draw(self.full, frozenset(), most, rng)
        if self._draws is None:
            self.effective, self._mean_weight = effective, mean
            self._draws = drawn if most == DRAWS else None
        return drawn

    def _draw(
        self, run: Pass, without: frozenset[int], most: int, rng: np.random.Generator
    ) -> tuple[dict[Instance, Bools], float, float]:
        """Draws, how many independent ones they are worth, and the log of the mean weight of the rest."""
        count = most if self.exact else OVERSAMPLED * most
        states = run.draw(count, rng)
        drawn: dict[Instance, Bools] = {}
        for instance, variable in self.network.lone.items():
            drawn[instance] = states[:, variable] == 1
        for one in self.network.groups:
            members = one.group.draw(states[:, one.variable], rng)
            for position, instance in enumerate(one.instances):
                drawn[instance] = members[:, position]
        if self.exact:
            return drawn, float(most), 0.0
        missing = Drawing(drawn, lambda instance: self._drawn_now(instance, drawn, count, rng))
        log_weight = self.outside().log_weight(missing, count, without)
        weight = np.exp(log_weight - log_weight.max())
        total = float(weight.sum())
        effective = self._worth(weight / total, drawn)
        chosen = np.searchsorted(np.cumsum(weight) / total, (np.arange(most) + rng.random()) / most)
        chosen = np.minimum(chosen, count - 1)
        picked = {instance: there[chosen] for instance, there in drawn.items()}
        return picked, effective, float(np.log(total / count) + log_weight.max())

    @staticmethod
    def _worth(share: Array, drawn: Mapping[Instance, Bools]) -> float:
        """How many even draws these are worth, for the fault they tell least of: it may be in the heaviest ones."""
        square = share**2
        worst = float(square.sum()) / 4.0
        for there in drawn.values():
            chance = float(share[there].sum())
            variance = float(square[there].sum()) * (1.0 - chance) ** 2 + float(square[~there].sum()) * chance**2
            worst = max(worst, variance)
        return 0.25 / worst

    def outside(self) -> Outer:
        """The evidence outside the network, its nodes worked out once."""
        if self._outer is None:
            self._outer = Outer(self.model, self.known, self.weighing)
        return self._outer

    def scenarios(self, most: int, rng: np.random.Generator) -> Scenarios:
        """Draws of fault sets from the present chances, evenly weighted."""
        if self.exact:
            drawn = self.drawn(most, rng)
        else:  # one set of draws serves all that is asked of a belief
            chosen = rng.choice(DRAWS, most, replace=most > DRAWS)
            drawn = {instance: there[chosen] for instance, there in self.cached_draws().items()}
        return Scenarios(np.full(most, 1.0 / most), self.present_now(drawn, most, rng), exact=False)

    def present_now(self, drawn: dict[Instance, Bools], count: int, rng: np.random.Generator) -> Bools:
        """Draws of instances as fault sets of this moment (draw, fault); what no evidence bears on is drawn besides."""
        present = np.zeros((count, len(self.faults)), dtype=bool)
        for column, at in enumerate(self.faults):
            present[:, column] = self._drawn_now(self.instance_now(at), drawn, count, rng)
        return present

    def _drawn_now(
        self, instance: Instance, drawn: dict[Instance, Bools], most: int, rng: np.random.Generator
    ) -> NDArray[np.bool_]:
        known = drawn.get(instance)
        if known is not None:
            return known
        birth = self.model.timeline.births.get(instance)
        if birth is not None and birth.parent is not None:
            parent = self._drawn_now(birth.parent, drawn, most, rng)
            drawn[birth.parent] = parent  # what was there before the cure is asked for again by earlier readings
            return parent & (rng.random(most) < 1.0 - birth.works)
        return rng.random(most) < self.model.chance_of(instance)
