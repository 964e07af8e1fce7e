"""How things stand after some steps of a plan: the fault sets with new weights, what is open, what was asked.

The fault sets stay the same all through a plan, so that two plans differ by what
they do and not by the luck of their draws. A check gives them new weights, a
repair takes faults out of them. Whether a repair works is drawn once for each
set; where all sets are known, a set is split into the one where it works and
the one where it does not. A reading once taken is not asked again.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property

import numpy as np

from knowngood.belief.protocol import Array, Ask, Belief, Bools, FaultAt, Scenarios
from knowngood.planner.outcomes import likelihoods
from knowngood.planner.problem import AccessGraph, CheckAt, Problem, Repair


@dataclass(frozen=True)
class Counted:
    """A belief that is nothing but weighted fault sets; what they would show is asked of the belief they come from."""

    source: Belief
    sets: Scenarios
    tables: dict[Ask, Array] = field(default_factory=dict)

    @property
    def faults(self) -> tuple[FaultAt, ...]:
        """As the source."""
        return self.source.faults

    def chances(self) -> Array:
        """By counting."""
        chances: Array = self.sets.weight @ self.sets.present
        return chances

    def outcomes(self, ask: Ask) -> tuple[str, ...]:
        """As the source."""
        return self.source.outcomes(ask)

    def outcome_chances(self, ask: Ask) -> tuple[Array, Array]:
        """By counting."""
        joint = self.likelihood(ask, self.sets.present) * self.sets.weight
        chance = joint.sum(axis=1)
        return chance, (joint @ self.sets.present) / np.maximum(chance, 1e-300)[:, None]

    def given(self, ask: Ask, outcome: str) -> Counted:
        """The same sets with new weights."""
        joint = self.likelihood(ask, self.sets.present)[self.outcomes(ask).index(outcome)] * self.sets.weight
        return replace(self, sets=replace(self.sets, weight=joint / joint.sum()))

    def likelihood(self, ask: Ask, present: Bools) -> Array:
        """As the source."""
        return self.likelihoods((ask,), present)[0]

    def likelihoods(self, asks: Sequence[Ask], present: Bools) -> list[Array]:
        """As the source; of these very sets each reading is worked out once."""
        if present is not self.sets.present:
            return list(likelihoods(self.source, asks, present).values())
        new = [ask for ask in asks if ask not in self.tables]
        self.tables.update(likelihoods(self.source, new, present) if new else {})
        return [self.tables[ask] for ask in asks]

    def scenarios(self, most: int, rng: np.random.Generator) -> Scenarios:
        """The sets."""
        return self.sets


@dataclass(frozen=True)
class Standing:
    """How things stand at one point of a plan.

    Parameters
    ----------
    root : Problem
        As things stood at the start.
    belief : Counted
    opened : frozenset of str
        Access steps that are open.
    asked : frozenset of Ask
        Readings taken since.
    changed : frozenset of (str, str)
        Swaps and spares made since: id and place.
    luck : int
        Seed of whether repairs work.
    """

    root: Problem
    belief: Counted
    opened: frozenset[str]
    asked: frozenset[Ask] = frozenset()
    changed: frozenset[tuple[str, str]] = frozenset()
    luck: int = 0

    @cached_property
    def problem(self) -> Problem:
        """The problem from here on."""
        return replace(
            self.root,
            belief=self.belief,
            checks=tuple(self._left()),
            access=AccessGraph(self.root.access.steps, self.opened),
        )

    def _left(self) -> list[CheckAt]:
        """Checks that can still say something new."""
        result = []
        for check in self.root.checks:
            if check.after is not None:
                if (check.id, str(check.place)) not in self.changed:
                    result.append(check)
                continue
            asks = tuple(ask for ask in check.asks if ask not in self.asked)
            if asks:
                result.append(check if len(asks) == len(check.asks) else replace(check, asks=asks))
        return result

    def opening(self, action: Repair | CheckAt) -> float:
        """Money to open, and later close, what an action needs beyond what is open."""
        return self.root.opening_cost(action.access, self.problem.access)

    def _opened_for(self, action: Repair | CheckAt) -> frozenset[str]:
        return self.opened | self.root.access.needed(action.access)

    def after_check(self, check: CheckAt, like: Array) -> Standing:
        """After an outcome with these chances in each fault set (s,)."""
        joint = like * self.belief.sets.weight
        belief = replace(self.belief, sets=replace(self.belief.sets, weight=joint / joint.sum()))
        if check.after is not None:
            changed = self.changed | {(check.id, str(check.place))}
            return replace(self, belief=belief, opened=self._opened_for(check), changed=changed)
        return replace(self, belief=belief, opened=self._opened_for(check), asked=self.asked | set(check.asks))

    def after_repair(self, repair: Repair) -> Standing:
        """After a repair, not proved."""
        sets = self.belief.sets
        columns = np.array([self.root.column[fault] for fault in repair.fixes], dtype=np.intp)
        helped: Bools = np.any(sets.present[:, columns], axis=1)
        present, weight, matters = sets.present, sets.weight, sets.matters
        works = np.ones(len(weight), dtype=bool)
        if repair.works < 1.0 and sets.exact:
            some = np.flatnonzero(helped)
            present = np.concatenate([present, present[some]])
            matters = None if matters is None else np.concatenate([matters, matters[some]])
            weight = np.concatenate([np.where(helped, repair.works, 1.0) * weight, (1.0 - repair.works) * weight[some]])
            works = np.arange(len(weight)) < len(helped)
        elif repair.works < 1.0:
            works = np.random.default_rng([self.luck, *columns.tolist()]).random(len(weight)) < repair.works
        cleared = present.copy()
        cleared[np.ix_(np.flatnonzero(works), columns)] = False
        if matters is not None:
            matters = matters & cleared
        belief = Counted(self.belief.source, Scenarios(weight, cleared, sets.exact, matters))
        return replace(self, belief=belief, opened=self._opened_for(repair))

    def after_failed_proof(self, left: Bools) -> Standing:
        """After a proof that showed something is left; ``left`` says in which fault sets (s,)."""
        sets = self.belief.sets
        weight = np.where(left, sets.weight, 0.0)
        steps = self.root.access.steps
        return replace(
            self,
            belief=replace(self.belief, sets=replace(sets, weight=weight / weight.sum())),
            opened=frozenset(step for step in self.opened if steps[step].stays),
        )


def standing_of(problem: Problem, sets: Scenarios, tables: dict[Ask, Array], luck: int) -> Standing:
    """How things stand before the first step."""
    return Standing(problem, Counted(problem.belief, sets, dict(tables)), problem.access.open, luck=luck)
