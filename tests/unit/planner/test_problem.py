"""Access, prices, and what swapping and fitting do to fault sets."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.belief.protocol import FaultAt
from knowngood.errors import Refused
from knowngood.planner.problem import AccessGraph, AccessTime, CheckAt, Problem, Repair, put_right, swapped
from tests.naive.toy_belief import ask, fault, one_of

STEPS = {
    "cover": AccessTime(5.0, 4.0),
    "intake": AccessTime(40.0, 50.0, after=("cover", "hose")),
    "hose": AccessTime(2.0, 3.0),
    "rail": AccessTime(15.0, 20.0, after=("intake",)),
}


def test_needed_is_all_that_comes_off_before() -> None:
    """Through as many steps as it takes."""
    access = AccessGraph(STEPS)
    assert access.needed(("rail",)) == {"rail", "intake", "cover", "hose"}
    assert access.needed(("cover",)) == {"cover"}
    assert access.needed(()) == frozenset()


def test_to_open_says_first_things_first() -> None:
    """Nothing comes before what must be off for it; what is off already is not named."""
    assert AccessGraph(STEPS).to_open(("rail",)) == ("cover", "hose", "intake", "rail")
    assert AccessGraph(STEPS, frozenset({"cover", "hose"})).to_open(("rail",)) == ("intake", "rail")
    assert AccessGraph(STEPS, frozenset(STEPS)).to_open(("rail",)) == ()


def test_minutes_from_how_things_stand() -> None:
    """Shared steps are paid once, open ones not at all."""
    access = AccessGraph(STEPS)
    assert access.open_minutes(("rail", "intake")) == 5 + 2 + 40 + 15
    assert access.close_minutes(("rail",)) == 4 + 3 + 50 + 20
    some = AccessGraph(STEPS, frozenset({"cover", "hose", "intake"}))
    assert (some.open_minutes(("rail",)), some.close_minutes(("rail",))) == (15, 20)


def test_circle_of_steps_ends() -> None:
    """Two that wait for each other are both needed; asking does not hang."""
    access = AccessGraph({"a": AccessTime(1.0, after=("b",)), "b": AccessTime(1.0, after=("a",))})
    assert access.needed(("a",)) == {"a", "b"}


def test_step_nobody_described_is_refused() -> None:
    """Word for word, asked for directly or met on the way."""
    words = "There is no access step 'sump'. Describe it, or take it out of what needs it."
    with pytest.raises(Refused) as met:
        AccessGraph(STEPS).needed(("sump",))
    assert str(met.value) == words
    with pytest.raises(Refused) as met:
        AccessGraph({"pan": AccessTime(3.0, after=("sump",))}).to_open(("pan",))
    assert str(met.value) == words


def test_what_may_break_on_the_way_is_counted_from_how_things_stand() -> None:
    """2 on average at the cover, 5 at the rail behind it; nothing of what is off already."""
    steps = {"cover": AccessTime(6.0, 4.0, risk=2.0), "rail": AccessTime(10.0, 8.0, ("cover",), risk=5.0)}
    for off, risk in ((set(), 7.0), ({"cover"}, 5.0), ({"cover", "rail"}, 0.0)):
        assert AccessGraph(steps, frozenset(off)).risk(("rail",)) == risk
    shut = AccessGraph(steps)
    problem = Problem(belief=one_of({"A": 1.0}), repairs=(), rate_per_hour=60.0)
    assert problem.opening_cost(("rail",), shut) == pytest.approx(6.0 + 4.0 + 10.0 + 8.0 + 7.0)


def test_prices() -> None:
    """An hour at 60 is 1 a minute; waiting days and half the price of a tool are paid."""
    priced = Problem(
        belief=one_of({"A": 1.0}),
        repairs=(),
        rate_per_hour=60.0,
        money_per_day=7.0,
        proof_minutes=12.0,
        proof_money=3.0,
        comeback_minutes=100.0,
        comeback_money=50.0,
        tool_share=0.5,
    )
    assert priced.per_minute == 1.0
    assert priced.proof_cost == 15.0
    assert priced.comeback_cost == 150.0
    assert priced.repair_cost(Repair(id="r", name="r", fixes=(), minutes=20.0, money=30.0, wait_days=2.0)) == 64.0
    assert (
        priced.check_cost(CheckAt(id="c", name="c", asks=(ask("c"),), minutes=5.0, money=1.0, tool_price=40.0)) == 26.0
    )


FAULTS: tuple[FaultAt, ...] = tuple(map(fault, ("coil 1", "plug 1", "coil 2", "other")))


def test_swap_moves_the_faults_with_the_part() -> None:
    """Only the two parts change places; twice is as before; what was handed in is untouched."""
    present = np.array([[1, 1, 0, 0], [0, 0, 1, 1], [1, 0, 1, 0], [0, 1, 0, 1]], dtype=bool)
    kept = present.copy()
    swap = swapped(FAULTS, (FAULTS[0],), (FAULTS[2],))
    assert swap(present).astype(int).tolist() == [[0, 1, 1, 0], [1, 0, 0, 1], [1, 0, 1, 0], [0, 1, 0, 1]]
    assert (swap(swap(present)) == present).all()
    assert (present == kept).all()


def test_known_good_part_takes_its_faults_away() -> None:
    """Whatever was there, the named are gone and no other."""
    present = np.ones((1, 4), dtype=bool)
    assert put_right(FAULTS, FAULTS[:2])(present).tolist() == [[False, False, True, True]]
    assert present.all()
