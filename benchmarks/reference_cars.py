"""The reference cars: one of each size, thirty readings on the faults it was drawn with, frozen by seed.

A car of 8 cylinders has 188 faults. What was read: what a driver says, a row over all cylinders, and looks drawn from
what else could be looked at. With a history, the first half is read before a swap and two new parts, the rest after.
"""

from __future__ import annotations

import hashlib
from collections.abc import Sequence

import numpy as np

from benchmarks.reference_library import reference_library
from knowngood.belief.acting import Regime
from knowngood.belief.assemble import believe
from knowngood.belief.evaluate import Evaluator
from knowngood.belief.exact import ExactBelief
from knowngood.belief.protocol import Ask
from knowngood.car import Car, Layout, Place, layout_of
from knowngood.evidence import Entry, Reading, Value, Work
from knowngood.evidence.bodies import Body
from knowngood.library.records import Library

SIZES = (2, 4, 6, 8, 12)
READINGS = 30
DRIVER = ("read_rough_1", "read_start_1", "read_power_1", "read_missing_1")
ROW = "read_seal_1"


class ReferenceCar:
    """A frozen car: library, layout, entries, checks that remain.

    Parameters
    ----------
    cylinders : int
    history : bool
        Whether coils change places and two parts are new between the readings.
    times : float
        Every count of faults multiplied by this.
    readings : int
    seed : int
        Another car of that size.
    """

    def __init__(
        self, cylinders: int, *, history: bool = False, times: float = 1.0, readings: int = READINGS, seed: int = 1000
    ) -> None:
        self.library: Library = reference_library(times)
        self.car = Car(cylinders=cylinders, form="V", numbering="by bank", first_bank="left")
        self.layout: Layout = layout_of(self.car)
        self.count = readings
        self.every = self._every_ask()
        nothing = believe(self.library, self.car, self.layout, ())
        rng = np.random.default_rng(seed + cylinders)
        self.truth = rng.random(len(nothing.faults)) < nothing.chances()
        asked = self._asked(rng)
        self.readings = [self._read(nothing, ask, rng) for ask in asked]
        self.remaining = tuple(ask for ask in self.every if ask not in asked)
        bodies: list[Body] = [*self.readings]
        if history:
            half = len(bodies) // 2
            bodies = [*bodies[:half], *self._works(), *bodies[half:]]
        self.entries = tuple(
            Entry(id=str(index), at=f"{index:03}", entered=f"{index:03}", line=f"line {index}", body=body)
            for index, body in enumerate(bodies)
        )

    def _every_ask(self) -> tuple[Ask, ...]:
        places = {
            "engine": [Place("engine")],
            "bank": [Place("bank", str(bank + 1)) for bank in range(len(self.layout.banks))],
            "cylinder": [Place("cylinder", str(number)) for number in self.layout.numbers()],
        }
        return tuple(Ask(kind.id, place) for kind in self.library.readings.values() for place in places[kind.place])

    def _asked(self, rng: np.random.Generator) -> list[Ask]:
        first = [ask for ask in self.every if ask.reading in DRIVER or ask.reading == ROW]
        rest = [ask for ask in self.every if ask not in first]
        drawn = rng.choice(len(rest), self.count - len(first), replace=False)
        return [*first, *(rest[index] for index in sorted(map(int, drawn)))]

    def _read(self, belief: ExactBelief, ask: Ask, rng: np.random.Generator) -> Reading:
        """The reading a true car gives, with its own error."""
        kind = self.library.readings[ask.reading]
        if kind.words:
            word = rng.choice(kind.words, p=belief.likelihood(ask, self.truth[None, :])[:, 0])
            return Reading(kind=kind.id, place=ask.place, word=str(word))
        ladder = self.library.ladders[kind.on]
        truth = Evaluator(belief.model.strengths, self.truth[None, :])
        step = float(truth.states(ladder.id, ask.place, Regime())[0] + ladder.low)
        return Reading(
            kind=kind.id, place=ask.place, value=Value(round(step + rng.normal(0.0, kind.noise), 1), step=0.1)
        )

    @staticmethod
    def _works() -> list[Work]:
        one, two = Place("cylinder", "1"), Place("cylinder", "2")
        return [
            Work(do="swapped", part="part_spark_2", places=(one,), to=two),
            Work(do="replaced", part="part_spark_4", places=(one,)),
            Work(do="repaired", part="part_bank_mixture_1", places=(Place("bank", "1"),)),
        ]

    def belief(self) -> ExactBelief:
        """Chances after all entries."""
        return believe(self.library, self.car, self.layout, self.entries)

    def digest(self) -> str:
        """Eight digits that change when anything of the car does."""
        faults = [
            (one.id, one.place, one.chance.per_1000, [(act.on, act.level, act.shift) for act in one.acts])
            for one in self.library.faults.values()
        ]
        kinds = [(one.id, one.on, one.noise, one.chance) for one in self.library.readings.values()]
        read = [(one.kind, str(one.place), one.word, one.value and one.value.number) for one in self.readings]
        text = repr((faults, kinds, read, self.truth.tolist()))
        return hashlib.sha256(text.encode()).hexdigest()[:8]


def digests(sizes: Sequence[int] = SIZES) -> dict[int, str]:
    """Digest of each reference car."""
    return {size: ReferenceCar(size).digest() for size in sizes}
