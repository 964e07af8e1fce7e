"""The advice worked out further: when it changes, when it stops, what it says of its price."""

from __future__ import annotations

import pytest

from knowngood.planner.advice import advise
from knowngood.planner.candidates import Candidate
from knowngood.planner.pricing import Pricing
from knowngood.planner.refine import _in_order, refine
from knowngood.planner.rollout import Played
from knowngood.planner.steps import Step
from tests.naive.toy_belief import independent, one_of
from tests.unit.planner.small import check, repair, shows, told, which


def three(price: float = 5.0, **more):
    """One of three faults, a check that tells which."""
    return told(
        one_of({"A": 0.5, "B": 0.3, "C": 0.2}, {"t": which("A", "B", "C")}),
        [repair("A", 30.0), repair("B", 40.0), repair("C", 50.0)],
        [check("t", price)],
        **more,
    )


def many():
    """Twelve independent faults: more sets than are priced, so that they are drawn."""
    names = "ABCDEFGHIJKL"
    readings = {name.lower(): shows(name, sees=0.9, false_alarm=0.05) for name in names}
    return told(
        independent(dict.fromkeys(names, 0.3), readings),
        [repair(name, 10.0 + 7.0 * at) for at, name in enumerate(names)],
        [check(name.lower(), 2.0 + at) for at, name in enumerate(names)],
        proof_minutes=5.0,
    )


def test_worked_case_keeps_its_price() -> None:
    """A 0.5 at 30, B 0.3 at 40, C 0.2 at 50, told apart for 5: 5 + 37 = 42, also when played through."""
    advice = refine(three())
    assert advice.step.action.id == "t"
    assert advice.step.cost == pytest.approx(42.0)
    assert advice.changed_from is None
    assert advice.played > 0


def test_stops_when_told_to() -> None:
    """The caller hears of every point and ends it; what there is by then is the answer."""
    heard: list[Played] = []

    def twice(played: Played) -> bool:
        heard.append(played)
        return len(heard) < 2

    advice = refine(three(), go_on=twice)
    assert len(heard) == 2
    assert advice.played == heard[-1].done == 1


def test_not_waiting_at_all_gives_the_first_answer() -> None:
    """Ended at once, prices and order are those of the first answer."""
    first, at_once = advise(three()), refine(three(), go_on=lambda played: False)
    assert [step.cost for step in at_once.steps] == pytest.approx([step.cost for step in first.steps])
    assert at_once.played == 0


@pytest.mark.parametrize(("other", "order"), [(41.5, ["t", "u"]), (30.0, ["u", "t"])])
def test_first_step_gives_way_only_to_what_is_better_by_more_than_a_toss_up(other: float, order: list[str]) -> None:
    """42 against 41.5 is a toss-up (3 %), against 30 it is not; either way each stands once."""
    pricing = Pricing(told(three().belief, (), [check("t", 1.0), check("u", 1.0, "t")]), seed=1, most=100)
    played = [
        Candidate(Step(action, cost, 1.0, 0.0, ()))
        for action, cost in zip(pricing.problem.checks, (42.0, other), strict=True)
    ]
    assert [one.step.action.id for one in _in_order(played, pricing)] == order


def test_same_seed_same_refined_advice() -> None:
    """Draws and luck come from the seed alone."""
    once, again = (refine(many(), most=100, go_on=lambda played: played.done < 6) for _ in range(2))
    assert [(step.action.id, step.cost) for step in once.steps] == [(s.action.id, s.cost) for s in again.steps]


def test_price_on_draws_has_an_error() -> None:
    """One standard error where fault sets are drawn, smaller with more of them; none where all are known."""
    few, more = advise(many(), most=100).step, advise(many(), most=400).step
    assert few.error is not None and more.error is not None
    assert more.error < few.error
    assert advise(three()).step.error is None


def test_bound_is_shown_only_where_it_says_something() -> None:
    """One fault for sure: nothing can be cheaper. Three alike without a check: far from what foresight pays."""
    sure = told(one_of({"A": 1.0}), [repair("A", 30.0)], proof_minutes=3.0)
    assert advise(sure).within == pytest.approx(0.0)
    vague = told(one_of({"A": 0.34, "B": 0.33, "C": 0.33}), [repair(name, 30.0) for name in "ABC"])
    assert advise(vague).within is None
