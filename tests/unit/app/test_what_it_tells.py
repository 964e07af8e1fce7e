"""What a check is said to be made for: suspects that its answers move, not what a draw or two happened to move."""

from __future__ import annotations

import pytest

from knowngood.app.fault_words import fault_words
from knowngood.app.next_steps import advised, next_steps
from knowngood.app.state import State
from knowngood.app.what_it_tells import LITTLE_NEW, MOVED, WITHOUT_ANSWERS, likely_then, tells_something, what_it_tells
from knowngood.planner.problem import CheckAt
from knowngood.planner.steps import Step
from tests.told import advised_after, state_after


def _steps(said: str) -> tuple[State, list[Step]]:
    lines = f"4 cylinders inline, coil on plug, port injection\n{said}\n"
    state, told = advised_after(lines)
    return state, [step for step in told.advice.steps if isinstance(step.action, CheckAt) and step.after]


@pytest.mark.parametrize("said", ["slow crank", "P0302, shakes", "lt b1 +19 idle, +4 2500"])
def test_both_that_are_told_apart_rise_by_an_answer(said: str) -> None:
    """Each by an answer of its own, and by the belief after it, worked out anew: none is a rival by chance."""
    state, steps = _steps(said)
    told = [step for step in steps if what_it_tells(state, step).startswith("It tells ")]
    assert told
    for step in told:
        words = what_it_tells(state, step)
        named = {after.leading.at for after in step.after if fault_words(state, after.leading.at) in words}
        assert len(named) == 2
        if len(step.action.asks) > 1 or step.action.after is not None:
            continue
        (ask,) = step.action.asks
        _, under = state.belief.outcome_chances(ask)
        for at in named:
            column = state.belief.model.column[at]
            rise = under[:, column].max() - state.belief.chances()[column]
            assert rise >= 0.6 * MOVED, (step.action.name, at)  # prices are worked out on some of the draws


def test_a_weak_battery_is_what_the_volts_while_cranking_tell() -> None:
    """Not the rarest cause that a rare answer raises most."""
    state, steps = _steps("slow crank")
    (step,) = [step for step in steps if {ask.reading for ask in step.action.asks} == {"battery_cranking"}]
    assert what_it_tells(state, step).startswith("It tells battery aged: weak (about ")


def test_a_look_that_moves_no_suspect_is_neither_praised_nor_made_first() -> None:
    """Air at the exhaust of a low cylinder: the clearance is set; a hand over the oil filler says nothing of it."""
    state = state_after(
        "4 cylinders inline, coil on plug, port injection, flow meter, 160000 km",
        "P0304 stored, shakes at idle",
        "comp 175 172 178 60 psi",
        "leakdown 8 9 7 60",
        "leakdown 4 60% exhaust",
    )
    told = advised(state)
    assert told is not None
    assert next_steps(state, told)[0].name == "set the valve clearance of cylinder 4"
    idle = [step for step in told.advice.steps if isinstance(step.action, CheckAt) and not tells_something(step)]
    assert idle
    said = {what_it_tells(state, step) for step in idle}
    assert said <= {"No answer moves a suspect by much.", *WITHOUT_ANSWERS.values()}


def test_a_row_shows_which_cylinder() -> None:
    """Two cylinders of the same kind are no suspects to be told apart by name."""
    state, steps = _steps("shakes\nmice\nP0300")
    rows = [step for step in steps if step.action.name.endswith("the row") and step.action.after is None]
    assert rows
    said = {what_it_tells(state, step) for step in rows}
    assert "It shows which cylinder it is, and what." in said
    assert all(words.startswith("It shows which cylinder it is") for words in said)


def test_an_answer_that_rules_out_says_so_and_one_that_moves_nothing_names_nobody() -> None:
    """A sound duct hardly changes anything: before, whatever it raised by a hundredth stood there as likely then."""
    state, steps = _steps("lt b1 +19 idle, +4 2500")
    (step,) = [step for step in steps if {ask.reading for ask in step.action.asks} == {"duct_look"}]
    whole = next(after for after in step.after if after.chance > 0.5)
    assert likely_then(state, whole) == LITTLE_NEW
    state, steps = _steps("shakes\nmice\nP0300")
    said = {likely_then(state, after) for step in steps for after in step.after}
    assert any(" only about 1 in " in words for words in said)


def test_a_drive_says_what_it_is_for() -> None:
    """Smooth again with another coil: nothing else pays, and the road tells the rest."""
    lines = ("shakes", "P0302", "swapped coil 2 and 3, miss moved to 3", "new coil in 3, runs smooth")
    text = "\n".join(("4 cylinders inline, coil on plug, port injection", *lines))
    state = state_after(text)
    first, *_ = next_steps(state, advised(state))
    assert (first.name, first.why) == (
        "prove it on the road",
        "No look or repair pays better now: the road shows whether anything is left.",
    )
