"""A check after whose every answer the same step comes next comes after that step."""

from __future__ import annotations

from dataclasses import replace

import pytest

from knowngood.app.led_to_anyway import led_to, without_needless_checks
from knowngood.app.next_steps import next_steps
from knowngood.app.weigh import weigh_notes
from knowngood.belief.protocol import Ask, FaultAt
from knowngood.car import ENGINE
from knowngood.library.load import load
from knowngood.planner.problem import CheckAt, Repair
from knowngood.planner.steps import PROVE, After, Moved, Step, as_it_is
from tests.told import advised_after

MOVED_ALONG = (
    "4 cylinders inline, coil on plug, port injection, flow meter\nP0302\nshakes at idle\ncoil 2>3 miss moved\n"
)
AT = FaultAt("coil_dead", ENGINE)
MOVED = Moved(AT, 0.5, 0.1)
COIL, PLUG = (Repair(id=name, name=name, fixes=(AT,), minutes=10.0) for name in ("coil", "plug"))
LAMP, GAUGE = (CheckAt(id=name, name=name, asks=(Ask(name, ENGINE),), minutes=1.0) for name in ("lamp", "gauge"))
ROAD = CheckAt(id=PROVE, name="prove it on the road", asks=(), minutes=20.0, kind=PROVE)


def step(action: Repair | CheckAt, *then: Repair | CheckAt | None) -> Step:
    """A step with as many answers as there are next steps; ``None`` stands for proving it."""
    after = []
    for index, one in enumerate(then):
        repair, check = (one, None) if isinstance(one, Repair) else (None, one)
        after.append(After(f"answer {index}", 1.0 / len(then), MOVED, MOVED, repair, check))
    return Step(action, 100.0, 10.0, 0.0, (), tuple(after))


@pytest.mark.parametrize("then", [COIL, GAUGE])
def test_what_all_answers_lead_to_comes_first(then: Repair | CheckAt) -> None:
    """A repair, or another check; none of the steps is lost."""
    steps = (step(LAMP, then, then), step(PLUG), step(then))
    assert without_needless_checks(steps) == (steps[2], steps[0], steps[1])


def test_a_road_test_that_comes_whatever_is_read_comes_first() -> None:
    """After the repair that may have ended it: no look before the drive that is made in any case."""
    steps = (step(LAMP, None, None), step(PLUG), step(ROAD))
    assert [one.action for one in without_needless_checks(steps)] == [ROAD, LAMP, PLUG]


@pytest.mark.parametrize("then", [(COIL, PLUG), (COIL, None), (COIL, GAUGE), (COIL,), ()])
def test_a_check_whose_answers_differ_keeps_its_place(then: tuple[Repair | CheckAt | None, ...]) -> None:
    """One answer that leads elsewhere is enough; a check with one answer, or none worked out, says nothing."""
    steps = (step(LAMP, *then), step(COIL), step(PLUG), step(ROAD), step(GAUGE))
    assert without_needless_checks(steps) == steps


def test_what_is_led_to_and_is_no_step_changes_nothing() -> None:
    """The repair was left out: it waits until it is known what killed the old part."""
    steps = (step(LAMP, COIL, COIL), step(PLUG))
    assert led_to(steps) is None
    assert without_needless_checks(steps) == steps


def test_two_checks_that_lead_to_each_other_come_to_an_end() -> None:
    """Nothing is lost, and it stops."""
    steps = (step(LAMP, GAUGE, GAUGE), step(GAUGE, LAMP, LAMP))
    assert set(without_needless_checks(steps)) == set(steps)


def test_only_the_first_step_is_foretold() -> None:
    """What follows the others is not worked out for nothing."""
    asked: list[Step] = []

    def foretold(one: Step) -> Step:
        asked.append(one)
        return replace(one, cost=1.0)

    steps = (step(LAMP, COIL, COIL), step(PLUG, None, None), step(COIL))
    first, *_ = without_needless_checks(steps, foretold)
    assert first.action == COIL
    assert [one.action for one in asked] == [LAMP, COIL]


def test_a_coil_that_took_the_miss_with_it_is_replaced_without_another_look() -> None:
    """The swap has told it (common practice): neither the lamp nor cutting an injector is any help."""
    first = weigh_notes(MOVED_ALONG, load()).next[0]
    assert (first.do, first.what, first.place) == ("replace", "coil", "cylinder 3")
    assert first.wait == "the part comes in about 1 day"


def test_it_is_said_why_a_repair_comes_before_a_cheaper_look() -> None:
    """A look a little cheaper whose answers all lead to the coil."""
    state, told = advised_after(MOVED_ALONG)
    coil = next(one for one in told.advice.steps if one.action.name == "replace ignition coil of cylinder 3")
    assert isinstance(coil.action, Repair)
    look = next(one for one in told.advice.steps if one.after)
    look = replace(
        look, cost=coil.cost - 0.1, after=tuple(replace(one, repair=coil.action, check=None) for one in look.after)
    )
    first, second = next_steps(
        state, replace(told, advice=replace(told.advice, steps=(look, coil), flips=(), foretold=as_it_is))
    )
    assert (first.name, second.name) == (coil.action.name, look.action.name)
    assert first.why == (
        "About 9 in 10 that something is wrong there, and this puts it right."
        " Whatever a look first would say, this would come next."
    )


def test_a_repair_that_seldom_works_does_not_promise_to_put_it_right() -> None:
    """Charging brings an old battery back once in four; made again it hardly ever does."""
    notes = "4 cylinders inline, coil on plug, port injection\nslow crank\nbattery 12.5 rested, 9.4 cranking\n"
    state, told = advised_after(notes)
    charge = next(one for one in told.advice.steps if isinstance(one.action, Repair) and one.action.do == "refilled")
    assert isinstance(charge.action, Repair)
    assert charge.action.part == "battery"
    (first,) = next_steps(state, replace(told, advice=replace(told.advice, steps=(charge,), flips=())))
    assert ", and this puts it right about 2 in 10." in first.why
