"""Simulated cars: what they arrive with, what they show, what work does to them."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from msgspec import structs

from knowngood.belief.protocol import Ask, FaultAt
from knowngood.car import ENGINE, Place
from knowngood.library.load import load
from knowngood.library.records import Ladder, Library, ReadingKind, Spread
from knowngood.planner.problem import Repair
from knowngood.proving.simulated import Prices, SimulatedCar
from knowngood.proving.simulated_arrivals import arrival
from knowngood.proving.simulated_readings import drawn_number
from knowngood.proving.simulated_worlds import OWN


@pytest.fixture(scope="module")
def ours() -> Library:
    """The library as it is."""
    return load()


@pytest.fixture
def car(ours: Library) -> SimulatedCar:
    """The first car whose complaint has something behind it: others were told of in vain."""
    return next(car for seed in range(1, 20) if (car := SimulatedCar(arrival(seed, OWN, ours))).behind())


def only(car: SimulatedCar, *faults: FaultAt) -> SimulatedCar:
    """Such a car with just these faults."""
    present = np.zeros_like(car.present)
    for at in faults:
        present[car.model.column[at]] = True
    return SimulatedCar(replace(car.arrival, present=present))


def test_same_seed_is_the_same_car(ours: Library) -> None:
    """Nothing is left to the order in which things are asked."""
    one, other = arrival(6, OWN, ours), arrival(6, OWN, ours)
    assert (one.car, one.complaint, one.faults) == (other.car, other.complaint, other.faults)
    assert one.faults != arrival(5, OWN, ours).faults


def test_a_car_to_be_driven_runs_once_its_complaint_is_put_right(ours: Library) -> None:
    """What is drawn for the road can be proved on it."""
    for seed in range(1201, 1205):
        driven = arrival(seed, OWN, ours, to_be_driven=True)
        assert driven.complaint == arrival(seed, OWN, ours).complaint
        assert driven.truth.runs(driven.truth.model.library.readings[driven.complaint], driven.present)


def test_a_dead_starter_may_be_behind_the_complaint_but_not_beside_it(car: SimulatedCar, ours: Library) -> None:
    """A car that does not crank is put right like any other, and then runs; one that runs hot beside it does not."""
    truth = car.arrival.truth
    starter = only(car, FaultAt("starter_dead", ENGINE)).present
    kind = ours.readings["does_not_crank"]
    assert truth.complains(kind, starter).tolist() == [True]
    assert np.array_equal(truth.behind(kind, starter), starter)
    assert truth.runs(kind, starter)
    other = ours.readings["needle_red"]
    assert not truth.behind(other, starter).any()
    assert not truth.runs(other, starter)


def test_car_that_only_starts_hard_is_not_said_not_to_crank(ours: Library) -> None:
    """Both stand on the ladder of starting; stale fuel is behind the one complaint and not behind the other."""
    truth = arrival(1, OWN, ours).truth
    stale = np.zeros(len(truth.model.faults), dtype=bool)
    stale[truth.model.column[FaultAt("fuel_stale", ENGINE)]] = True
    kinds = truth.model.library.readings
    assert truth.complains(kinds["hard_start"], stale).tolist() == [True]
    assert truth.complains(kinds["does_not_crank"], stale).tolist() == [False]


def test_asked_again_shows_the_same(car: SimulatedCar) -> None:
    """A second look at the same thing is no new evidence."""
    ask = Ask("compression", Place("cylinder", "2"))
    assert car.read(ask) == car.read(ask)


def test_dead_plug_is_seen_and_gone_with_a_new_one(car: SimulatedCar) -> None:
    """One fault alone: it is behind the complaint or not by the ladders; a new plug ends it."""
    at = FaultAt("plug_gap_closed", Place("cylinder", "2"))
    car = only(car, at)
    new_plug = Repair(
        id="replaced plug", name="", fixes=(at,), minutes=10.0, do="replaced", part="plug", place=at.place
    )
    assert car.repair(new_plug) is True
    assert not car.present.any()
    assert car.repair(new_plug) is False
    assert [entry.body.do for entry in car.entries[-2:]] == ["replaced", "replaced"]  # type: ignore[union-attr]


def test_swap_moves_the_fault_with_its_part(car: SimulatedCar) -> None:
    """What was wrong with the plug of 2 is wrong with the plug of 3 then."""
    here, there = (FaultAt("plug_gap_closed", Place("cylinder", number)) for number in "23")
    car = only(car, here)
    car.swap("plug", here.place, there.place, [])
    assert car.present[car.model.column[there]] and not car.present[car.model.column[here]]


def test_good_car_has_no_complaint_and_nothing_behind(car: SimulatedCar) -> None:
    """With nothing wrong the road test never shows the complaint."""
    car = only(car)
    assert car.behind() == [] and not car.has_complaint()
    assert not any(car.drive() for _ in range(20))


def test_road_test_misses_one_complaint_in_twenty(car: SimulatedCar) -> None:
    """The share stated in the module, within what 400 drives can tell (four standard errors)."""
    shows = [car.drive() for _ in range(400)]
    assert abs(np.mean(shows) - 0.95) < 4.0 * np.sqrt(0.95 * 0.05 / 400)


def test_each_fault_behind_gives_the_complaint(ours: Library) -> None:
    """Each alone does; where none does it takes them all: without any one of them the complaint is gone."""
    alone = together = 0
    for seed in range(1, 25):
        car = SimulatedCar(arrival(seed, OWN, ours))
        behind = car.behind()
        assert set(behind) <= set(car.arrival.faults)
        gives = [only(car, at).has_complaint() for at in behind]
        assert all(gives) or not any(gives), seed
        if behind and not any(gives):
            together += 1
            for at in behind:
                rest = [other for other in car.arrival.faults if other != at]
                assert only(car, *car.arrival.faults).has_complaint() and not only(car, *rest).has_complaint(), seed
        alone += bool(behind) and all(gives)
    assert alone > 10, (alone, together)


def test_running_checks_show_nothing_on_an_engine_that_does_not_run(car: SimulatedCar, ours: Library) -> None:
    """No idle vacuum without an idle: of thirty such readings at most a few are taken."""
    dead = next(
        at
        for at in car.model.faults
        if any(act.on == "start" and act.level == "no crank" for act in ours.faults[at.fault].acts)
    )
    car = only(car, dead)
    assert car.runs() == "no crank"
    running = [kind for kind in ours.readings.values() if kind.when == "hot idle" and kind.place == "engine"][:30]
    assert sum(car.read(Ask(kind.id, ENGINE)) is not None for kind in running) <= 3
    assert sum(only(car).read(Ask(kind.id, ENGINE)) is not None for kind in running) == len(running) > 10


def test_numbers_fall_as_the_spread_says() -> None:
    """Mean and share of open ends over 2000 draws; without gross errors. Bell 100 and 5, meter 2 % besides."""
    levels = {"good": Spread(at=100.0, spread=5.0, open=0.25), "bad": Spread(low=1.0, high=2.0)}
    kind = ReadingKind(
        id="r", name="r", place="engine", source="memory", levels=("good", "bad"), spread=levels, gross=0.0
    )
    ladder = Ladder(id="own", name="own", place="engine", levels=kind.levels)
    dice = np.random.default_rng(2011)
    drawn = [drawn_number(kind, ladder, 0, 1.0, dice) for _ in range(2000)]
    values = np.array([value.number for value in drawn if value.sense == "exact"])
    assert abs(1.0 - len(values) / 2000 - 0.25) < 4.0 * np.sqrt(0.25 * 0.75 / 2000)
    assert abs(values.mean() - 100.0) < 4.0 * np.hypot(5.0, 2.0) / np.sqrt(len(values))
    assert values.std() == pytest.approx(np.hypot(5.0, 2.0), rel=0.08)


def test_repair_works_as_surely_as_the_cure_of_its_own_part(car: SimulatedCar, ours: Library) -> None:
    """Two cures of one kind for two parts: what is repaired decides which chance holds."""
    fault = ours.faults["plug_gap_closed"]
    sure, vain = (
        structs.replace(fault.cures[0], do="repaired", part=part, works=works)
        for part, works in (("plug", 1.0), ("lead", 0.0))
    )
    faults = {**ours.faults, fault.id: structs.replace(fault, cures=(sure, vain))}
    at = FaultAt(fault.id, Place("cylinder", "2"))
    for part, left in (("lead", True), ("plug", False)):
        one = only(car, at)
        one.library = structs.replace(ours, faults=faults)
        one.repair(Repair(id=part, name="", fixes=(at,), minutes=1.0, do="repaired", part=part, place=at.place))
        assert one.present[one.model.column[at]] == left, part


def test_prices_are_the_fixed_ones() -> None:
    """40 an hour, 20 minutes, 3 hours and 100: by hand 13.33 and 220."""
    prices = Prices()
    assert prices.road_test == pytest.approx(13.3333, abs=1e-3)
    assert prices.comeback == pytest.approx(220.0)


def test_engine_that_does_not_run_is_said_so(car: SimulatedCar, ours: Library) -> None:
    """Who wanted to listen to the idle writes down that there is none."""
    dead = next(
        at
        for at in car.model.faults
        if any(act.on == "start" and act.level == "no crank" for act in ours.faults[at.fault].acts)
    )
    running = [kind for kind in ours.readings.values() if kind.when == "hot idle" and kind.place == "engine"][:5]
    shown = only(car, dead).check([Ask(kind.id, ENGINE) for kind in running])
    assert shown[-1].kind == "starting" and shown[-1].word in ("no crank", "cranks dead", "fires and dies")


GAP = FaultAt("plug_gap_closed", Place("cylinder", "2"))


def taking_in_half(ours: Library, do: str) -> tuple[Library, Repair]:
    """Ours with a cure of a closed gap that works in half of the cars, and that repair."""
    fault = ours.faults[GAP.fault]
    cure = structs.replace(fault.cures[0], do=do, part="plug", works=0.5)
    library = structs.replace(ours, faults={**ours.faults, fault.id: structs.replace(fault, cures=(cure,))})
    return library, Repair(id=f"{do} plug", name="", fixes=(GAP,), minutes=1.0, do=do, part="plug", place=GAP.place)


def seeded(car: SimulatedCar, library: Library, seed: int) -> SimulatedCar:
    """The car with the closed gap alone, of another seed."""
    one = only(car, GAP)
    one.library = library
    one.arrival = replace(one.arrival, seed=seed)
    return one


def test_a_repair_comes_out_alike_whatever_was_done_before_it(car: SimulatedCar, ours: Library) -> None:
    """Ways of working do not differ by luck: a cleaning that takes in half of the cars takes in the same cars."""
    library, cleaning = taking_in_half(ours, "cleaned")

    def left_on(seed: int, *looks: Ask) -> bool:
        one = seeded(car, library, seed)
        one.check(looks)
        one.repair(cleaning)
        return bool(one.present.any())

    before = [left_on(seed) for seed in range(40)]
    assert 8 < sum(before) < 32
    assert before == [left_on(seed, Ask("compression", GAP.place)) for seed in range(40)]


def test_a_second_try_is_another_throw(car: SimulatedCar, ours: Library) -> None:
    """A cure of others' making, made until it takes, is not bound to fail for ever as it failed first."""
    library, filling = taking_in_half(ours, "refilled")
    for seed in range(10):
        one = seeded(car, library, seed)
        tries = sum(one.repair(filling) for _ in range(30))
        assert tries < 30
        assert not one.present.any()
