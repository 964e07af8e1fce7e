"""Ways of working: what they pay, when they stop, how they are compared."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from knowngood.app.possible import must_not_run
from knowngood.app.state import state_of
from knowngood.belief.protocol import FaultAt
from knowngood.car import ENGINE
from knowngood.evidence import Reading
from knowngood.library.load import load
from knowngood.library.records import Library
from knowngood.planner.problem import Repair
from knowngood.proving import policies
from knowngood.proving.__main__ import of_ways
from knowngood.proving.asked import Asked
from knowngood.proving.policies import WAYS, Outcome, figures_of_ways, table_of_ways
from knowngood.proving.simulated import Prices, SimulatedCar
from knowngood.proving.simulated_arrivals import ROAD_TEST_SEES, SEEN_FOR_NOTHING, arrival, as_met
from knowngood.proving.simulated_bay import GIVEN_UP, MOST_STEPS, Account, Bay, knows_the_faults, run
from knowngood.proving.simulated_ours import problem_now
from knowngood.proving.simulated_rules import chance_over_cost, cheapest_part_first, likeliest_first
from knowngood.proving.simulated_worlds import OWN

RELAY = FaultAt("fan_relay_dead", ENGINE)


@pytest.fixture(scope="module")
def ours() -> Library:
    """The library as it is."""
    return load()


@pytest.fixture
def bay(ours: Library) -> Bay:
    """A car whose complaint comes from a dead relay of the fan alone."""
    came = replace(arrival(1, OWN, ours), complaint="needle_red")
    present = np.zeros_like(came.present)
    present[came.truth.model.column[RELAY]] = True
    return Bay(SimulatedCar(replace(came, present=present)), ours)


def test_who_knows_the_faults_pays_one_repair_and_one_road_test(bay: Bay) -> None:
    """By hand from the library: minutes of the cure and of a road test, the price of the relay."""
    cure = bay.cure(RELAY)
    account = run(knows_the_faults, bay)
    assert (account.repairs, account.road_tests, account.checks, account.left) == (1, 1, 0, 0)
    assert account.minutes == pytest.approx(cure.minutes + Bay(bay.car, bay.library).access_minutes(cure.access) + 20.0)
    assert account.total(Prices()) == pytest.approx(account.minutes * 40.0 / 60.0 + cure.money)


def test_who_knows_the_faults_comes_to_an_end_where_no_repair_takes(bay: Bay, monkeypatch: pytest.MonkeyPatch) -> None:
    """After sixty repairs in vain it is driven and handed over, and whoever gets it gives up after as many."""
    cure = bay.cure(RELAY)
    monkeypatch.setattr(SimulatedCar, "repair", lambda *_: False)
    account = run(knows_the_faults, bay)
    assert (account.repairs, account.road_tests, account.left) == (MOST_STEPS, 1, 1)
    assert account.money == pytest.approx(2 * MOST_STEPS * cure.money + Prices().comeback_money)


def test_no_gate_keeps_the_program_from_driving_where_none_keeps_others(bay: Bay, ours: Library) -> None:
    """Oil found too low shuts the road to whoever asks the gates; the bay leaves them out for every way of working."""
    bay.car.tell(Reading(kind="oil_there_look", word=ours.readings["oil_there_look"].words[-1]))
    assert must_not_run(state_of(ours, bay.car.entries))
    assert problem_now(bay)[1].may_prove


def test_the_program_knows_the_complaint_as_the_car_has_it(ours: Library) -> None:
    """A lamp that may be on is no complaint of a simulated car, so it speaks for nothing that is behind one."""
    assert {level: words["yes"] for level, words in as_met(ours.readings["lamp_on"]).chance.items()} == pytest.approx(
        {"off": SEEN_FOR_NOTHING, "may be on": SEEN_FOR_NOTHING, "on": ROAD_TEST_SEES, "blinks": ROAD_TEST_SEES}
    )
    came = replace(arrival(1, OWN, ours), complaint="lamp_on")
    assert Bay(SimulatedCar(came), ours).library.readings["lamp_on"] == as_met(ours.readings["lamp_on"])


def test_access_is_paid_once_until_the_next_drive(bay: Bay) -> None:
    """Two repairs behind one cover cost its minutes once; after a drive it is paid again."""
    step = next(name for name, times in bay.graph.steps.items() if times.open_minutes > 0 and not times.after)
    times = bay.graph.steps[step]
    repair = Repair(id="look", name="", fixes=(), minutes=10.0, do="cleaned", part="none", access=(step,))
    bay.repair(repair)
    bay.repair(repair)
    assert bay.account.minutes == pytest.approx(20.0 + times.open_minutes + times.close_minutes)
    bay.drive()
    assert bay.access_minutes((step,)) == pytest.approx(times.open_minutes + times.close_minutes)


def test_part_bought_for_a_good_one_is_counted(bay: Bay) -> None:
    """Cleaning what is clean is no wrong part; a new one for a good one is."""
    good = Repair(id="a", name="", fixes=(), minutes=1.0, money=30.0, do="replaced", part="thermostat")
    bay.repair(good)
    bay.repair(replace(good, do="cleaned", money=0.0))
    assert (bay.account.wrong_parts, bay.account.money) == (1, 30.0)


def test_who_never_finds_it_hands_the_car_over(bay: Bay) -> None:
    """After the most steps: what is left is counted, a comeback is paid, and somebody who knows mends it."""
    account = run(lambda bay: bool(bay.drive()), bay)
    assert account.left == 1
    assert account.road_tests == MOST_STEPS
    assert account.money >= 100.0 * (1 + account.comebacks)


@pytest.mark.parametrize("way", ["chance_over_cost", "likeliest", "by_price", "textbook"])
def test_plain_ways_end_with_the_car_repaired(way: str, bay: Bay) -> None:
    """A car with one cheap fault behind its complaint is repaired by each of them."""
    account = run(WAYS[way](), bay)
    assert bay.over and not bay.car.has_complaint() and account.left == 0


def test_orders_are_what_they_are_called() -> None:
    """Three repairs by hand: chances 0.5, 0.3, 0.2; prices 100, 20, 50; parts 10, 15, 0."""
    chance, price, part = np.array([0.5, 0.3, 0.2]), np.array([100.0, 20.0, 50.0]), np.array([10.0, 15.0, 0.0])
    first = [int(way().order(chance, price, part).argmax()) for way in (likeliest_first, chance_over_cost)]
    assert first == [0, 1]
    assert int(cheapest_part_first().order(chance, price, part).argmax()) == 2


def outcomes(way: str, totals: list[float]) -> list[Outcome]:
    return [Outcome(seed, way, Account(wrong_parts=seed % 2), total) for seed, total in enumerate(totals)]


def test_shares_of_excess_by_hand() -> None:
    """Means 100, 120, 150, 200 with the faults known, ours, plain and textbook: 1.2, 20/50, 20/100."""
    found = {
        "knows": outcomes("knows", [80.0, 120.0]),
        "ours": outcomes("ours", [100.0, 140.0]),
        "voi1": outcomes("voi1", [100.0, 200.0]),
        "textbook": outcomes("textbook", [150.0, 250.0]),
    }
    figures = figures_of_ways(found)
    assert figures["planner.over_omniscient_c4"].value == pytest.approx(1.2)
    assert figures["planner.excess_share_of_voi1"].value == pytest.approx(0.4)
    assert figures["planner.excess_share_of_textbook"].value == pytest.approx(0.2)
    assert figures["planner.excess_share_of_voi1.textbook"].value == pytest.approx(2.0)
    assert figures["planner.excess_share_of_textbook.voi1"].value == pytest.approx(0.5)
    assert figures["planner.wrong_parts"].value == pytest.approx(0.5)
    assert figures["planner.excess_share_of_voi1"].holds and not figures["planner.wrong_parts"].holds
    assert table_of_ways(found)["ours"]["median"] == pytest.approx(120.0)


def test_a_car_nobody_can_put_right_counts_for_no_way(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nor one with nothing behind its complaint; a car that only one way gives up counts."""
    accounts = {
        (1, "knows"): Account(),
        (1, "ours"): Account(left=1),
        (2, "knows"): Account(left=1),
        (2, "ours"): Account(),
        (3, "knows"): None,
        (3, "ours"): None,
    }
    outcomes = [Outcome(seed, way, account) for (seed, way), account in accounts.items()]
    monkeypatch.setattr(policies, "spread", lambda *_, **__: outcomes)
    found = policies.compare([1, 2, 3], ["knows", "ours"])
    assert {way: [one.seed for one in every] for way, every in found.items()} == {"knows": [1], "ours": [1]}


def test_luck_of_road_tests_is_evened_by_hand() -> None:
    """Two road tests in vain, one of which passed: 220 for the comeback go, twice 5 % of 220 come."""
    account = Account(road_tests=3, comebacks=1)
    assert Outcome(1, "ours", account, 500.0).evened(Prices()) == pytest.approx(500.0 - 220.0 + 2 * 0.05 * 220.0)
    account.pay(GIVEN_UP, "handed over", 0.0)
    assert Outcome(1, "ours", account, 500.0).evened(Prices()) == pytest.approx(500.0 - 220.0 + 3 * 0.05 * 220.0)


def test_evening_luck_leaves_the_mean_and_narrows_it() -> None:
    """Cars driven until a test passes, a repair that works in 1 of 3 before each: same mean, less spread."""
    rng = np.random.default_rng(4)
    plain, evened = [], []
    for _ in range(4000):
        account, done = Account(), False
        while not done:
            done = bool(rng.random() < 1 / 3)
            account.road_tests += 1
            account.comebacks += not done and bool(rng.random() < 0.05)
        one = Outcome(1, "ours", account, 220.0 * account.comebacks)
        plain.append(one.total)
        evened.append(one.evened(Prices()))
    assert np.mean(evened) == pytest.approx(np.mean(plain), abs=4.0 * np.std(plain) / np.sqrt(4000))
    assert np.mean(evened) == pytest.approx(220.0 * 0.05 * 2.0, rel=0.05)  # two in vain on average
    assert np.std(evened) < 0.5 * np.std(plain)


def test_full_run_counts_the_cheap_ways_on_many_cars(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Those that ask the program on as many as asked for; 500 cars for the others, told besides."""
    asked_for: list[tuple[int, tuple[str, ...]]] = []

    def compared(seeds: list[int], ways: tuple[str, ...]) -> dict[str, list[Outcome]]:
        asked_for.append((len(seeds), tuple(ways)))
        return {way: outcomes(way, [100.0, 120.0]) for way in ways}

    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(policies, "compare", compared)
    figures = of_ways(Asked(full=True, cars=3))
    assert asked_for == [(3, policies.USUAL), (500, policies.CHEAP)]
    assert figures["planner.over_omniscient_c4.textbook_many"].value == pytest.approx(1.0)
    kept = json.loads((tmp_path / "docs" / "figures" / "ways.json").read_text())
    assert set(kept["many"]) == set(policies.CHEAP) and set(kept["ways"]) == set(policies.USUAL)
