"""What is counted where fault sets are drawn: looking on, what was left out, and outcomes no draw shows."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.planner.advice import advise
from knowngood.planner.board import foresight
from knowngood.planner.pricing import LOOKED_ON, Pricing
from knowngood.planner.problem import Problem
from tests.naive.toy_belief import Toy, independent, one_of
from tests.unit.planner.small import check, repair, shows, told

NAMES = [f"f{index}" for index in range(12)]


def many() -> Toy:
    """Twelve independent faults, more sets than draws, each with a noisy reading."""
    chances = {name: 0.05 + 0.02 * index for index, name in enumerate(NAMES)}
    return independent(chances, {name: shows(name, 0.9, 0.05) for name in NAMES})


def drawn(**more: object) -> Problem:
    repairs = [repair(name, 20.0 + 9.0 * index) for index, name in enumerate(NAMES)]
    checks = [check(name, 1.0 + index, name) for index, name in enumerate(NAMES)]
    return told(many(), repairs, checks, proof_minutes=15.0, **more)


def test_price_on_draws_lies_between_knowing_and_repairing_blind() -> None:
    """Own price, knowing, and the share of what repairing blind after it costs more than knowing."""
    pricing = Pricing(drawn(), seed=1, most=200)
    assert not pricing.scenarios.exact and pricing.looked_on == LOOKED_ON
    assert pricing.least == pytest.approx(float(pricing.board.weight @ foresight(pricing.board)))
    for option in pricing.priced(pricing.shortlist(6)):
        left = float(option.left.sum())
        assert pricing.onward_of(option) == pytest.approx(
            option.own + pricing.least + LOOKED_ON * (left - pricing.least)
        )
    advice = advise(drawn(), seed=1, most=200)
    assert pricing.least < advice.step.cost < advice.replace_now


def test_price_with_all_sets_known_is_what_it_was() -> None:
    """Where nothing is drawn, repairing blind is counted whole."""
    belief = one_of({"A": 0.5, "B": 0.5}, {"a": shows("A")})
    pricing = Pricing(told(belief, [repair("A", 30.0), repair("B", 30.0)], [check("a", 2.0)]), seed=1, most=200)
    assert pricing.looked_on == 1.0
    assert pricing.onward(40.0) == 40.0


def test_check_is_made_where_it_saves_its_price_out_of_the_share() -> None:
    """A check at a price between the share and the whole of what it saves is left; under the share it is made."""
    pricing = Pricing(drawn(), seed=1, most=200)
    (option, *_) = (
        one for one in pricing.priced(pricing.shortlist(12)) if pricing.problem.checks[one.index].id == "f11"
    )
    saved = pricing.base - float(option.left.sum())
    assert saved > 1.0

    def first(price: float) -> str:
        repairs = drawn().repairs
        problem = told(many(), repairs, [check("look", price, "f11")], proof_minutes=15.0)
        return advise(problem, seed=1, most=200).step.action.id

    assert first(0.5 * LOOKED_ON * saved) == "look"
    assert first(0.9 * saved) != "look"


def test_plan_for_what_no_draw_shows_is_no_way_out() -> None:
    """An outcome without a draw still gets a plan that goes through to the end, not one that does nothing."""
    readings = {**{name: shows(name, 0.9, 0.05) for name in NAMES}, "never": (("yes", "no"), lambda there: (0.0, 1.0))}
    chances = {name: 0.05 + 0.02 * index for index, name in enumerate(NAMES)}
    belief = independent(chances, readings)
    problem = told(
        belief, [repair(name, 90.0) for name in NAMES], [check("never", 1.0)], proof_minutes=15.0, comeback_minutes=1.0
    )
    pricing = Pricing(problem, seed=1, most=200)
    (option,) = pricing.priced([(0, pricing.shown(problem.checks[0]))])
    assert min(option.chance) == 0.0
    assert (option.plans.order >= 0).sum(axis=1).min() == len(NAMES)


def test_sets_whose_repairs_were_left_out_do_not_look_finished() -> None:
    """With a repair for one fault only, drawn sets of the others alone count for nothing, not as a sound car."""
    belief = many()
    pricing = Pricing(told(belief, [repair("f11", 30.0)], proof_minutes=15.0), seed=1, most=200)
    column = pricing.problem.column[belief.faults[NAMES.index("f11")]]
    there = pricing.scenarios.present[:, column]
    sound = ~pricing.scenarios.present.any(axis=1)
    assert (pricing.weight[~there & ~sound] == 0.0).all()
    assert pricing.weight.sum() == pytest.approx(1.0)
    assert float(pricing.weight[there].sum()) == pytest.approx(there.sum() / (there | sound).sum())
    assert np.isfinite(pricing.base)
