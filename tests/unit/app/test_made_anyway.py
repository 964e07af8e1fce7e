"""A repair that is made anyway comes before a check that mostly tells whether it is needed."""

from __future__ import annotations

from knowngood.app.example import BEFORE_WORK, example_lines
from knowngood.app.made_anyway import MOSTLY, made_anyway
from knowngood.app.next_steps import IN_VAIN_IS_LESS, Advised
from knowngood.app.telling import tells, which_is_behind
from knowngood.app.weigh import weigh_notes
from knowngood.library.load import load
from knowngood.planner.problem import CheckAt, Repair
from knowngood.planner.steps import Step
from tests.told import advised_after

CAR = "4 cylinders inline, coil on plug, port injection, flow meter\nslow crank\n"
EXAMPLE = "\n".join(example_lines(BEFORE_WORK))
LOSS = "battery 12.5 rested, 10.9 cranking\ndrop engine to body while cranking 0.9 V\n"


def step_of(told: Advised, name: str) -> Step:
    """The step that is called so."""
    return next(step for step in told.advice.steps if step.action.name == name)


def test_a_strap_with_a_loss_over_it_is_put_right_before_the_start_is_heard_again() -> None:
    """0.9 V lost in the ground while cranking (over 0.2 V to 0.5 V is bad: common practice): the strap, at once."""
    first = weigh_notes(CAR + LOSS, load()).next[0]
    assert (first.do, first.what) == ("reseat", "engine_ground")
    assert first.why.startswith("About 9 in 10 that something is wrong there, and this puts it right.")


def test_without_the_loss_a_check_comes_first() -> None:
    """A slow crank alone has many causes; no repair is cheaper in vain than a look."""
    first = weigh_notes(CAR, load()).next[0]
    assert first.do in ("look", "measure")
    assert IN_VAIN_IS_LESS not in first.why


def test_a_check_of_something_else_keeps_its_place() -> None:
    """Only a check that tells less than half once the strap is right gives way to it."""
    state, told = advised_after(EXAMPLE)
    strap = step_of(told, "reseat engine ground strap")
    assert isinstance(strap.action, Repair)
    kinds = which_is_behind(state)
    gave_way = {
        step.action.name: made_anyway(state, told.problem, step, (step, strap), kinds) is strap
        for step in told.advice.steps
        if isinstance(step.action, CheckAt) and step.action.asks
    }
    assert gave_way["jump lead as a second engine ground"]
    assert not gave_way["Small hoses looked over, pulled, bent"]


def test_with_its_faults_gone_a_check_tells_less_of_them() -> None:
    """A second ground tells mostly of the strap: with it right, less than half is left."""
    state, told = advised_after(EXAMPLE)
    gone = tuple(at for at in state.belief.faults if at.fault == "engine_ground_poor")
    kinds = which_is_behind(state)
    check = step_of(told, "jump lead as a second engine ground").action
    assert isinstance(check, CheckAt)
    still = tells(state, check, which_is_behind(state, len(kinds), gone), gone)
    assert 0.0 < still < MOSTLY * tells(state, check, kinds)
