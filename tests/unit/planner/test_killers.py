"""What killed it? A new part waits while what killed the old one may still stand."""

from __future__ import annotations

import pytest

from knowngood.planner.advice import advise
from knowngood.planner.candidates import Candidate
from knowngood.planner.killers import held_back
from knowngood.planner.pricing import Pricing
from knowngood.planner.problem import Problem
from knowngood.planner.refine import refine
from knowngood.planner.steps import Step
from tests.naive.toy_belief import fault, sets_of
from tests.unit.planner.small import check, repair, shows, told

WIRE = (fault("wire"),)


def dead_driver(wire: float, checks: bool = True, look: float = 1.0, **more) -> Problem:
    """The driver D is dead for sure; its wire is chafed with this chance. A look shows the wire."""
    chances = {frozenset({"D", "wire"}): wire, frozenset({"D"}): 1.0 - wire}
    belief = sets_of(chances, {"look": shows("wire")})
    return told(
        belief,
        [repair("D", 100.0, killed_by=WIRE), repair("wire", 30.0)],
        [check("look", look)] if checks else [],
        must=frozenset({fault("D")}),
        **more,
    )


def test_replacement_waits_for_the_check() -> None:
    """Wire chafed with 0.2: the look comes first, though looking costs money and the driver is dead anyway."""
    advice = advise(dead_driver(0.2))
    (held,) = advice.held
    assert held.repair.id == "D"
    assert held.by == ((fault("wire"), pytest.approx(0.2)),)
    assert held.check is not None and held.check.id == "look"
    assert advice.step.action.id == "look"
    assert all(step.action.id != "D" for step in advice.steps)


def test_answered_by_readings() -> None:
    """The look was good: nothing is held back. It was bad: the wire comes before the driver."""
    assert advise(dead_driver(0.0)).held == ()
    assert advise(dead_driver(0.0)).step.action.id == "D"
    bad = advise(dead_driver(1.0))
    assert bad.held[0].by[0][1] == pytest.approx(1.0)
    assert (bad.step.action.id, bad.step.cost) == ("wire", pytest.approx(130.0))


@pytest.mark.parametrize(("look", "waits"), [(18.2, True), (18.3, False)])
def test_look_that_costs_more_than_it_saves_holds_nothing_back(look: float, waits: bool) -> None:
    """It moves the wire by 0.2 times 0.8; left standing, it costs a driver of 100 and a comeback of 280 in 3 of 10."""
    advice = advise(dead_driver(0.2, look=look))
    assert bool(advice.held) is waits
    assert advice.step.action.id == ("look" if waits else "D")


@pytest.mark.parametrize(("wire", "waits"), [(0.049, False), (0.051, True)])
def test_one_in_twenty_is_the_line(wire: float, waits: bool) -> None:
    """A cause less likely than 0.05 holds nothing back."""
    assert bool(advise(dead_driver(wire)).held) is waits


def test_chance_is_where_the_part_is_dead() -> None:
    """The wire is chafed in 1 of 100 cars, but in 1 of 10 with a dead driver: that is what counts."""
    chances = {frozenset({"D", "wire"}): 0.01, frozenset({"D"}): 0.09, frozenset({"E"}): 0.9}
    problem = told(
        sets_of(chances, {"look": shows("wire")}),
        [repair("D", 100.0, killed_by=WIRE), repair("E", 1000.0), repair("wire", 30.0)],
        [check("look", 0.1)],
        must=frozenset({fault("D"), fault("E")}),
    )
    (held,) = advise(problem).held
    assert held.by[0][1] == pytest.approx(0.1)


@pytest.mark.parametrize(("wire", "first"), [(0.49, "D"), (0.51, "wire")])
def test_without_a_check_a_likely_cause_is_put_right_first(wire: float, first: str) -> None:
    """Where nothing tells, what is likelier than not comes before the driver; what is not waits for no look."""
    advice = advise(dead_driver(wire, checks=False))
    assert advice.step.action.id == first
    assert [held.check for held in advice.held] == [None] * (first == "wire")


def test_refined_advice_holds_it_back_too() -> None:
    """Played through, it still waits."""
    advice = refine(dead_driver(0.2))
    assert [held.repair.id for held in advice.held] == ["D"]
    assert all(step.action.id != "D" for step in advice.steps)


@pytest.mark.parametrize(("apart", "waits"), [(0.05, False), (0.06, True)])
def test_check_that_hardly_moves_the_cause_holds_nothing_back(apart: float, waits: bool) -> None:
    """Of 0.2 it moves 0.2 times 0.8 times what it tells apart; 3 in 10 of 380 times that is over 1."""
    chances = {frozenset({"D", "wire"}): 0.2, frozenset({"D"}): 0.8}
    problem = told(
        sets_of(chances, {"look": shows("wire", 0.5 + apart / 2.0, 0.5 - apart / 2.0)}),
        [repair("D", 100.0, killed_by=WIRE), repair("wire", 30.0)],
        [check("look", 1.0)],
        must=frozenset({fault("D")}),
    )
    assert bool(advise(problem).held) is waits


def test_part_that_is_dead_in_no_set_is_held_by_nothing() -> None:
    """What killed it is no question then."""
    problem = told(
        sets_of({frozenset({"D", "wire"}): 0.0, frozenset({"E", "wire"}): 1.0}),
        [repair("D", 1.0, killed_by=WIRE), repair("E", 100.0)],
        must=frozenset({fault("D"), fault("E")}),
    )
    first = Candidate(Step(problem.repairs[0], 1.0, 1.0, 0.0, ()), row=0)
    assert held_back(Pricing(problem, seed=0, most=10), [first]) == ([first], ())
