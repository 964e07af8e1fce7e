"""Of what would change the advice only what is near is said; a swap names its places once."""

from __future__ import annotations

from dataclasses import replace

import pytest

from knowngood.app.next_steps import FAR_OFF, Advised, next_steps
from knowngood.app.state import State
from knowngood.planner.steps import Flip
from tests.told import advised_after

NOTES = "4 cylinders inline, coil on plug, port injection\nP0302, shakes\n"


@pytest.fixture(scope="module")
def told() -> tuple[State, Advised]:
    """A car that shakes on cylinder 2, and what the planner says of it."""
    return advised_after(NOTES)


@pytest.mark.parametrize(
    ("times", "is_said"), [(1.5, True), (0.5, True), (FAR_OFF + 0.1, False), (1 / (FAR_OFF + 0.1), False), (90, False)]
)
def test_flip_far_off_is_not_said(told: tuple[State, Advised], times: float, *, is_said: bool) -> None:
    """A step of eight minutes that would have to take twelve hours is as good as sure to be first."""
    state, found = told
    first, other = found.advice.steps[:2]
    other = replace(other, cost=10.0 * first.cost)  # no toss-up
    flip = Flip(first.action, "minutes", 8.0, 8.0 * times, other.action)
    advice = replace(found.advice, steps=(first, other), flips=(flip,), toss_up=False)
    said = next_steps(state, replace(found, advice=advice))
    assert not said[0].toss_up
    assert bool(said[0].flips) is is_said


def test_step_named_amid_a_sentence_begins_small(told: tuple[State, Advised]) -> None:
    """It is a heading elsewhere."""
    state, found = told
    first, other = found.advice.steps[:2]
    flip = Flip(first.action, "minutes", 8.0, 12.0, replace(other.action, name="Rail out with its injectors"))
    advice = replace(found.advice, steps=(first, replace(other, cost=10.0 * first.cost)), flips=(flip,), toss_up=False)
    said = next_steps(state, replace(found, advice=advice))
    assert said[0].flips == ["If this took over 12 min, this would come first: rail out with its injectors."]


def test_swap_names_its_places_once(told: tuple[State, Advised]) -> None:
    """``swap ignition coil of cylinder 2 with cylinder 4``, and no place behind it."""
    state, found = told
    swaps = [step.name for step in next_steps(state, found) if step.do == "swap"]
    assert swaps
    assert all(name.count("cylinder") == 2 for name in swaps)
