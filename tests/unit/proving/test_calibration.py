"""Scores of chances against cars whose truth is known."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from knowngood.app.state import state_of
from knowngood.app.suspects import suspected
from knowngood.errors import ImpossibleEvidence
from knowngood.evidence import Finding, Reading
from knowngood.library.load import load
from knowngood.proving import calibration
from knowngood.proving.calibration import (
    NOT_NAMED,
    Judged,
    _rank,
    brier,
    by_chance_alone,
    ece,
    figures_of_world,
    judged,
    log_score,
    reliability,
)
from knowngood.proving.simulated import SimulatedCar
from knowngood.proving.simulated_arrivals import arrival
from knowngood.proving.simulated_ours import about_the_complaint, gives_complaint
from knowngood.proving.simulated_worlds import OWN


def cars_of(share: float, count: int = 120, suspects: int = 40) -> list[Judged]:
    """Cars whose chances are right when ``share`` is 1, and say too much when it is less."""
    rng = np.random.default_rng(2011)
    result = []
    for seed in range(count):
        chance = rng.uniform(0.01, 0.9, suspects)
        there = (rng.random(suspects) < share * chance).astype(float)
        result.append(Judged(seed, chance, np.full(suspects, 0.3), there, 1 + seed % 4, True))
    return result


def test_brier_and_log_score_by_hand() -> None:
    """Brier 1950: squared gaps; Good 1952: minus the log of what was given to the truth. Two suspects by hand."""
    chance, there = np.array([0.8, 0.4]), np.array([1.0, 0.0])
    assert brier(chance, there) == pytest.approx((0.04 + 0.16) / 2.0)
    assert log_score(chance, there) == pytest.approx(-(np.log(0.8) + np.log(0.6)) / 2.0)
    assert np.isfinite(log_score(np.array([1.0]), np.array([0.0])))


def test_brier_and_log_score_against_a_general_library() -> None:
    """scikit-learn's ``brier_score_loss`` and ``log_loss`` on 500 drawn suspects."""
    from sklearn.metrics import brier_score_loss, log_loss

    rng = np.random.default_rng(2011)
    chance = rng.uniform(0.01, 0.99, 500)
    there = (rng.random(500) < chance).astype(float)
    assert brier(chance, there) == pytest.approx(brier_score_loss(there, chance))
    assert log_score(chance, there) == pytest.approx(log_loss(there, chance))


def test_ece_by_hand() -> None:
    """Ten bins of one each: the mean of the gaps."""
    chance = np.linspace(0.05, 0.95, 10)
    there = np.array([0.0, 1.0] * 5)
    assert ece(chance, there) == pytest.approx(np.abs(chance - there).mean())


def test_bins_hold_equal_counts() -> None:
    """Bins follow the chances, not the order of the cars."""
    said, _, count = reliability(np.array([0.9, 0.1] * 50), np.zeros(100))
    assert count.tolist() == [10.0] * 10
    assert said.tolist() == sorted(said.tolist())


def test_right_chances_have_no_more_ece_than_chance_alone() -> None:
    """Right ones stay near what luck gives; ones that say twice too much do not."""
    right, wrong = cars_of(1.0), cars_of(0.5)
    luck = by_chance_alone(right)
    assert figures_of_world(right, "")["calibration.ece"].value < 2.0 * luck
    assert figures_of_world(wrong, "")["calibration.ece"].value > 0.15


def test_figures_hold_their_goals_and_names() -> None:
    """The suffix of the world, the goal of the world, a car with nothing behind its complaint left out of the ranks."""
    cars = cars_of(1.0, count=20)
    nothing = Judged(99, np.array([0.5]), np.array([0.5]), np.array([1.0]), 0, True)
    figures = figures_of_world([*cars, nothing], "structure")
    assert figures["calibration.ece_structure"].goal == 0.10
    assert figures["calibration.top1_structure"].n == 20
    assert figures["calibration.top3_structure"].value == pytest.approx(0.75)
    assert figures["calibration.ece_structure"].n == 21


def test_car_whose_readings_are_refused_counts_as_one_that_was_missed() -> None:
    """One car named right, one refused: both shares of cars are 1 of 2; chances are scored on the one."""
    chance, nothing = np.array([0.5, 0.2]), np.zeros(0)
    named = Judged(1, chance, chance, np.array([1.0, 0.0]), 1, True, rank_of_complaint=1, expected=0.8)
    refused = Judged(2, nothing, nothing, nothing, 999, False, rank_of_complaint=999, refused=True)
    figures = figures_of_world([named, refused], "")
    for name in ("refused", "top1", "top5", "top1_of_complaint", "exact"):
        assert (figures[f"calibration.{name}"].value, figures[f"calibration.{name}"].n) == (0.5, 2), name
    assert figures["calibration.top3_expected"].value == pytest.approx(0.4)
    assert figures["calibration.ece"].n == figures["calibration.brier"].n == 1
    only = figures_of_world([refused], "early")
    assert (only["calibration.refused_early"].value, only["calibration.top5_early"].value) == (1.0, 0.0)
    assert "calibration.ece_early" not in only


def test_belief_that_will_not_have_the_readings_is_told_of(monkeypatch: pytest.MonkeyPatch) -> None:
    """The car stays among the cars, with nothing named: its cause is missed."""

    def refuse(*_: object) -> None:
        raise ImpossibleEvidence("No faults explain these readings.", "Look at them again.")

    monkeypatch.setattr(calibration, "state_of", refuse)
    car = judged(1, OWN, load(), checks=2)
    assert car.refused and not car.exact and len(car.chance) == 0
    assert car.rank == car.rank_of_complaint == NOT_NAMED


def test_the_sure_are_counted_apart_where_the_belief_doubts_itself() -> None:
    """Four suspects said at 0.95, two of them on a car whose own error bound is large: 2 of 2 there, and 1 of 2."""
    chance, prior = np.array([0.95, 0.95, 0.2]), np.full(3, 0.1)
    firm = Judged(1, chance, prior, np.array([1.0, 1.0, 0.0]), 1, True)
    doubtful = Judged(2, chance, prior, np.array([1.0, 0.0, 0.0]), 1, False, error_bound=0.8)
    figures = figures_of_world([firm, doubtful], "")
    assert (figures["calibration.sure_said"].value, figures["calibration.sure_said"].n) == (0.95, 2)
    assert figures["calibration.sure_there"].value == 1.0
    assert figures["calibration.sure_but_doubtful_there"].value == 0.5
    assert figures["calibration.doubtful"].value == 0.5


def test_what_was_found_beside_the_complaint_is_no_rival_to_its_cause() -> None:
    """A car that shakes and runs hot, its fan relay found dead: the relay leads all suspects, and none of shaking."""
    car = SimulatedCar(replace(arrival(1, OWN, load()), complaint="shakes"))
    car.tell(Reading(kind="needle_red", word="yes"))
    car.tell(Finding(fault="fan_relay_dead", part="fan_relay"))
    state = state_of(load(), car.entries)
    about_shaking = suspected(about_the_complaint(state, gives_complaint(state, "shakes")))
    behind_shaking = {"plug_worn"}
    assert "fan_relay_dead" in suspected(state)[0].kinds
    assert _rank(about_shaking, behind_shaking) < _rank(suspected(state), behind_shaking)
    assert [one.behind for one in about_shaking if "fan_relay_dead" in one.kinds] == [0.0]
    assert about_shaking[0].behind > 0.0


def test_ranks_of_all_and_of_the_complaint_are_counted_apart() -> None:
    """Shares of both by hand, with what the belief expects."""
    chance = np.array([0.5])
    car = Judged(1, chance, chance, np.array([1.0]), 4, True, rank_of_complaint=2, expected=0.9)
    missed = Judged(2, chance, chance, np.array([1.0]), 1, True, rank_of_complaint=7, expected=0.5)
    figures = figures_of_world([car, missed], "")
    assert (figures["calibration.top3"].value, figures["calibration.top3_of_complaint"].value) == (0.5, 0.5)
    assert figures["calibration.top1"].value == 0.5
    assert figures["calibration.top1_of_complaint"].value == 0.0
    assert figures["calibration.top3_expected"].value == pytest.approx(0.7)
