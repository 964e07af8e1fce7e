"""A bay with one simulated car in it: everything done is paid for and written down, and the car says when it is over.

Closing is paid when a thing is opened: it goes on again before the next drive. A road test that passes ends the work.
Where it passed wrongly the car comes back, that is paid, and the work goes on. Who has found nothing after many steps
hands the car over: that costs a comeback and what the rest costs somebody who knows the faults.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

import msgspec

from knowngood.app.may_break import risk_of
from knowngood.app.seats import Seats
from knowngood.belief.clues import RUNNING
from knowngood.belief.protocol import Bools, FaultAt
from knowngood.evidence import Access, Reading
from knowngood.library.fitted_on import may_have
from knowngood.library.records import Library
from knowngood.planner.problem import AccessGraph, AccessTime, CheckAt, Repair
from knowngood.proving.simulated import Prices, SimulatedCar
from knowngood.proving.simulated_arrivals import as_met

MOST_STEPS = 60
WITH_ENGINE = ("idle", "held at speed", "driven")
ACCESS, CHECKS, NEEDED, NOT_NEEDED = "access", "checks", "repairs needed", "repairs not needed"
ROAD, COMEBACKS, GIVEN_UP = "road tests", "comebacks", "given up"
HEADINGS = (ACCESS, CHECKS, NEEDED, NOT_NEEDED, ROAD, COMEBACKS, GIVEN_UP)


@dataclass(frozen=True)
class Done:
    """One thing that was paid for.

    Parameters
    ----------
    heading : str
        One of :data:`HEADINGS`.
    name : str
    minutes, money : float [min], [currency]
    """

    heading: str
    name: str
    minutes: float
    money: float


@dataclass
class Account:
    """What a car has cost.

    Parameters
    ----------
    minutes, money : float [min], [currency]
        Money is parts and consumables; minutes are priced besides.
    wrong_parts : int
        Bought for a place whose old part was good.
    left : int
        Faults behind the complaint that were left.
    """

    minutes: float = 0.0
    money: float = 0.0
    wrong_parts: int = 0
    checks: int = 0
    repairs: int = 0
    road_tests: int = 0
    comebacks: int = 0
    left: int = 0
    done: list[Done] = field(default_factory=list)

    def pay(self, heading: str, name: str, minutes: float, money: float = 0.0) -> None:
        """Pay for something under its heading."""
        self.minutes += minutes
        self.money += money
        self.done.append(Done(heading, name, minutes, money))

    def total(self, prices: Prices) -> float:
        """Money in all."""
        return self.minutes * prices.per_minute + self.money


@dataclass
class Bay:
    """Where a way of working meets a car.

    Parameters
    ----------
    car : SimulatedCar
    library : Library
        Ours; here without its gates, which are left out for every way of working, and with the complaint as the car
        has it.
    prices : Prices
    dead : bool
        The engine was found not to run, and nothing has been repaired since.
    gives : bool array (fault,) or None
        Which faults of ours would give the complaint alone, once worked out.
    account : Account
    open : set of str
        Access steps that are apart now.
    over : bool
        A road test passed with nothing behind the complaint left.
    steps : int
        Checks, repairs and road tests so far.
    """

    car: SimulatedCar
    library: Library
    prices: Prices = field(default_factory=Prices)
    account: Account = field(default_factory=Account)
    dead: bool = False
    gives: Bools | None = None
    open: set[str] = field(default_factory=set)
    over: bool = False
    steps: int = 0

    def __post_init__(self) -> None:
        kinds, complaint = self.library.readings, self.car.arrival.complaint
        readings = {**kinds, complaint: as_met(kinds[complaint])}
        self.library = msgspec.structs.replace(self.library, gates={}, readings=readings)
        records = self.library.access
        car = self.car.arrival.car
        has = {step for step, record in records.items() if may_have(record, car, self.library)}
        self.graph = AccessGraph(
            {
                step: AccessTime(
                    records[step].open_minutes,
                    records[step].close_minutes,
                    tuple(before for before in records[step].after if before in has),
                    risk=risk_of(records[step], self.prices.rate_per_hour),
                )
                for step in has
            }
        )

    def access_minutes(self, access: tuple[str, ...]) -> float:
        """Minutes to open, and later close, what is not open yet."""
        return sum(
            self.graph.steps[step].open_minutes + self.graph.steps[step].close_minutes
            for step in self.graph.needed(access) - self.open
        )

    def access_risk(self, access: tuple[str, ...]) -> float:
        """Money that breaking something costs on average while what is not open yet comes off."""
        return sum(self.graph.steps[step].risk for step in self.graph.needed(access) - self.open)

    def _open(self, access: tuple[str, ...]) -> None:
        minutes = self.access_minutes(access)
        if minutes > 0.0:
            off = sorted(self.graph.needed(access) - self.open)
            self.account.pay(ACCESS, " ".join(off), minutes, self.access_risk(access))
        for step in sorted(self.graph.needed(access) - self.open):
            self.car.tell(Access(step, True))
        self.open |= self.graph.needed(access)

    def fitting(self, access: tuple[str, ...]) -> tuple[str, ...]:
        """The steps this car has."""
        return tuple(step for step in access if step in self.graph.steps)

    def check(self, check: CheckAt) -> list[Reading]:
        """Make a check, or a swap."""
        self._step()
        self._open(check.access)
        self.account.pay(CHECKS, check.name, check.minutes, check.money)
        self.account.checks += 1
        if check.kind == "swap":
            here, there = check.asks[:2]  # of a swap it is asked at both places, its own first
            return self.car.swap(check.id.removeprefix("swap_"), here.place, there.place, check.asks)
        shown = self.car.check(check.asks)
        read = {(reading.kind, reading.place) for reading in shown}
        self.dead = self.dead or any((ask.reading, ask.place) not in read for ask in check.asks)
        return shown

    def can_make(self, check: CheckAt) -> bool:
        """Whether a check can be made: not one of a running engine where the engine was found not to run."""
        if not self.dead:
            return True
        record = self.library.checks.get(check.id)
        kinds = (self.library.readings[ask.reading] for ask in check.asks)
        return (record is None or record.engine not in WITH_ENGINE) and not any(kind.when in RUNNING for kind in kinds)

    def repair(self, repair: Repair) -> bool:
        """Do a repair; whether there was something to put right."""
        self._step()
        self._open(repair.access)
        self.account.repairs += 1
        self.dead = False
        behind = set(self.car.behind())
        was_bad = self.car.repair(repair)
        needed = was_bad and not behind.isdisjoint(repair.fixes)
        self.account.pay(NEEDED if needed else NOT_NEEDED, repair.name, repair.minutes, repair.money)
        self.account.wrong_parts += repair.do == "replaced" and not was_bad
        return was_bad

    def drive(self) -> bool:
        """Close up and drive; whether that was the end."""
        self._step()
        for step in sorted(self.open):
            self.car.tell(Access(step, False))
        self.open.clear()
        self.account.pay(ROAD, "road test", self.prices.road_test_minutes)
        self.account.road_tests += 1
        if self.car.drive():
            return False
        if not self.car.has_complaint():
            self.over = True
            return True
        self.account.comebacks += 1
        self.account.pay(COMEBACKS, "it came back", self.prices.comeback_minutes, self.prices.comeback_money)
        self.car.tell(Reading(kind=self.car.arrival.complaint, word="yes"))
        return False

    def _step(self) -> None:
        self.steps += 1

    def cure(self, at: FaultAt) -> Repair:
        """The cheapest repair of one fault, its works chance and its part's price included."""
        fault, seats = self.library.faults[at.fault], Seats(self.library, self.car.model.layout)
        every = []
        for cure in fault.cures:
            part = cure.part or fault.part
            seat = seats.of(part, at.place)
            all_of = seats.all_of(part, seat)
            record = self.library.parts.get(part)
            price = record.price * max(len(all_of), 1) if record is not None and cure.do == "replaced" else 0.0
            fixes = tuple(
                other
                for other in self.car.model.faults
                if seat in seats.covering(part, other.place)
                and other.fault in self.library.faults
                and any(
                    each.do == cure.do and (each.part or self.library.faults[other.fault].part) == part
                    for each in self.library.faults[other.fault].cures
                )
            )
            every.append(
                Repair(
                    id=f"{cure.do} {part} {seat}",
                    name=f"{cure.do} {part}",
                    fixes=fixes,
                    minutes=cure.minutes,
                    money=price,
                    do=cure.do,
                    part=part,
                    place=seat,
                    all_of=all_of,
                    works=cure.works * self.car.share_left(at, cure.do, part),
                    access=self.fitting(cure.access),
                )
            )
        return min(every, key=lambda repair: self.price_of(repair) / repair.works)

    def price_of(self, repair: Repair) -> float:
        """Money for a repair as things stand, access included."""
        minutes = repair.minutes + self.access_minutes(repair.access)
        return minutes * self.prices.per_minute + repair.money + self.access_risk(repair.access)


def knows_the_faults(bay: Bay) -> None:
    """Put right what is behind the complaint, then prove it; not for ever, where no repair takes."""
    while bay.steps < MOST_STEPS:
        while bay.car.has_complaint() and bay.steps < MOST_STEPS:
            behind = bay.car.behind() or [at for at in bay.car.arrival.faults if at.fault in bay.library.faults]
            bay.repair(min((bay.cure(at) for at in behind), key=bay.price_of))
        if bay.drive():
            return


def run(way: Callable[[Bay], None], bay: Bay) -> Account:
    """Let a way of working go on step by step until the car is over, or it is handed over."""
    while not bay.over and bay.steps < MOST_STEPS:
        way(bay)
    if not bay.over:
        bay.account.left = len(bay.car.behind())
        # another bay, another day: the car is handed over closed, so what is apart here must come off again there
        rest = Bay(bay.car, bay.library, bay.prices)
        knows_the_faults(rest)
        bay.account.pay(
            GIVEN_UP,
            "handed over",
            bay.prices.comeback_minutes + rest.account.minutes,
            bay.prices.comeback_money + rest.account.money,
        )
    return bay.account
