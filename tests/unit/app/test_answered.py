"""Which readings would only be repeated, and when a complaint is no false alarm."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.app.answered import answered, seen_again
from knowngood.app.complained import behind_complaints
from knowngood.app.possible import RUNNING, impossible_now
from knowngood.app.state import State, state_of
from knowngood.app.tasks import Planned
from knowngood.car import ENGINE, Place
from knowngood.evidence import Body, CarFact, Entry, Reading, Work
from knowngood.library.load import load

ONE, TWO = Place("cylinder", "1"), Place("cylinder", "2")
SHAKES = Reading(kind="shakes", word="yes")


def state_after(*bodies: Body) -> State:
    """A four with these entries, a day apart."""
    every = (CarFact("cylinders", "4"), *bodies)
    return state_of(
        load(),
        [Entry(id=str(i), at=f"2026-01-{i + 1:02d}", entered="2026-01-01", body=body) for i, body in enumerate(every)],
    )


def test_only_work_on_what_a_reading_sees_opens_it_again() -> None:
    """A new plug in 1 changes how the plug of 1 looks; the fan, and the plug of 2, are as they were."""
    plugs = tuple(Reading(kind="plug_look", place=place, word="black") for place in (ONE, TWO))
    fan = Reading(kind="fan_runs", word="comes on when hot")
    before = answered(state_after(SHAKES, *plugs, fan))
    after = answered(state_after(SHAKES, *plugs, fan, Work(do="replaced", part="plug", places=(ONE,))))
    assert {("plug_look", ONE), ("plug_look", TWO), ("fan_runs", ENGINE)} <= before
    assert ("plug_look", ONE) not in after
    assert {("plug_look", TWO), ("fan_runs", ENGINE)} <= after


def test_work_that_no_fault_hears_opens_nothing() -> None:
    """Cleaning what is not cured by cleaning leaves every answer standing."""
    look = Reading(kind="plug_look", place=ONE, word="black")
    assert ("plug_look", ONE) in answered(state_after(SHAKES, look, Work(do="cleaned", part="fan_switch")))


def test_complaint_seen_twice_with_nothing_done_is_no_false_alarm() -> None:
    """Said once it may be nothing; a failed road test says that something is wrong; work opens the question again."""
    plug = Work(do="replaced", part="plug", places=(ONE,))
    no = Reading(kind="shakes", word="no")
    assert not seen_again(state_after(SHAKES))
    assert seen_again(state_after(SHAKES, SHAKES))
    assert seen_again(state_after(SHAKES, plug, SHAKES))
    assert not seen_again(state_after(SHAKES, plug, SHAKES, plug))
    assert not seen_again(state_after(SHAKES, SHAKES, no))
    assert not seen_again(state_after(SHAKES, no, SHAKES))


def test_no_answer_is_no_complaint() -> None:
    """Whoever could not tell whether it shakes has neither seen it again nor seen it gone."""
    unsure = Reading(kind="shakes", word="could not tell")
    assert not seen_again(state_after(SHAKES, unsure))
    assert seen_again(state_after(SHAKES, unsure, SHAKES))
    assert behind_complaints(state_after(unsure)) == frozenset()
    assert behind_complaints(state_after(SHAKES, unsure)) == behind_complaints(state_after(SHAKES))
    wash = Work(do="replaced", part="plug", places=(ONE,))
    assert "plug" in state_after(unsure, wash).car.last_done  # work before any trouble may have caused it
    assert state_after(SHAKES, wash).car.last_done == ()


def test_no_answer_to_starting_is_no_start() -> None:
    """What was said last still holds."""
    starting = [Reading(kind="starting", word=word) for word in ("cranks dead", "could not tell", "starts")]
    assert impossible_now(state_after(*starting[:2])) == frozenset(RUNNING)
    assert impossible_now(state_after(*starting)) == frozenset()


def test_after_a_failed_road_test_something_is_wrong_in_every_fault_set() -> None:
    """The planner is not told of sets in which nothing matters; before, it was."""
    once, twice = state_after(SHAKES), state_after(SHAKES, SHAKES)
    drawn = [Planned(state).scenarios(2000, np.random.default_rng(1)) for state in (once, twice)]
    assert [bool(each.matters.any(axis=1).all()) for each in drawn if each.matters is not None] == [False, True]
    assert drawn[1].weight.sum() == pytest.approx(1.0)


def test_that_it_does_not_start_is_no_complaint_seen_again() -> None:
    """Every check that needs it running finds that once more; what was complained of may be another job."""
    dead = Reading(kind="starting", word="no crank")
    assert not seen_again(state_after(dead, dead))
    assert not seen_again(state_after(SHAKES, dead, dead))
    assert seen_again(state_after(SHAKES, dead, SHAKES))
