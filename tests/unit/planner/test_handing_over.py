"""Handing a car over with something left: a price like any other, and the cheapest end is found."""

from __future__ import annotations

import pytest

from knowngood.planner.advice import Advice, advise
from tests.naive.toy_belief import independent, one_of
from tests.unit.planner.small import check, repair, shows, told

A, B = repair("A", 10.0), repair("B", 100.0)


def advice(hand_over: float | None, **more: object) -> Advice:
    """Either A or B is there, as likely; A costs 10, B 100, the proof nothing."""
    return advise(told(one_of({"A": 0.5, "B": 0.5}), [A, B], hand_over=hand_over, **more))


@pytest.mark.parametrize(
    ("price", "first", "cost"),
    [
        (8.0, "hand_over", 8.0),  # A first: 10, and in half of the cars 8 on top
        (30.0, "A", 25.0),  # 10, and 30 where it was B
        (90.0, "A", 55.0),  # 10, and 90 where it was B; B itself would be 100
        (150.0, "A", 60.0),  # 10, and 100 where it was B: nothing is left
        (None, "A", 60.0),
    ],
)
def test_cheapest_end_by_hand(price: float | None, first: str, cost: float) -> None:
    """What is left costs its price once, in the cars in which it is left."""
    found = advice(price)
    assert (found.step.action.id, found.step.cost) == (first, pytest.approx(cost))


def test_look_decides_between_repair_and_handing_over() -> None:
    """A look for 1 says which it is: A is put right for 10, B handed over for 30; 1 + 0.5 x 10 + 0.5 x 30."""
    belief = one_of({"A": 0.5, "B": 0.5}, {"look": shows("A")})
    found = advise(told(belief, [A, B], [check("look", 1.0)], hand_over=30.0))
    assert (found.step.action.id, found.step.cost) == ("look", pytest.approx(21.0))


def test_nothing_is_left_where_nothing_was_there() -> None:
    """Nine cars in ten have nothing: proving is free, and one in ten is handed over for 30."""
    found = advise(told(independent({"B": 0.1}, bad=False), [B], hand_over=30.0))
    assert found.step.cost == pytest.approx(3.0)


def test_fault_without_a_repair_is_handed_over() -> None:
    """C cannot be put right: its price is paid in any case, and A is put right only where that ends it."""
    belief = one_of({"A": 0.5, "C": 0.5})
    assert advise(told(belief, [A], hand_over=30.0)).step.cost == pytest.approx(25.0)
    assert advise(told(belief, [A], hand_over=15.0)).step.action.id == "hand_over"
