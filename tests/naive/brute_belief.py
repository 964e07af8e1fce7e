"""The belief by brute force: every set of faults, every ladder worked out step by step, nothing shared or folded."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence

import numpy as np
from scipy.special import beta

from knowngood.belief.acting import Regime
from knowngood.belief.exact import ExactBelief
from knowngood.belief.faces import Target
from knowngood.belief.looks import LOOKS_WORTH, condition_of
from knowngood.belief.protocol import FaultAt
from knowngood.belief.timeline import Instance
from knowngood.car import Layout, Place
from knowngood.library.records import Ladder, Library
from knowngood.library.steps import steps_of

Hidden = frozenset[object]
"""Grades (fault, home, serial, grade) and looks in which a fault showed (fault, home, serial, look)."""


def look_of(target: Target) -> tuple[str, int, int]:
    """The look a reading is of."""
    return condition_of(target.regime), target.session, target.moment


def touches(a: Place, b: Place, layout: Layout) -> bool:
    """Whether two places have a cylinder in common (the engine has all)."""

    def cylinders(place: Place) -> set[int]:
        if place.kind == "cylinder":
            return {int(place.name)}
        if place.kind == "bank":
            return set(layout.banks[int(place.name) - 1])
        if place.kind in ("pair", "companions", "leads"):
            return {int(number) for number in place.name.split("-")}
        return set(layout.numbers())

    return "engine" in (a.kind, b.kind) or bool(cylinders(a) & cylinders(b))


def ladder_places(ladder: Ladder, layout: Layout) -> list[Place]:
    """Everywhere a ladder stands."""
    if ladder.place == "cylinder":
        return [Place("cylinder", str(number)) for number in layout.numbers()]
    if ladder.place == "bank":
        return [Place("bank", str(index + 1)) for index in range(len(layout.banks))]
    return [Place("engine")]


class BruteBelief:
    """Chances of the faults of an :class:`ExactBelief`'s model and evidence, by enumeration."""

    def __init__(self, belief: ExactBelief) -> None:
        self.belief = belief
        self.model = belief.model
        self.library: Library = belief.model.library
        self.layout = belief.model.layout
        self.common = belief.built.common
        self.instances = self._instances()
        self.total = 0.0
        self.mass = dict.fromkeys(self.instances, 0.0)
        self.weights: list[tuple[frozenset[Instance], float]] = []
        self.hidden_weights: list[tuple[frozenset[Instance], Hidden, float]] = []
        for present, chance in self._sets():
            weight = 0.0
            for hidden, share in self._hidden(present):
                one = chance * share * self._likelihood(present, hidden)
                self.hidden_weights.append((present, hidden, one))
                weight += one
            self.weights.append((present, weight))
            self.total += weight
            for instance in present:
                self.mass[instance] += weight

    def _instances(self) -> list[Instance]:
        found: dict[Instance, None] = {}
        for snapshot in self.belief.known.snapshots:
            for at in self.model.faults:
                instance = snapshot.instance(self.library.faults[at.fault], at.place)
                found[instance] = None
        births = self.model.timeline.births
        order = sorted(found, key=lambda one: one.generation)
        return [
            one for one in order if births.get(one) is None or births[one].parent is None or births[one].parent in found
        ]

    def _sets(self) -> Iterator[tuple[frozenset[Instance], float]]:
        births, stems = self.model.timeline.births, self.belief.built.stems
        bits_of_all = itertools.product((False, True), repeat=len(self.instances))
        for bits, cause in itertools.product(bits_of_all, range(self.common.states)):
            present = frozenset(one for one, bit in zip(self.instances, bits, strict=True) if bit)
            chance = float(self.common.chance[cause])
            for one, bit in zip(self.instances, bits, strict=True):
                birth = births.get(one)
                stem = stems.get(one)
                if birth is not None and birth.parent is not None:
                    p = (1.0 - birth.works) if birth.parent in present else birth.comes
                elif stem is not None:
                    spared = [1.0 - share for parent, share in stem.parents if parent in present]
                    p = 1.0 - (1.0 - float(stem.base[cause])) * math.prod(spared)
                else:
                    p = float(self.model.chance_of(one, self.common)[cause])
                chance *= p if bit else 1.0 - p
                if chance == 0.0:
                    break
            if chance > 0.0:
                yield present, chance

    def _hidden(self, present: frozenset[Instance]) -> Iterator[tuple[Hidden, float]]:
        """Grades of the faults that were there, in which looks they showed, and the chance of all that.

        How often a fault shows falls as a Beta distribution over cars; it is integrated out in closed form.
        """
        looks = {look_of(said.target) for said in self.belief.known.said if said.target.session}
        choices: list[list[tuple[tuple[object, ...], float]]] = []
        # what a cure left is as bad as it was, and shows as often
        for root in sorted({(one.fault, one.home, one.serial) for one in present}):
            fault = self.library.faults[root[0]]
            if fault.grades:
                choices.append([((*root, grade), share) for grade, share in fault.grades.items()])
            for condition in sorted({look[0] for look in looks} if fault.shows else ()):
                under = sorted(look for look in looks if look[0] == condition)
                mean = fault.shows.get(condition, fault.shows.get("any", 1.0))
                a, b = LOOKS_WORTH * mean, LOOKS_WORTH * (1.0 - mean)
                patterns = []
                for bits in itertools.product((0, 1), repeat=len(under)):
                    shown = tuple((*root, look) for look, bit in zip(under, bits, strict=True) if bit)
                    patterns.append((shown, float(beta(a + sum(bits), b + len(bits) - sum(bits)) / beta(a, b))))
                choices.append(patterns)
        for chosen in itertools.product(*choices):
            facts: set[object] = set()
            for fact, _ in chosen:
                facts.update(fact if not fact or isinstance(fact[0], tuple) else (fact,))
            yield frozenset(facts), math.prod(share for _, share in chosen)

    def chance_of_both(self, a: Instance, b: Instance) -> float:
        """Chance that two instances are there together."""
        return sum(weight for present, weight in self.weights if a in present and b in present) / self.total

    @classmethod
    def level_of(
        cls,
        belief: ExactBelief,
        ladder_id: str,
        place: Place,
        regime: Regime,
        moment: int,
        present: frozenset[Instance],
        session: int = 0,
        hidden: Hidden = frozenset(),
    ) -> int:
        """State index of a ladder, worked out from its definition."""
        model = belief.model
        library, layout = model.library, model.layout
        ladder = model.acting.ladders[ladder_id]
        acting = Regime("cruise", regime.modifiers) if ladder.combine == "sum" and regime.name == "any" else regime
        snapshot = belief.known.snapshots[moment]
        up = down = worst = 0
        for at in model.faults:
            fault = library.faults[at.fault]
            one = snapshot.instance(fault, at.place)
            if one not in present or not touches(at.place, place, layout):
                continue
            root = (one.fault, one.home, one.serial)
            shows = not fault.shows or not session or (*root, (condition_of(regime), session, moment)) in hidden
            if ladder.combine == "sum" and ladder.place != "cylinder" and at.place.kind == "cylinder":
                continue  # a bank's mixture is what its cylinders share
            strengths = [
                ladder.levels.index(act.level) if act.level else act.shift
                for act in fault.acts
                if act.on == ladder_id
                and acting.admits(act)
                and (shows or act.steady)
                and (not act.grade or (*root, act.grade) in hidden)
            ]
            direct = library.readings.get(ladder_id.removeprefix("reading "))
            if ladder_id.startswith("reading ") and direct is not None and at.fault in direct.direct:
                strengths.append(ladder.levels.index(direct.direct[at.fault]))
            if strengths:
                strength = max(strengths, key=abs)
                worst, up, down = max(worst, strength), up + max(strength, 0), down + max(-strength, 0)
        for source_id, table in ladder.inputs.items():
            source = model.acting.ladders[source_id]
            for other in ladder_places(source, layout):
                if (source.place == ladder.place and other != place) or not touches(other, place, layout):
                    continue
                state = cls.level_of(belief, source_id, other, regime, moment, present, session, hidden)
                value = cls._through(source, ladder, table, state)
                worst, up, down = max(worst, value), up + max(value, 0), down + max(-value, 0)
        if ladder.combine == "sum":
            return min(up, ladder.high) - min(down, -ladder.low) - ladder.low
        return worst

    @staticmethod
    def _through(source: Ladder, target: Ladder, table: dict[str, str | int], state: int) -> int:
        for key, value in table.items():
            hit = (
                state + source.low in (steps_of(key) or ()) if source.combine == "sum" else source.levels[state] == key
            )
            if hit:
                return value if isinstance(value, int) else target.levels.index(value)
        return 0

    def _likelihood(self, present: frozenset[Instance], hidden: Hidden) -> float:
        known = self.belief.known
        result = 1.0
        for clue in self.belief.network.clues:
            if clue.instance is not None:
                result *= float(clue.table[1 if clue.instance in present else 0])
        shared: dict[str, np.ndarray] = {}
        classes = self.belief.built.classes
        for said, clue in zip(known.said, self.belief.network.clues, strict=False):
            target = said.target
            state = self.level_of(
                self.belief,
                target.ladder,
                target.place,
                target.regime,
                target.moment,
                present,
                target.session,
                hidden,
            )
            if target in classes:
                # levels may be merged only where no reading tells them apart
                full, merged = np.atleast_2d(said.table), np.array(classes[target])
                assert all(np.ptp(full[:, merged == one], axis=1).max() == 0.0 for one in set(classes[target]))
                state = classes[target][state]
            if said.level:
                column = clue.table[:, state]
                shared[said.level] = shared.get(said.level, np.ones(len(column))) * column
            else:
                result *= float(clue.table[state])
        for product in shared.values():
            result *= float(product.mean())
        return result

    def chances(self, faults: Sequence[FaultAt]) -> np.ndarray:
        """Chance of each fault now."""
        return np.array([self.mass[self.belief.instance_now(at)] / self.total for at in faults])
