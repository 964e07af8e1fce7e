"""A simulated car on the bay floor: it answers checks, takes repairs, and is driven.

It knows what is wrong; whoever asks gets only what a check would show. Asked the same again with nothing done in
between that could change it, it shows the same again. Prices are fixed here, before any way of working is measured.

What is left out: gates and their looks, which are the same for every way of working; tools that are missing; parts
that are late. A check that needs the engine running shows nothing on one that does not run.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import msgspec
import numpy as np

from knowngood.belief.acting import Regime
from knowngood.belief.clues import IT_RAN, RUNNING, regime_of
from knowngood.belief.evaluate import Evaluator
from knowngood.belief.protocol import Ask, Bools, FaultAt
from knowngood.belief.timeline import new_part_chances, seldom_later, share_at
from knowngood.car import ENGINE, Car, Place
from knowngood.evidence import Body, CarFact, Entry, Reading, Work
from knowngood.library.code_run import code_run
from knowngood.library.fitted_on import can_have
from knowngood.library.reach import reach_of
from knowngood.library.records import MODIFIERS, Code, Ladder, ReadingKind
from knowngood.planner.problem import Repair
from knowngood.proving.simulated_arrivals import ROAD_TEST_SEES, Arrival, place_on
from knowngood.proving.simulated_readings import code_chance, drawn_number, drawn_word, is_number
from knowngood.proving.simulated_worlds import dice

REPLACED = ("replaced", "tried", "fitted")
NEW_BAD_PER_1000 = 10.0  # where the part is not described
START = "starting"


@dataclass(frozen=True)
class Prices:
    """What things cost; fixed before any way of working was measured."""

    rate_per_hour: float = 40.0
    road_test_minutes: float = 20.0
    comeback_minutes: float = 180.0
    comeback_money: float = 100.0

    @property
    def per_minute(self) -> float:
        """Money a minute."""
        return self.rate_per_hour / 60.0

    @property
    def road_test(self) -> float:
        """Money for a road test."""
        return self.road_test_minutes * self.per_minute

    @property
    def comeback(self) -> float:
        """Money for a car that comes back."""
        return self.comeback_minutes * self.per_minute + self.comeback_money


@dataclass
class SimulatedCar:
    """One car, as it stands now.

    Parameters
    ----------
    arrival : Arrival
    present : bool array (fault,)
        What is wrong now.
    entries : list of Entry
        What is known so far: the car, the complaint, what was read and done.
    drives : int
        Road tests so far.
    made : dict
        How often each repair was made.
    """

    arrival: Arrival
    present: Bools = field(init=False)
    entries: list[Entry] = field(init=False)
    drives: int = 0
    touched: dict[str, int] = field(default_factory=dict)
    made: dict[str, int] = field(default_factory=dict)
    tried: dict[tuple[str, str, FaultAt], int] = field(default_factory=dict)
    _evaluator: Evaluator | None = None

    def __post_init__(self) -> None:
        self.model = self.arrival.truth.model
        self.library = self.model.library
        self.present = self.arrival.present.copy()
        self.entries = []
        unknown = msgspec.to_builtins(Car())
        for name, value in msgspec.to_builtins(self.arrival.car).items():
            if value != unknown[name]:
                self.tell(CarFact(name, msgspec.json.encode(value).decode()))
        self.tell(Reading(kind=self.arrival.complaint, word="yes"))

    def tell(self, body: Body, line: str = "") -> None:
        """Write something down."""
        at = f"2026-01-01T00:{len(self.entries) // 60:02d}:{len(self.entries) % 60:02d}Z"
        self.entries.append(Entry(id=str(len(self.entries)), at=at, entered=at, body=body, line=line))

    def _now(self) -> Evaluator:
        """The levels of everything as things stand, worked out once until something is done."""
        if self._evaluator is None:
            self._evaluator = self.arrival.truth.evaluator(self.present[None, :].copy(), self.arrival.seed)
        return self._evaluator

    def _state(self, record: ReadingKind | Code, place: Place, regime: Regime) -> tuple[Ladder, int]:
        ladder = self.model.ladders.of(record)
        return ladder, int(self._now().states(ladder.id, place_on(self.model, ladder, place), regime)[0])

    def runs(self) -> str:
        """Level of the ladder of starting."""
        ladder = self.library.ladders["start"]
        return ladder.levels[int(self._now().states("start", ENGINE, Regime("cold start"))[0])]

    def _epoch(self, kind: ReadingKind | Code) -> int:
        """How much work has been done that what this reading shows may hang on."""
        if not self.touched:
            return 0
        reach = reach_of(self.library)
        seen = reach.readings.get(kind.id) or reach.codes.get(kind.id) or frozenset()
        return sum(times for fault, times in self.touched.items() if fault in seen)

    def read(self, ask: Ask) -> Reading | None:
        """What one reading shows now; ``None`` where it cannot be taken."""
        kind = self.library.readings[ask.reading]
        regime = regime_of((ask.regime,) if ask.regime else (), kind.when)
        rng = dice(self.arrival.seed, kind.id, ask.place, self._epoch(kind))
        if regime.name in RUNNING and rng.random() >= IT_RAN.get(self.runs(), 1.0):
            return None
        ladder, state = self._state(kind, ask.place, regime)
        if not is_number(kind):
            return Reading(kind=kind.id, place=ask.place, word=drawn_word(kind, ladder, state, rng))
        value = drawn_number(kind, ladder, state, self._healthy(kind), rng)
        return Reading(kind=kind.id, place=ask.place, value=value)

    def _healthy(self, kind: ReadingKind) -> float:
        if not kind.relative or kind.healthy is None:
            return 1.0
        low, high = kind.healthy.low, kind.healthy.high
        return low * (high / low) ** float(dice(self.arrival.seed, "healthy", kind.id).random())

    def check(self, asks: Sequence[Ask]) -> list[Reading]:
        """Make a check and write down what it shows; that the engine does not run, where that is why nothing does."""
        shown = [reading for ask in asks if (reading := self.read(ask)) is not None]
        if len(shown) < len(asks) and START in self.library.readings:
            dead = self.read(Ask(START, ENGINE))
            shown += [] if dead is None else [dead]
        for reading in shown:
            self.tell(reading)
        return shown

    def read_codes(self) -> list[Reading]:
        """Read the codes out and write them down; one that says there are none where there are none."""
        codes = [text for code in self.library.codes.values() for text in self._set(code)]
        shown = [Reading(kind="code", code=code, state="stored") for code in codes] or [
            Reading(kind="code", code="none", word="none")
        ]
        for reading in shown:
            self.tell(reading)
        return shown

    def _set(self, code: Code) -> list[str]:
        if not can_have(code, self.arrival.car, self.library):
            return []
        regime = Regime(code.when, frozenset(MODIFIERS))
        places = [(code.id, Place("bank", str(code.bank)) if code.bank else ENGINE)]
        if code.bank > len(self.model.layout.banks):
            return []
        if code.each:
            numbers = self.model.layout.numbers()
            places = [
                (text, Place(code.each, str(number))) for number, text in zip(numbers, code_run(code.id), strict=False)
            ]
        found = []
        for text, place in places:
            ladder, state = self._state(code, place, regime)
            if dice(self.arrival.seed, text, self._epoch(code)).random() < code_chance(code, ladder, state):
                found.append(text)
        return found

    def swap(self, part: str, place: Place, to: Place, asks: Sequence[Ask]) -> list[Reading]:
        """Let two like parts change places, and look."""
        for at, column in self.model.column.items():
            other = self.model.column.get(FaultAt(at.fault, to))
            if self.library.faults[at.fault].part == part and at.place == place and other is not None:
                self.present[[column, other]] = self.present[[other, column]]
                self._touch(at.fault)
        self.tell(Work(do="swapped", part=part, places=(place,), to=to))
        return self.check(asks)

    def repair(self, repair: Repair) -> bool:
        """Do it and write it down; whether the old part was bad, or there was what was put right.

        Made for the first time it comes out alike whatever was done before it: whether it takes is a matter of the car,
        and ways of working compared on one car do not differ by luck.
        """
        was_bad = False
        self.made[repair.id] = self.made.get(repair.id, 0) + 1
        rng = dice(self.arrival.seed, repair.id, self.made[repair.id])
        for at in repair.fixes:
            column = self.model.column.get(at)
            if column is None:
                continue
            self._touch(at.fault)
            if self.present[column]:
                was_bad = True
                self.present[column] = repair.do not in REPLACED and rng.random() >= self._works(at, repair)
            self._tried(at, repair)
        if repair.do in REPLACED:
            self._new_part(repair, rng)
        self.tell(Work(do=repair.do, part=repair.part, places=repair.places))
        return was_bad

    def _touch(self, fault: str) -> None:
        self._evaluator = None
        self.touched[fault] = self.touched.get(fault, 0) + 1

    def _works(self, at: FaultAt, repair: Repair) -> float:
        fault = self.library.faults[at.fault]
        ways = (cure for cure in fault.cures if (cure.do, cure.part or fault.part) == (repair.do, repair.part))
        works = max((cure.works for cure in ways), default=0.0)
        return works * self.share_left(at, repair.do, repair.part)

    def _tried(self, at: FaultAt, repair: Repair) -> None:
        if repair.do in REPLACED:
            self.tried = {each: times for each, times in self.tried.items() if each[2] != at}
        elif at.fault in self.library.faults and seldom_later(self.library.faults[at.fault], repair.do):
            trial = repair.do, repair.part, at
            self.tried[trial] = self.tried.get(trial, 0) + 1

    def share_left(self, at: FaultAt, do: str, part: str) -> float:
        """Share of its chance with which a cure works now: made again it seldom does."""
        return share_at(self.tried.get((do, part, at), 0))

    def _new_part(self, repair: Repair, rng: np.random.Generator) -> None:
        """A new part may be bad, too: in the ways its kind is, as often as each."""
        record = self.library.parts.get(repair.part)
        per_1000 = record.new_bad_per_1000 if record is not None else NEW_BAD_PER_1000
        if rng.random() >= len(repair.places) * per_1000 / 1000.0:
            return
        old = {str(at): self.model.priors[at] for at in repair.fixes if at in self.model.column}
        chance = new_part_chances(old, 1.0)
        ways = [at for at in repair.fixes if str(at) in chance]
        shares = np.array([chance[str(at)] for at in ways])
        if shares.sum() > 0:
            bad = ways[int(rng.choice(len(ways), p=shares / shares.sum()))]
            self.present[self.model.column[bad]] = True

    def has_complaint(self) -> bool:
        """Whether something behind the complaint is left."""
        return bool(self.arrival.truth.complains(self._complaint, self.present)[0])

    def behind(self) -> list[FaultAt]:
        """Faults behind the complaint: each would give it alone; where none does, all without which it is gone."""
        there = self.arrival.truth.behind(self._complaint, self.present)
        return [at for at, each in zip(self.model.faults, there, strict=True) if each]

    @property
    def _complaint(self) -> ReadingKind:
        return self.library.readings[self.arrival.complaint]

    def drive(self) -> bool:
        """A road test, written down; whether the complaint showed."""
        self.drives += 1
        rng = dice(self.arrival.seed, "drive", self.drives)
        shows = self.has_complaint() and bool(rng.random() < ROAD_TEST_SEES)
        self.tell(Reading(kind=self.arrival.complaint, word="yes" if shows else "no"))
        return shows
