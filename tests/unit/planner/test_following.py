"""What an answer makes one do next, where fault sets are drawn."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from knowngood.planner.advice import advise
from knowngood.planner.beginnings import beginnings, onward_from
from knowngood.planner.candidates import check_candidate, heads_of
from knowngood.planner.following import after_outcome, spared_by
from knowngood.planner.pricing import Pricing
from knowngood.planner.problem import CheckAt, Repair
from knowngood.planner.steps import Advice, Step
from tests.naive.toy_belief import independent, one_of
from tests.unit.planner.small import check, repair, shows, told, which
from tests.unit.planner.test_looking_on import NAMES, drawn

SEED, DRAWS = 1, 200


def next_steps(advice: Advice, step: Step) -> dict[str, str]:
    """Outcome -> what is done next then."""
    after = advice.foretold(step).after
    return {one.outcome: (one.check or one.repair).id if one.check or one.repair else "prove" for one in after}


def test_a_sure_answer_leads_to_its_repair() -> None:
    """One of five faults, more sets than draws: the check that says which leads to that one's repair at once."""
    names = [f"f{index}" for index in range(5)]
    belief = one_of(dict.fromkeys(names, 0.2), {"which": which(*names)})
    problem = told(belief, [repair(name, 30.0) for name in names], [check("which", 1.0)], proof_minutes=15.0)
    advice = advise(problem, seed=SEED, most=4)
    assert not advice.exact
    said = next_steps(advice, next(step for step in advice.steps if step.action.id == "which"))
    assert len(said) > 1
    assert all(then == outcome for outcome, then in said.items())


@pytest.mark.parametrize("index", [0, 1, 2])
def test_every_outcome_leads_on(index: int) -> None:
    """Outcomes stay as they were, and none leads back to the check that was just made."""
    advice = advise(drawn(), seed=SEED, most=DRAWS)
    step = [step for step in advice.steps if step.after][index]
    foretold = advice.foretold(step)
    assert [one.outcome for one in foretold.after] == [one.outcome for one in step.after]
    for one in foretold.after:
        then = one.check or one.repair
        assert then is None or isinstance(then, (CheckAt, Repair))
        assert then is not step.action


def test_weights_after_an_outcome_are_those_of_the_belief() -> None:
    """Bayes by hand on the drawn sets."""
    pricing = Pricing(drawn(), seed=SEED, most=DRAWS)
    (option,) = pricing.priced(pricing.shortlist(12)[:1])
    there = after_outcome(pricing, option, 0)
    joint = option.shown.like[0] * pricing.weight
    assert there.weight == pytest.approx(joint / joint.sum())
    assert there.board.weight.sum() == pytest.approx(1.0)
    assert np.array_equal(pricing.board.weight_of_sets, pricing.weight), "the prices before are left alone"


def test_outcomes_planned_in_one_go_lead_to_what_each_leads_to_alone() -> None:
    """Each first repair costs the same, whatever else is planned beside it; nothing asked, nothing answered."""
    pricing = Pricing(drawn(), seed=SEED, most=DRAWS)
    (option,) = pricing.priced(pricing.shortlist(12)[:1])
    theres = [pricing, *(after_outcome(pricing, option, outcome) for outcome in range(len(option.chance)))]
    begun = [(there, beginnings(there, heads_of(there))) for there in theres]
    alone = [onward_from([one])[0] for one in begun]
    assert len({min(one.cost for one in each.values()) for each in alone}) > 1, "the outcomes differ"
    for together, each in zip(onward_from(begun), alone, strict=True):
        assert list(together) == list(each)
        for head, one in each.items():
            assert (together[head].cost, together[head].share) == pytest.approx((one.cost, one.share))
    assert onward_from([(pricing, []), begun[0]])[0] == {}
    assert onward_from([]) == []


def test_where_all_sets_are_known_it_stays_as_it_was_planned() -> None:
    """Plans after a check are planned through there."""
    belief = one_of({"A": 0.5, "B": 0.5}, {"a": shows("A")})
    advice = advise(told(belief, [repair("A", 30.0), repair("B", 30.0)], [check("a", 2.0)]))
    assert advice.exact
    assert advice.foretold(advice.step) is advice.step
    assert advice.foretold(replace(advice.step, cost=1.0)).cost == 1.0


def one_of_five() -> tuple[Advice, Repair]:
    """Five faults, one of them there, f0 in 6 of 10; a check that says which."""
    names = [f"f{index}" for index in range(5)]
    chances = {name: 0.6 if name == "f0" else 0.1 for name in names}
    belief = one_of(chances, {"which": which(*names)})
    repairs = [repair(name, 100.0) for name in names]
    return advise(told(belief, repairs, [check("which", 1.0)], proof_minutes=15.0), seed=SEED, most=4), repairs[0]


def of(advice: Advice, name: str) -> Step:
    """The check of this name."""
    return next(step for step in advice.steps if step.action.id == name)


def test_a_sure_look_spares_all_that_the_repair_at_once_wastes() -> None:
    """Another repair is needed after each of the other answers: there the 100 for f0 are in vain."""
    advice, first = one_of_five()
    assert not advice.exact
    look = of(advice, "which")
    vain = sum(one.chance for one in look.after if one.outcome != "f0")
    assert 0.0 < vain < 1.0
    assert advice.spared_by(look, first) == pytest.approx(100.0 * vain, rel=1e-6)


def test_a_look_that_leads_nowhere_else_spares_nothing() -> None:
    """f0 is there in nine of ten; a hint that moves f3 from 3 in 100 to 4 or 2 makes nobody do something else first."""
    chances = {"f0": 0.9, **dict.fromkeys(NAMES[1:], 0.03)}
    belief = independent(chances, {"hint": shows("f3", 0.6, 0.4)})
    repairs = [repair(name, 20.0) for name in NAMES]
    pricing = Pricing(told(belief, repairs, [check("hint", 1.0)], proof_minutes=15.0), seed=SEED, most=DRAWS)
    (option,) = pricing.priced([(0, pricing.shown(pricing.problem.checks[0]))])
    hint = check_candidate(pricing, option)
    assert len(hint.step.after) == 2
    assert spared_by(pricing, [hint], hint.step, repairs[0]) == pytest.approx(0.0, abs=1e-9)
    assert spared_by(pricing, [hint], hint.step, repairs[5]) == pytest.approx(0.0, abs=0.5)  # f0 does without a look


def test_of_what_is_no_check_nothing_is_known() -> None:
    """Proving and repairing, and a repair that nobody plans."""
    advice, first = one_of_five()
    assert (
        advice.spared_by(next(step for step in advice.steps if step.action is not first), repair("other", 1.0))
        == np.inf
    )
    assert advice.spared_by(next(step for step in advice.steps if isinstance(step.action, Repair)), first) == np.inf
