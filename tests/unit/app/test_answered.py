"""Which readings would only be repeated, and what no answer says."""

from __future__ import annotations

from knowngood.app.answered import answered
from knowngood.app.complained import behind_complaints
from knowngood.app.possible import RUNNING, impossible_now
from knowngood.app.seen_again import Again, seen_again
from knowngood.car import ENGINE, Place
from knowngood.evidence import Reading, Work
from tests.told import state_with

ONE, TWO = Place("cylinder", "1"), Place("cylinder", "2")
SHAKES = Reading(kind="shakes", word="yes")


def test_only_work_on_what_a_reading_sees_opens_it_again() -> None:
    """A new plug in 1 changes how the plug of 1 looks; the fan, and the plug of 2, are as they were."""
    plugs = tuple(Reading(kind="plug_look", place=place, word="black") for place in (ONE, TWO))
    fan = Reading(kind="fan_runs", word="comes on when hot")
    before = answered(state_with(SHAKES, *plugs, fan))
    after = answered(state_with(SHAKES, *plugs, fan, Work(do="replaced", part="plug", places=(ONE,))))
    assert {("plug_look", ONE), ("plug_look", TWO), ("fan_runs", ENGINE)} <= before
    assert ("plug_look", ONE) not in after
    assert {("plug_look", TWO), ("fan_runs", ENGINE)} <= after


def test_work_that_no_fault_hears_opens_nothing() -> None:
    """Cleaning what is not cured by cleaning leaves every answer standing."""
    look = Reading(kind="plug_look", place=ONE, word="black")
    assert ("plug_look", ONE) in answered(state_with(SHAKES, look, Work(do="cleaned", part="fan_switch")))


def test_no_answer_is_no_complaint() -> None:
    """Whoever could not tell whether it shakes has neither seen it again nor seen it gone."""
    unsure = Reading(kind="shakes", word="could not tell")
    assert seen_again(state_with(SHAKES, unsure)) == Again()
    assert seen_again(state_with(SHAKES, unsure, SHAKES)) == Again(now=frozenset({"shakes"}))
    assert behind_complaints(state_with(unsure)) == frozenset()
    assert behind_complaints(state_with(SHAKES, unsure)) == behind_complaints(state_with(SHAKES))
    wash = Work(do="replaced", part="plug", places=(ONE,))
    assert "plug" in state_with(unsure, wash).car.last_done  # work before any trouble may have caused it
    assert state_with(SHAKES, wash).car.last_done == ()


def test_no_answer_to_starting_is_no_start() -> None:
    """What was said last still holds."""
    starting = [Reading(kind="starting", word=word) for word in ("cranks dead", "could not tell", "starts")]
    assert impossible_now(state_with(*starting[:2])) == frozenset(RUNNING)
    assert impossible_now(state_with(*starting)) == frozenset()
