"""Parts that were fitted and not needed go back: what that does to prices and to what comes first."""

from __future__ import annotations

import pytest

from knowngood.planner.advice import Advice, advise
from knowngood.planner.problem import CheckAt, Repair
from tests.naive.toy_belief import one_of
from tests.unit.planner.small import check, repair, shows, told


def two(refund: float, *checks: CheckAt) -> Advice:
    """A or B, evenly; A at 35, of which some comes back, B at 30."""
    belief = one_of({"A": 0.5, "B": 0.5}, {"a": shows("A")})
    return advise(told(belief, [repair("A", 35.0, refund=refund), repair("B", 30.0)], checks))


def test_dearer_part_that_goes_back_comes_first() -> None:
    """A first: 35 + 0.5 x 30 = 50, less 0.5 x 20 = 40; B first: 30 + 0.5 x 35 = 47.5."""
    assert two(0.0).step.action.id == "B"
    assert two(0.0).step.cost == pytest.approx(47.5)
    assert two(20.0).step.action.id == "A"
    assert two(20.0).step.cost == pytest.approx(40.0)


def test_a_check_is_worth_less_where_the_wrong_part_goes_back() -> None:
    """Knowing saves 15 without a return (47.5 - 32.5) and 7.5 with one (40 - 32.5): a check at 10 is made, or not."""
    assert two(0.0, check("a", 10.0)).step.action.id == "a"
    assert two(20.0, check("a", 10.0)).step.action.id == "A"


def test_nothing_comes_back_of_a_part_that_was_needed() -> None:
    """A alone, surely: its whole price."""
    belief = one_of({"A": 1.0}, {})
    advice = advise(told(belief, [repair("A", 35.0, refund=20.0)]))
    assert isinstance(advice.step.action, Repair)
    assert advice.step.cost == pytest.approx(35.0)
