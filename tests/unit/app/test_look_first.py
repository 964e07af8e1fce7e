"""No repair comes before a look that costs less than it spares."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from knowngood.app.look_first import look_first, spared
from knowngood.planner.problem import CheckAt, Repair
from knowngood.planner.steps import Step
from tests.told import advised_after

HALF = np.arange(10) < 5


def test_a_sure_look_spares_all_that_is_bought_in_vain() -> None:
    """30 in half of the cases."""
    sure = np.stack([HALF, ~HALF]).astype(float)
    assert spared(sure, HALF, 30.0) == pytest.approx(15.0)


def test_a_look_that_says_nothing_spares_nothing() -> None:
    """The same chances in every draw; nor where the repair is never needed, or always."""
    coin = np.full((2, 10), 0.5)
    assert spared(coin, HALF, 30.0) == pytest.approx(0.0)
    sure = np.stack([HALF, ~HALF]).astype(float)
    assert spared(sure, np.zeros(10, dtype=bool), 30.0) == 0.0
    assert spared(sure, np.ones(10, dtype=bool), 30.0) == pytest.approx(0.0)


def test_a_look_that_errs_spares_less_by_hand() -> None:
    """Sees 8 of 10, errs in 1 of 10, needed in 5 of 10: "no" comes in 0.55 and leaves 0.1 / 0.55 = 0.1818; so
    30 x 0.55 x (0.5 - 0.1818) / 0.5 = 10.5."""
    like = np.where(HALF, 0.8, 0.1)
    assert spared(np.stack([like, 1.0 - like]), HALF, 30.0) == pytest.approx(10.5)


def test_a_dear_part_waits_for_a_look_a_cheap_one_does_not() -> None:
    """The same repair at 0.10 and at 500: what may be bought in vain decides."""
    state, advice = advised_after("4 cylinders inline, coil on plug, port injection, flow meter\nwhistles\n")
    steps = advice.advice.steps
    looks = [step for step in steps if isinstance(step.action, CheckAt) and step.action.asks]
    buy = next(step for step in steps if isinstance(step.action, Repair) and step.action.do == "replaced")
    assert look_first(state, advice.problem, priced(buy, 0.1), looks) is None
    look = look_first(state, advice.problem, priced(buy, 500.0), looks)
    assert look in looks


def test_days_of_waiting_in_vain_are_spared_too() -> None:
    """The same cheap part where it comes after fifty days at 10 a day."""
    state, advice = advised_after("4 cylinders inline, coil on plug, port injection, flow meter\nwhistles\n")
    steps = advice.advice.steps
    looks = [step for step in steps if isinstance(step.action, CheckAt) and step.action.asks]
    buy = next(step for step in steps if isinstance(step.action, Repair) and step.action.do == "replaced")
    late = replace(priced(buy, 0.1), action=replace(buy.action, wait_days=50.0))
    assert look_first(state, advice.problem, late, looks) in looks
    assert look_first(state, replace(advice.problem, money_per_day=0.0), late, looks) is None


def test_a_look_that_leads_nowhere_else_is_not_made_however_dear_the_part() -> None:
    """At 500 a look may spare much at most; where each answer is priced with what comes next and spares less, none."""
    state, advice = advised_after("4 cylinders inline, coil on plug, port injection, flow meter\nwhistles\n")
    steps = advice.advice.steps
    looks = [step for step in steps if isinstance(step.action, CheckAt) and step.action.asks]
    buy = priced(
        next(step for step in steps if isinstance(step.action, Repair) and step.action.do == "replaced"), 500.0
    )
    best = look_first(state, advice.problem, buy, looks)
    assert best is not None
    assert look_first(state, advice.problem, buy, looks, lambda look, _: 0.0) is None
    other = look_first(state, advice.problem, buy, looks, lambda look, _: 0.0 if look is best else 500.0)
    assert other in looks
    assert other is not best


def priced(step: Step, money: float) -> Step:
    """The same repair in no time at this price."""
    return Step(step.action, step.cost, 0.0, money, ())
