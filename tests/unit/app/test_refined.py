"""Next steps worked out further: as long as one waits, and said when that changes them."""

from __future__ import annotations

import itertools

import pytest

from knowngood.app.next_steps import advised, next_steps
from knowngood.app.refined import refined
from knowngood.app.state import State, state_of
from knowngood.library.load import load
from tests.told import state_after


@pytest.fixture(scope="module")
def state() -> State:
    """A small car that misses on one cylinder."""
    return state_after("4 cylinders in line, coil on plug, port injection, 180000 km", "P0302 stored", "shakes at idle")


def test_no_time_gives_the_first_answer(state: State) -> None:
    """With no second to spare the steps are those one had."""
    told = refined(state, 0.0, clock=itertools.count().__next__)
    assert told is not None
    assert told.steps == next_steps(state, advised(state))
    assert (told.changed, told.points, told.ended) == ("", 0, False)


def test_as_many_points_as_there_is_time_for(state: State) -> None:
    """A clock that goes one on at each look, three seconds: the first look is before, so two points are priced."""
    heard = []
    told = refined(state, 3.0, clock=itertools.count().__next__, heard=heard.append)
    assert told is not None
    assert [played.done for played in heard] == [0, 1, 2]
    assert told.points == 2


def test_ends_where_the_rest_is_not_wanted_any_more(state: State) -> None:
    """Not for want of time: the steps priced so far stand."""
    told = refined(
        state,
        3.0,
        clock=itertools.repeat(0.0).__next__,
        wanted=itertools.chain([True], itertools.repeat(False)).__next__,
    )
    assert told is not None
    assert (told.points, told.ended) == (1, False)


def test_nothing_known_to_be_wrong() -> None:
    """Then there is nothing to play through."""
    assert refined(state_of(load(), ()), 1.0) is None
