"""The belief itself: exact chances of any number of faults at once.

See ``docs/explanation/chances.md`` for the derivation with one car worked by hand.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from copy import copy
from dataclasses import replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.building import Built, met_by, outcomes_by_state, rounding_of, target_of
from knowngood.belief.clues import Said, outcome_names
from knowngood.belief.common_causes import causes_in_state
from knowngood.belief.drawing import DRAWS, Draws
from knowngood.belief.elimination import Array, Pass
from knowngood.belief.evaluate import Evaluator
from knowngood.belief.fitting import repeats_shared, smaller_parts
from knowngood.belief.model import Known, Model
from knowngood.belief.node_states import Bools
from knowngood.belief.nodes import Node
from knowngood.belief.ordering import TooTangled
from knowngood.belief.protocol import Ask, FaultAt, Scenarios
from knowngood.belief.surprise import OutsideSurprises, surprise_in_tables
from knowngood.belief.timeline import Instance
from knowngood.errors import ImpossibleEvidence, Problem


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

    def __init__(self, model: Model, known: Known, built: Built | None = None) -> None:
        self.model = model
        self.known = known
        self.now = len(known.snapshots) - 1
        self.weighing: list[tuple[Said, float]] = []
        self.rounding = 0.0
        self.built, self.full = (built, built.network.run()) if built is not None else self._fitting()
        self.network = self.built.network
        if not np.isfinite(self.full.log_chance):
            raise ImpossibleEvidence(self._named())
        self._chances: Array | None = None
        self._without: dict[frozenset[int], Array] = {}

    @cached_property
    def draws(self) -> Draws:
        """Draws from the tables; where some of these stand below thresholds, from those of a part that needs none.

        Tables below thresholds hold differences, which cannot be drawn from; with the thresholds open the draws start
        so far off that few of them are worth anything once they are let in.
        """
        if not self.network.below:
            return Draws(self.model, self.known, self.built, self.full, self.weighing)
        said = repeats_shared(self.known.said, self.model, self.known.snapshots)
        built, full, _, weighing = self._part(said, whole=False)
        return Draws(self.model, self.known, built, full, weighing)

    def _named(self) -> Problem:
        lines = "; ".join(dict.fromkeys(self.known.texts.values()))
        return Problem(f"No set of faults explains these together: {lines}.", "Strike the one that is most in doubt.")

    def _fitting(self) -> tuple[Built, Pass]:
        """The network with all evidence, filled; where its tables would not fit, with part of it.

        The rest then weighs draws from that part (:meth:`drawn`): nothing is left out, but chances have the error of
        draws. What goes first is what joins many cylinders and says least: complaints of the whole engine.
        """
        said = repeats_shared(self.known.said, self.model, self.known.snapshots)
        built, full, self.rounding, self.weighing = self._part(said, whole=True)
        return built, full

    def _part(self, said: Sequence[Said], *, whole: bool) -> tuple[Built, Pass, float, list[tuple[Said, float]]]:
        """The network for as much of the evidence as fits, filled, its bound of rounding, and the rest with signs.

        ``whole``: all of it is tried, too, where it does not fit otherwise below thresholds.
        """
        every = met_by(said, self.model, self.known)
        for kept in smaller_parts(said, self.model):
            if kept is said and not whole:
                continue
            laid_out = self._laid_out(kept, every, whole=kept is said)
            if laid_out is None:
                continue
            inside = {id(one) for one in kept}
            weighing = [(one, 1.0) for one in said if id(one) not in inside]
            here = {id(one) for one in said}
            return *laid_out, weighing + [(one, -1.0) for one in kept if id(one) not in here]
        raise ImpossibleEvidence(self._named())

    def _laid_out(
        self, kept: Sequence[Said], every: Sequence[Node], *, whole: bool
    ) -> tuple[Built, Pass, float] | None:
        try:
            built = Built(self.model, self.known, kept, beside=every, thresholds=(False, True) if whole else (False,))
            full = built.network.run()
            return built, full, rounding_of(built.network, full)
        except TooTangled:
            return None

    @property
    def faults(self) -> tuple[FaultAt, ...]:
        """Every fault that could be there now, in a fixed order."""
        return self.model.faults

    def instance_now(self, at: FaultAt) -> Instance:
        """The instance of a fault at its place at this moment."""
        return self.instances_now[self.model.column[at]]

    @cached_property
    def instances_now(self) -> list[Instance]:
        """Of each fault, the instance at its place at this moment."""
        snapshot, records = self.known.snapshots[self.now], self.model.library.faults
        return [snapshot.instance(records[at.fault], at.place) for at in self.faults]

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
        """Three standard errors of a chance of one half; where chances are exact, what rounding may come to.

        The draws that are kept are picked from the weighted ones, so both counts limit what they can tell.
        """
        return self.rounding if self.exact else 1.5 * float(np.sqrt(1.0 / self.draws_worth + 1.0 / DRAWS))

    @property
    def draws_worth(self) -> float:
        """How many independent draws the kept ones are worth; infinite where they come from the tables alone."""
        return self.draws.effective

    def anew(self) -> ExactBelief:
        """The same belief with everything summed again, on the plan there is."""
        again = copy(self)
        again.full, again._chances, again._without = self.network.run(), None, {}
        for summed in ("_before", "draws"):
            again.__dict__.pop(summed, None)
        return again

    def _chances_of(self, run: Pass) -> Array:
        if not self.exact:
            return self._chances_drawn(np.full(DRAWS, 1.0 / DRAWS))
        return self._now(self.network.there(run))

    def _now(self, there: Array) -> Array:
        """Chances of the faults of this moment (fault, ...) from those of the instances in the network."""
        position, share, alone = self._links
        shape = (-1,) + (1,) * (there.ndim - 1)
        padded = np.concatenate([there, np.zeros((1, *there.shape[1:]))])
        result: Array = padded[position] * share.reshape(shape)
        result += np.tensordot(alone, there[self._causes], axes=1)
        return result

    @cached_property
    def _position(self) -> dict[Instance, int]:
        return self.network.instances if self.exact else self.draws.position

    @cached_property
    def _causes(self) -> list[int]:
        """Where the states of the common causes are among the instances."""
        return [self._position[causes_in_state(state)] for state in range(self.built.common.states)]

    @cached_property
    def _links(self) -> tuple[NDArray[np.intp], Array, Array]:
        """Of each fault of this moment: where in the network (or the draws) it is or what it is left of, its share of
        that, and its chance in each state of the common causes where neither holds it."""
        instances, common = self._position, self.built.common
        position = np.full(len(self.faults), len(instances), dtype=np.intp)
        share, alone = np.ones(len(self.faults)), np.zeros((len(self.faults), common.states))
        for column, instance in enumerate(self.instances_now):
            while instance not in instances:
                birth = self.model.timeline.births.get(instance)
                if birth is None or birth.parent is None:
                    alone[column] += share[column] * self.model.chance_of(instance, common)
                    break
                alone[column] += share[column] * birth.comes
                share[column] *= 1.0 - birth.works - birth.comes
                instance = birth.parent
            else:
                position[column] = instances[instance]
        return position, share, alone

    def _chances_drawn(self, weight: Array) -> Array:
        """Chances from the draws there are, each weighing so much (draw,)."""
        return self._now(self.draws.there @ weight)

    def there_in_draws(self, columns: Sequence[int]) -> Array:
        """Chance of some faults in each of the kept draws (column, draw)."""
        position, share, alone = self._links
        there, causes = self.draws.there, self.draws.there[self._causes]
        result = np.empty((len(columns), there.shape[1]))
        for row, column in enumerate(columns):
            held = share[column] * there[position[column]] if position[column] < len(there) else 0.0
            result[row] = held + alone[column] @ causes
        return result

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
        if without not in self._without:  # asked for again by whoever opens the page of a suspect
            if self.exact:
                chances = self._chances_of(self.network.run(without, self.full))
            else:
                chances = self._chances_drawn(self.draws.weights_without(without))
            self._without[without] = chances
        return self._without[without]

    def chances_without(self, *entries: int) -> Array:
        """Chance of each fault had these entries not been made (fault,)."""
        return self._chances_but(frozenset(entries))

    def surprise(self, entry: int) -> float:
        """Chance of an entry's readings given all the others, against their chance on an arrival with nothing known.

        Ratio below one: the others make this entry less likely than it was at first. Where part of the evidence is not
        in the tables, see :mod:`knowngood.belief.surprise`.
        """
        before, outside = self._before
        in_tables = surprise_in_tables(self.network, entry, self.full, before)
        return in_tables if outside is None else in_tables * outside.of(entry)

    @cached_property
    def _before(self) -> tuple[Pass, OutsideSurprises | None]:
        """With no entry made: the joint chances that surprises are told by, and what draws say of the rest."""
        before = self.network.run(self.entries_in(), self.full)
        outside = None if self.exact else OutsideSurprises(self.draws, before)
        before.only_joints({self.network.fabric.scopes[index] for index in self.network.clue_index})
        return before, outside

    def chance_of_any(self, wanted: Iterable[FaultAt]) -> float:
        """Chance that at least one of these faults is there now.

        Faults that no evidence bears on are, given the common causes, independent of the rest and multiply in.
        """
        known = self.network.instances if self.exact else self.draws.kept
        touched: set[Instance] = set()
        beside = np.ones(self.built.common.states)
        position, _, alone = self._links
        for at in wanted:
            instance, column = self.instance_now(at), self.model.column[at]
            if instance in known:
                touched.add(instance)
            elif position[column] < len(known):
                beside *= 1.0 - float(self.chances()[column])
            else:
                beside *= 1.0 - alone[column]
        if self.exact:
            return 1.0 - self.network.chance_of_none(frozenset(touched), beside, self.full)
        there = np.any([self.draws.kept[instance] for instance in touched], axis=0) if touched else np.zeros(DRAWS)
        none = [(~there.astype(bool) & self.draws.kept[causes_in_state(state)]).mean() for state in range(len(beside))]
        return 1.0 - float(none @ beside)

    def outcomes(self, ask: Ask) -> tuple[str, ...]:
        """Names of the outcomes a check of this kind can have."""
        kind = self.model.library.readings[ask.reading]
        return outcome_names(kind, self.model.ladders.of(kind))

    def prepared(self, asks: Sequence[Ask]) -> ExactBelief:
        """The same belief with these checks laid out beside the evidence: what they would show comes fast.

        Raises
        ------
        TooTangled
            The tables for all of them would not fit.
        """
        said = repeats_shared(self.known.said, self.model, self.known.snapshots)
        return ExactBelief(self.model, self.known, Built(self.model, self.known, said, asks))

    def given(self, ask: Ask, outcome: str) -> ExactBelief:
        """The belief after that outcome; this one is left as it was."""
        column = self.outcomes(ask).index(outcome)
        said = Said(-1, target_of(self.model, ask, self.known), outcomes_by_state(self.model, ask)[:, column])
        after = replace(self.known, said=[*self.known.said, said])
        return ExactBelief(self.model, after, self.built.given(ask, column) if ask in self.built.node_of else None)

    def outcome_chances(self, ask: Ask) -> tuple[Array, Array]:
        """Chance of each outcome (outcome,), and of each fault under each outcome (outcome, fault)."""
        return self.outcome_chances_of((ask,))[0]

    def outcome_chances_of(self, asks: Sequence[Ask]) -> list[tuple[Array, Array]]:
        """:meth:`outcome_chances` of many checks at once."""
        if self.draws.weighing:
            return self._outcomes_drawn(asks)
        if not all(ask in self.built.node_of for ask in asks):
            return self._outcomes_prepared(asks)
        by_node = {
            node: (chance, self._now(there).T) for node, (chance, there) in self.network.states_asked(self.full).items()
        }
        result = []
        for ask in asks:
            chance, there = by_node[self.built.node_of[ask]]
            joint = chance[:, None] * self.built.table_of[ask]
            outcome = joint.sum(axis=0)
            share = np.divide(joint, outcome, out=np.zeros_like(joint), where=outcome > 0.0)
            result.append((outcome / outcome.sum(), share.T @ there))
        return result

    def _outcomes_prepared(self, asks: Sequence[Ask]) -> list[tuple[Array, Array]]:
        """The checks laid out beside the evidence, in halves where all of them would not fit."""
        try:
            return self.prepared(asks).outcome_chances_of(asks)
        except TooTangled:
            if len(asks) == 1:
                return self._outcomes_drawn(asks)
            half = len(asks) // 2
            return [*self._outcomes_prepared(asks[:half]), *self._outcomes_prepared(asks[half:])]

    def _outcomes_drawn(self, asks: Sequence[Ask]) -> list[tuple[Array, Array]]:
        """What the draws say, each weighed by the chance of the outcome in it."""
        present = self.present_now(dict(self.draws.kept), DRAWS, np.random.default_rng(len(self.known.said)))
        result = []
        for like in self.likelihoods(asks, present):
            outcome = like.mean(axis=1)
            there = like @ present / np.maximum(like.sum(axis=1), 1e-300)[:, None]
            result.append((outcome / outcome.sum(), there))
        return result

    def likelihood(self, ask: Ask, present: NDArray[np.bool_]) -> Array:
        """Chance of each outcome in each fault set: (outcome, scenario)."""
        return self.likelihoods((ask,), present)[0]

    def likelihoods(self, asks: Sequence[Ask], present: NDArray[np.bool_]) -> list[Array]:
        """:meth:`likelihood` of many checks over the same fault sets, sharing what they have in common."""
        evaluator = Evaluator(self.model.strengths, present)
        result = []
        for ask in asks:
            target = target_of(self.model, ask, self.known)
            states = evaluator.states(target.ladder, target.place, target.regime, habit=not target.session)
            result.append(outcomes_by_state(self.model, ask).T[:, states])
        return result

    @property
    def log_chance(self) -> float:
        """Natural logarithm of the chance of all evidence."""
        if self.exact:
            return self.full.log_chance
        return self.full.log_chance + self.draws.log_mean_weight

    def drawn(self, most: int, rng: np.random.Generator) -> dict[Instance, Bools]:
        """Draws of every instance the evidence bears on: instance -> bool array (draw,).

        Where chances come from draws, one set of them serves all that is asked.
        """
        if not self.draws.weighing:
            return self.draws.draw(most, rng)
        chosen = slice(None) if most == DRAWS else rng.choice(DRAWS, most, replace=most > DRAWS)
        return {instance: there[chosen] for instance, there in self.draws.kept.items()}

    def scenarios(self, most: int, rng: np.random.Generator) -> Scenarios:
        """Draws of fault sets from the present chances, evenly weighted."""
        drawn = self.drawn(most, rng)
        return Scenarios(np.full(most, 1.0 / most), self.present_now(drawn, most, rng), exact=False)

    def present_now(self, drawn: dict[Instance, Bools], count: int, rng: np.random.Generator) -> Bools:
        """Draws of instances as fault sets of this moment (draw, fault); what no evidence bears on is drawn besides."""
        return self.draws.present_now(self.instances_now, drawn, count, rng)
