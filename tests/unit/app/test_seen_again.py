"""When a complaint is no false alarm, and which fault sets the planner is then not told of."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.app.planned import Planned
from knowngood.app.seen_again import Again, seen_again
from knowngood.app.telling import which_is_behind
from knowngood.belief.protocol import Scenarios
from knowngood.car import Place
from knowngood.evidence import Body, Reading, Work
from tests.told import state_with

SHAKES, STEADY = (Reading(kind="shakes", word=word) for word in ("yes", "no"))
PLUG = Work(do="replaced", part="plug", places=(Place("cylinder", "1"),))
FAN = Work(do="replaced", part="fan_switch")
NOW, WORKED_ON = Again(now=frozenset({"shakes"})), Again(worked_on=frozenset({"shakes"}))


def planned(*bodies: Body) -> Scenarios:
    """The fault sets the planner is told of after these entries."""
    return Planned(state_with(*bodies)).scenarios(2000, np.random.default_rng(1))


def nothing_left(drawn: Scenarios) -> float:
    """Chance that nothing has to be put right."""
    assert drawn.matters is not None
    return float(drawn.weight @ ~drawn.matters.any(axis=1))


def test_complaint_seen_twice_is_no_false_alarm() -> None:
    """Said once it may be nothing; a failed road test says that something is wrong; work may have put that right."""
    assert seen_again(state_with(SHAKES)) == Again()
    assert seen_again(state_with(SHAKES, SHAKES)) == NOW
    assert seen_again(state_with(SHAKES, PLUG, SHAKES)) == NOW
    assert seen_again(state_with(SHAKES, PLUG, SHAKES, PLUG)) == WORKED_ON
    assert seen_again(state_with(SHAKES, SHAKES, STEADY)) == Again()
    assert seen_again(state_with(SHAKES, STEADY, SHAKES)) == Again()


def test_only_its_own_denial_takes_a_complaint_back() -> None:
    """That it does not stall says nothing of the shaking that was seen twice."""
    assert seen_again(state_with(SHAKES, SHAKES, Reading(kind="stalls", word="no"))) == NOW


def test_work_that_changed_nothing_leaves_it_as_it_is() -> None:
    """Whoever says that the new plug made no difference has seen it since."""
    no_change = Work(do="replaced", part="plug", places=(Place("cylinder", "1"),), effect="no change")
    assert seen_again(state_with(SHAKES, SHAKES, no_change)) == NOW


def test_that_it_does_not_start_is_no_complaint_seen_again() -> None:
    """Every check that needs it running finds that once more; what was complained of may be another job."""
    dead = Reading(kind="starting", word="no crank")
    assert seen_again(state_with(dead, dead)) == Again()
    assert seen_again(state_with(SHAKES, dead, dead)) == Again()
    assert seen_again(state_with(SHAKES, dead, SHAKES)) == NOW


def test_after_a_failed_road_test_something_is_wrong_in_every_fault_set() -> None:
    """The planner is not told of sets in which nothing matters; before, it was."""
    assert nothing_left(planned(SHAKES)) > 0.0
    twice = planned(SHAKES, SHAKES)
    assert nothing_left(twice) == 0.0
    assert twice.weight.sum() == pytest.approx(1.0)


def test_work_ends_it_only_where_it_was_what_was_wrong() -> None:
    """A new switch of the fan cures no shaking; a new plug may, as often as the plug was what shook."""
    plug = state_with(SHAKES, SHAKES)
    was_it = Planned(plug).scenarios(2000, np.random.default_rng(1))
    assert was_it.matters is not None
    plugs = np.array(
        [at.place == PLUG.places[0] and plug.library.faults[at.fault].part == "plug" for at in plug.belief.faults]
    )
    only = was_it.matters[:, plugs].any(axis=1) & ~was_it.matters[:, ~plugs].any(axis=1)
    assert nothing_left(planned(SHAKES, SHAKES, FAN)) == 0.0
    assert nothing_left(planned(SHAKES, SHAKES, PLUG)) == pytest.approx(float(only.mean()), abs=0.03)


def test_a_false_alarm_is_no_suspect_to_be_told_apart() -> None:
    """What a check tells is counted over the sets in which something is wrong, once the shaking was seen again."""
    twice = state_with(SHAKES, SHAKES)
    assert twice.scenarios.matters is not None
    wrong = int(twice.scenarios.matters.any(axis=1).sum())
    assert len(which_is_behind(twice, draws=2000)) <= wrong < 2000
    assert len(which_is_behind(state_with(SHAKES), draws=2000)) == 2000
