"""Cars as they arrive: what they are, what is wrong with them, what the driver says.

The complaint comes first, as often as cars come in with it; then sets of faults are drawn from the chances before any
reading until one gives that complaint. So the faults of a car are those of all cars of its kind with that complaint,
one or ten of them, and what the belief makes of the same words can be held against them.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import msgspec
import numpy as np

from knowngood.belief.acting import Regime
from knowngood.belief.clues import IT_RAN, RUNNING, outcome_table, regime_of
from knowngood.belief.elimination import Array
from knowngood.belief.evaluate import Evaluator, States
from knowngood.belief.model import Model
from knowngood.belief.protocol import Bools, FaultAt
from knowngood.car import ENGINE, Car, Place, layout_of
from knowngood.library.records import Ladder, Library, ReadingKind
from knowngood.proving.simulated_worlds import World, dice, library_of, with_common_causes

DRAWN_FOR_COMPLAINTS = 3000
DRAWN_AT_ONCE, MOST_ROUNDS = 400, 200
YES = "yes"
SAID_SHARE = 0.5  # of how often a complaint is said where it is said most; from there on a car has it
ROAD_TEST_SEES = 0.95  # chance that a road test shows a complaint that is there; from memory
SEEN_FOR_NOTHING = 0.001  # chance that a complaint is seen on a car that has it not; no 0, as tables need one
TOLD_FIELDS = ("ignition", "injection", "air_meter", "turbo")
MILEAGE_KM, MILEAGE_SPREAD = 160_000.0, 0.4  # middle, and standard deviation in log; from memory
STOOD_SHARE, ANIMALS_SHARE = 0.35, 0.15  # of neglected cars; from memory


def place_on(model: Model, ladder: Ladder, place: Place) -> Place:
    """Where a reading at a place stands on its ladder."""
    if ladder.place == "engine":
        return ENGINE
    if ladder.place == "bank" and place.kind != "bank":
        number = int(place.name) if place.kind == "cylinder" else model.layout.banks[0][0]
        return Place("bank", str(model.layout.bank_of(number)))
    return place


def as_met(complaint: ReadingKind) -> ReadingKind:
    """A complaint as a simulated car has it: there or not, with nothing in between, and seen on nearly every drive."""
    often = {level: words[YES] for level, words in complaint.chance.items()}
    has = {level: said >= SAID_SHARE * max(often.values()) for level, said in often.items()}
    seen = {level: ROAD_TEST_SEES if there else SEEN_FOR_NOTHING for level, there in has.items()}
    return msgspec.structs.replace(
        complaint, chance={level: {YES: yes, "no": 1.0 - yes} for level, yes in seen.items()}
    )


@dataclass(frozen=True)
class Truth:
    """A library with a car of it: what the simulated car follows.

    Parameters
    ----------
    model : Model
        Of the world the car comes from, not of ours.
    """

    model: Model

    def evaluator(self, present: Bools, seed: int = 0) -> Evaluator:
        """What fault sets (scenario, fault) would show; ``seed``: of how bad they are, and of what shows now."""
        return Evaluator(self.model.strengths, present, seed)

    def states(self, kind: ReadingKind, there: Evaluator) -> States:
        """Level of an engine's reading in each fault set (scenario,)."""
        return there.states(self.model.ladders.of(kind).id, ENGINE, regime_of((), kind.when), habit=kind.complaint)

    def chance_of_yes(self, kind: ReadingKind, there: Evaluator) -> Array:
        """Chance that the driver says it, in each fault set (scenario,); of a running engine only where it runs."""
        table = outcome_table(kind, self.model.ladders.of(kind))[:, kind.words.index(YES)]
        chance: Array = table[self.states(kind, there)]
        if regime_of((), kind.when).name in RUNNING:
            start = self.model.library.ladders["start"]
            runs = np.array([IT_RAN.get(level, 1.0) for level in start.levels])
            chance = chance * runs[there.states("start", ENGINE, Regime("cold start"), habit=kind.complaint)]
        return chance

    def complains(self, kind: ReadingKind, present: Bools) -> Bools:
        """Whether fault sets (scenario, fault) put a complaint's ladder where a driver would say it (scenario,).

        That is off the good level, where it is said at least half as often as on the level where it is said most. A car
        that only starts hard stands on the same ladder as one that does not crank, and nobody says that of it.
        """
        there = np.atleast_2d(present)
        states = self.states(kind, self.evaluator(np.concatenate([there, np.zeros_like(there[:1])])))
        said = outcome_table(kind, self.model.ladders.of(kind))[:, kind.words.index(YES)]
        result: Bools = (states[:-1] != states[-1]) & (said[states[:-1]] >= SAID_SHARE * said.max())
        return result

    def behind(self, kind: ReadingKind, present: Bools) -> Bools:
        """Which faults of one set (fault,) are behind a complaint.

        Each that would give it alone; where none does, all without which it is gone.
        """
        columns = np.flatnonzero(present)
        result = np.zeros(len(present), dtype=bool)
        if not len(columns) or not self.complains(kind, present)[0]:
            return result
        alone = np.zeros((len(columns), len(present)), dtype=bool)
        without = np.repeat(present[None, :], len(columns), axis=0)
        alone[np.arange(len(columns)), columns] = True
        without[np.arange(len(columns)), columns] = False
        gives = self.complains(kind, alone)
        result[columns] = gives if gives.any() else ~self.complains(kind, without)
        return result

    def runs(self, kind: ReadingKind, present: Bools) -> bool:
        """Whether a car with this set (fault,) starts once what is behind its complaint is put right."""
        rest = present & ~self.behind(kind, present)
        (level,) = self.evaluator(rest[None, :]).states("start", ENGINE, Regime("cold start"), habit=True)
        return self.model.library.ladders["start"].levels[level] not in IT_RAN

    @cached_property
    def priors(self) -> Array:
        """Chance of each fault before any reading (fault,)."""
        return np.array([self.model.priors[at] for at in self.model.faults])


@dataclass(frozen=True)
class Arrival:
    """A car as it comes in.

    Parameters
    ----------
    seed : int
    world : World
    car : Car
        As told.
    complaint : str
        Kind of reading; its word is ``yes``.
    truth : Truth
    present : bool array (fault,)
        What is wrong, in the order of the world's model.
    """

    seed: int
    world: World
    car: Car
    complaint: str
    truth: Truth
    present: Bools

    @property
    def faults(self) -> tuple[FaultAt, ...]:
        """What is wrong."""
        return tuple(at for at, there in zip(self.truth.model.faults, self.present, strict=True) if there)


def drawn_car(seed: int, library: Library, cylinders: int) -> Car:
    """A car of a kind that is usual, its equipment told."""
    rng = dice(seed, "car")
    ignition, injection, air_meter, turbo = (_usual(library, field, rng) for field in TOLD_FIELDS)
    mileage_km = round(float(MILEAGE_KM * np.exp(MILEAGE_SPREAD * rng.normal())), -3)
    stood, animals = bool(rng.random() < STOOD_SHARE), bool(rng.random() < ANIMALS_SHARE)
    return Car(
        drive="petrol",
        cylinders=cylinders,
        form="inline" if cylinders < 6 else "V",
        ignition=ignition,
        injection=injection,
        air_meter=air_meter,
        turbo=turbo == "yes",
        mileage_km=mileage_km,
        standing_years=2.0 if stood else None,
        animals=True if stood and animals else None,
    )


def _usual(library: Library, field: str, rng: np.random.Generator) -> str:
    share = library.fitted[field].share
    return str(rng.choice(list(share), p=_shares(list(share.values()))))


def _shares(shares: list[float]) -> Array:
    return np.array(shares) / sum(shares)


def complaints_of(library: Library) -> list[ReadingKind]:
    """What a driver says of the whole car by yes or no."""
    return [
        kind
        for kind in library.readings.values()
        if kind.complaint and kind.place == "engine" and set(kind.words) == {YES, "no"} and not kind.needs
    ]


def drawn_complaint(seed: int, truth: Truth) -> ReadingKind:
    """A complaint, as often as cars come in with it because something is wrong."""
    rng = dice(seed, "complaint")
    there = truth.evaluator(rng.random((DRAWN_FOR_COMPLAINTS, len(truth.priors))) < truth.priors)
    good = truth.evaluator(np.zeros((1, len(truth.priors)), dtype=bool))
    kinds = complaints_of(truth.model.library)
    often = [
        float((truth.chance_of_yes(kind, there) * (truth.states(kind, there) != truth.states(kind, good))).mean())
        for kind in kinds
    ]
    return kinds[int(rng.choice(len(kinds), p=_shares(often)))]


def drawn_faults(seed: int, truth: Truth, complaint: ReadingKind, world: World, *, to_be_driven: bool = False) -> Bools:
    """A set of faults that gives the complaint, as often as it would among all that do (fault,).

    ``to_be_driven``: of those only with which the car runs once what is behind the complaint is put right.
    """
    rng = dice(seed, "faults")
    records = [truth.model.library.faults[at.fault] for at in truth.model.faults]
    for _ in range(MOST_ROUNDS):
        priors = truth.priors
        if world.structure:
            priors = np.array(
                [with_common_causes(truth.model.library, truth.priors, records, rng) for _ in range(DRAWN_AT_ONCE)]
            )
        present = rng.random((DRAWN_AT_ONCE, len(truth.priors))) < priors
        said = rng.random(DRAWN_AT_ONCE) < truth.chance_of_yes(complaint, truth.evaluator(present))
        for row in np.flatnonzero(said):
            if not to_be_driven or truth.runs(complaint, present[row]):
                return present[row]
    raise RuntimeError(f"No car of seed {seed} in {DRAWN_AT_ONCE * MOST_ROUNDS} has the complaint {complaint.id}.")


def arrival(seed: int, world: World, ours: Library, cylinders: int = 4, *, to_be_driven: bool = False) -> Arrival:
    """The car of a seed: the same car and complaint in every world, its faults by that world's numbers.

    ``to_be_driven``: one whose complaint can be proved gone on the road, for whoever works on that alone.
    """
    car = drawn_car(seed, ours, cylinders)
    layout = layout_of(car)
    complaint = drawn_complaint(seed, Truth(Model(ours, car, layout)))
    library = library_of(world, ours, seed)
    truth = Truth(Model(library, car, layout))
    present = drawn_faults(seed, truth, library.readings[complaint.id], world, to_be_driven=to_be_driven)
    return Arrival(seed, world, car, complaint.id, truth, present)
