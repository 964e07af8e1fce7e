"""What is counted where fault sets are drawn: looking on, what was left out, and outcomes no draw shows."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.planner.advice import advise
from knowngood.planner.board import foresight
from knowngood.planner.candidates import in_vain_of
from knowngood.planner.pricing import Pricing
from knowngood.planner.problem import CheckAt, Problem
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
    """Own price, knowing, and what looking on costs of what repairing blind after each outcome costs more."""
    pricing = Pricing(drawn(), seed=1, most=200)
    assert not pricing.scenarios.exact and pricing.looks_on
    assert pricing.least == pytest.approx(float(pricing.board.weight @ foresight(pricing.board)))
    for option in pricing.priced(pricing.shortlist(6)):
        known = pricing.joint(option.shown.like) @ pricing.seen_all
        blind = (pricing.joint(option.shown.like) * option.plans.each).sum(axis=1)
        assert (option.left >= known - 1e-9).all()
        assert (option.left <= np.maximum(blind, known) + 1e-9).all()
        waste = (blind - known) / option.chance
        if (blind <= pricing.joint(option.shown.like) @ pricing.pool.min(axis=0)).all():
            assert option.left == pytest.approx(known + option.chance * pricing.looking.paid(waste))
    advice = advise(drawn(), seed=1, most=200)
    assert pricing.least < advice.step.cost < advice.replace_now


def test_price_with_all_sets_known_is_what_it_was() -> None:
    """Where nothing is drawn, repairing blind is counted whole."""
    belief = one_of({"A": 0.5, "B": 0.5}, {"a": shows("A")})
    pricing = Pricing(told(belief, [repair("A", 30.0), repair("B", 30.0)], [check("a", 2.0)]), seed=1, most=200)
    assert not pricing.looks_on
    (option,) = pricing.priced(pricing.shortlist(6))
    assert option.left.sum() == pytest.approx((pricing.joint(option.shown.like) * option.plans.each).sum())
    assert pricing.unlooked == pricing.base


def test_a_plan_found_for_one_check_is_there_for_all() -> None:
    """No check is worth more because a better plan happened to be found after it: each is priced with all plans."""
    pricing = Pricing(drawn(), seed=1, most=200)
    before = len(pricing.pool)
    options = pricing.priced(pricing.shortlist(12))
    assert len(pricing.pool) > before
    every = np.concatenate([pricing.pool, *(option.plans.each for option in options)])
    for option in options:
        rows = pricing.joint(option.shown.like)
        blind, known, chance = (rows @ every.T).min(axis=1), rows @ pricing.seen_all, option.chance
        assert option.left == pytest.approx(pricing.onward(blind, known, chance))
    assert pricing.base <= float((every @ pricing.board.weight).min()) + 1e-6


def test_the_best_check_saves_more_than_it_costs() -> None:
    """What a nat costs is an average over a row of checks, so the best of them saves something, and not each does."""
    pricing = Pricing(drawn(), seed=1, most=200)
    costs = [option.cost for option in pricing.priced(pricing.shortlist(12))]
    assert min(costs) < pricing.unlooked < max(costs)


def test_check_that_costs_more_than_all_it_saves_is_not_made() -> None:
    """A single check under what it saves is made; one dearer than all it saves is not."""
    pricing = Pricing(drawn(), seed=1, most=200)
    (shown,) = (one for one in pricing.shortlist(12) if pricing.problem.checks[one[0]].id == "f11")
    plans = pricing.priced([shown])[0].plans
    saved = pricing.base - float((pricing.joint(shown[1].like) * plans.each).sum())
    assert saved > 1.0

    def first(price: float) -> str:
        problem = told(many(), drawn().repairs, [check("look", price, "f11")], proof_minutes=15.0)
        return advise(problem, seed=1, most=200).step.action.id

    assert first(0.05 * saved) == "look"
    assert first(1.2 * saved) != "look"


def test_repair_that_may_end_it_comes_before_a_row_of_checks() -> None:
    """What is needed in nine cases of ten and may be all there is is put right and driven, then the rest is sought."""
    chances = {"f0": 0.9, **dict.fromkeys(NAMES[1:], 0.03)}
    belief = independent(chances, {name: shows(name, 0.9, 0.05) for name in NAMES})
    repairs = [repair(name, 20.0) for name in NAMES]
    checks = [check(name, 3.0, name) for name in NAMES[1:]]
    advice = advise(told(belief, repairs, checks, proof_minutes=10.0), seed=1, most=200)
    assert advice.step.action.id == repairs[0].id


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


def test_a_repair_first_adds_at_most_what_it_costs_in_vain() -> None:
    """To the best plan that looks first: 20 x (1 - 0.9) where it is needed in nine of ten, and it is no dearer."""
    chances = {name: 0.9 if name == "f0" else 0.05 for name in NAMES}
    belief = independent(chances, {name: shows(name, 0.9, 0.05) for name in NAMES})
    problem = told(belief, drawn().repairs, drawn().checks, proof_minutes=15.0)
    pricing = Pricing(problem, seed=1, most=200)
    row = [one.id for one in pricing.board.repairs].index("f0")
    column = list(problem.belief.faults).index(problem.repairs[0].fixes[0])
    needed = float(pricing.weight @ pricing.scenarios.present[:, column])
    assert in_vain_of(pricing)[row] == pytest.approx(20.0 * (1.0 - needed))
    steps = advise(problem, seed=1, most=200).steps
    looks = min(step.cost for step in steps if step.after)
    (first,) = (step for step in steps if step.action.id == "f0" and not step.after)
    assert first.cost <= looks + 20.0 * (1.0 - needed) + 1e-6


@pytest.mark.parametrize("seed", range(6))
def test_a_check_that_tells_nothing_is_never_first(seed: int) -> None:
    """Repairs are priced with all plans, too: else the best plan seems to need the check it was found for."""
    chances = {name: 0.05 + 0.02 * index for index, name in enumerate(NAMES)}
    belief = independent(chances, {name: shows(name, 0.5, 0.5) for name in NAMES})
    repairs = [repair(name, 20.0 + 9.0 * index) for index, name in enumerate(NAMES)]
    problem = told(belief, repairs, [check(name, 0.01, name) for name in NAMES], proof_minutes=15.0)
    advice = advise(problem, seed=seed, most=200)
    assert not isinstance(advice.step.action, CheckAt) or not advice.step.action.asks
    assert advice.step.cost <= advice.replace_now + 1e-6
