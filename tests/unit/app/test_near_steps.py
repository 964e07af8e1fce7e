"""How what checks tell orders steps that cost as much as each other."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest

from knowngood.app.near_steps import AS_MUCH_SHARE, GETTING_READY, ORDER_SHARE, by_telling
from knowngood.app.telling import tells, which_is_behind
from knowngood.planner.problem import CheckAt, Repair
from knowngood.planner.steps import Step
from tests.told import advised_after

NOTES = "4 cylinders inline, coil on plug, port injection\nP0302, shakes\n"


def test_steps_of_like_price_stand_by_what_they_tell() -> None:
    """Near ones change places, dearer ones keep theirs, and none is lost."""
    state, told = advised_after(NOTES)
    cost = told.advice.steps[0].cost
    even = tuple(replace(step, cost=cost + 0.01 * index) for index, step in enumerate(told.advice.steps[:6]))
    dear = tuple(replace(step, cost=10 * cost) for step in told.advice.steps[6:8])
    ordered = by_telling(state, told.problem, (*even, *dear))
    assert set(map(id, ordered)) == set(map(id, (*even, *dear)))
    assert ordered[len(even) :] == dear
    kinds = which_is_behind(state)
    told = [
        tells(state, step.action, kinds) / (told.problem.per_minute * (step.minutes + GETTING_READY) + step.money)
        if isinstance(step.action, CheckAt)
        else 0.0
        for step in ordered[: len(even)]
    ]
    for one, after in pairwise(told):
        assert after <= one / AS_MUCH_SHARE + 1e-9
    assert told[0] >= AS_MUCH_SHARE * max(told) > 0.0


def test_a_dearer_repair_is_not_drawn_forward() -> None:
    """Checks a tenth dearer than the first are ordered by what they tell; a repair as much dearer stays behind."""
    state, told = advised_after(NOTES)
    checks = [step for step in told.advice.steps if isinstance(step.action, CheckAt) and step.action.asks]
    repairs = [step for step in told.advice.steps if not isinstance(step.action, CheckAt)]
    assert len(checks) > 3
    assert repairs
    best, *others = by_telling(state, told.problem, [replace(step, cost=400.0) for step in checks])
    cheap = [replace(step, cost=400.0) for step in others[-3:]]  # those before tell about as much
    dearer = replace(best, cost=400.0 * (1.0 + 0.9 * ORDER_SHARE))
    repair = replace(repairs[0], cost=dearer.cost)
    ordered = by_telling(state, told.problem, (*cheap, dearer, repair))
    assert ordered[0] is dearer
    assert ordered[-1] is repair


def test_a_check_dearer_than_going_on_without_it_is_not_drawn_forward() -> None:
    """However much it tells: made later, or not at all, it costs less."""
    state, told = advised_after(NOTES)
    assert told.advice.steps[0].cost < told.advice.unlooked
    checks = [step for step in told.advice.steps if isinstance(step.action, CheckAt) and step.action.asks]
    best, *others = by_telling(state, told.problem, [replace(step, cost=400.0) for step in checks])
    cheap, dear = replace(others[-1], cost=400.0), replace(best, cost=410.0)
    assert by_telling(state, told.problem, (cheap, dear))[0] is dear
    assert by_telling(state, told.problem, (cheap, dear), unlooked=420.0)[0] is dear
    assert by_telling(state, told.problem, (cheap, dear), unlooked=405.0) == (cheap, dear)
    assert by_telling(state, told.problem, (cheap, dear), unlooked=395.0) == (cheap, dear)


def test_what_has_to_be_waited_for_comes_after_what_can_be_done_at_once() -> None:
    """Of steps of like price one whose tool is away comes last, however much it tells."""
    state, told = advised_after(NOTES)
    cost = told.advice.steps[0].cost
    even = tuple(replace(step, cost=cost) for step in told.advice.steps[:5])
    first, *others = by_telling(state, told.problem, even)
    away = replace(first, action=replace(first.action, wait_days=2.0))
    ordered = by_telling(state, told.problem, (away, *others))
    assert ordered[-1] is away
    assert by_telling(state, told.problem, (first, *others))[0] is first


@pytest.mark.parametrize("wait_days", [0.0, 1.0])
def test_repair_that_is_cheapest_is_not_put_off_by_a_check_that_costs_a_little_more(wait_days: float) -> None:
    """A check of two minutes is always within what the draws can tell; before a repair it must save its price.

    That the part comes tomorrow makes no check worth more: the waiting is in the price.
    """
    state, told = advised_after(NOTES)
    problem = replace(told.problem, money_per_day=0.0)
    check = replace(next(step for step in told.advice.steps if isinstance(step.action, CheckAt)), cost=101.3)
    action = replace(problem.repairs[0], wait_days=wait_days)
    repair = Step(action, 100.0, 0.5, 0.0, ())  # half a minute: the check takes one
    assert by_telling(state, problem, (repair, check)) == (repair, check)
    assert by_telling(state, problem, (check, replace(repair, cost=102.0)))[0] is check


def test_checks_that_tell_a_little_less_than_nothing_end_the_ordering(monkeypatch: pytest.MonkeyPatch) -> None:
    """Rounding leaves bits just under 0; all steps stay, none is waited for for ever."""
    state, told = advised_after(NOTES)
    monkeypatch.setattr("knowngood.app.near_steps.tells", lambda *_, **__: -1e-17)
    steps = [replace(step, cost=400.0) for step in told.advice.steps if isinstance(step.action, CheckAt)]
    assert by_telling(state, told.problem, steps) == tuple(steps)


def test_other_work_is_no_better_for_being_at_hand() -> None:
    """Where the cheapest repair waits for its part and no check is near, a dearer repair does not come before it."""
    state, told = advised_after(NOTES)
    one, other, *_ = (step for step in told.advice.steps if isinstance(step.action, Repair))
    ordered_part = replace(one, cost=300.0, action=replace(one.action, wait_days=2.0))
    at_hand = replace(other, cost=302.0)
    assert by_telling(state, told.problem, (ordered_part, at_hand)) == (ordered_part, at_hand)
