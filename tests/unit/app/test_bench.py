"""Work, what is left, and the gates, from what was said."""

from __future__ import annotations

from pathlib import Path

import pytest

from knowngood.app.bench import gate_words, may_of, say_of, work_of
from knowngood.app.stages import stage_words
from knowngood.app.todo import todo_of
from knowngood.app.workshop import Workshop
from knowngood.library.load import load

GATES = tuple(load().gates)


@pytest.fixture
def workshop(tmp_path: Path) -> Workshop:
    """An empty one."""
    with Workshop(tmp_path, load()) as opened:
        yield opened


@pytest.fixture
def car(workshop: Workshop) -> str:
    """A four."""
    code = workshop.new("van").code
    workshop.say(code, "4 cylinders inline")
    return code


@pytest.mark.parametrize("gate", GATES)
def test_gate_opens_by_what_it_says(workshop: Workshop, car: str, gate: str) -> None:
    """Shut before; each look is typed as the gate told; then it is open, and says so."""
    library = workshop.library
    before = may_of(workshop.state(car), gate)
    assert not before.is_open
    said = [workshop.say(car, say_of(library.readings[look.kind])) for look in before.missing]
    assert [line.text for line in said if not line.counts] == []
    after = may_of(workshop.state(car), gate)
    assert after.is_open, list(gate_words(after, library.readings))
    assert list(gate_words(after, library.readings)) == [
        f"{library.gates[gate].name}: yes. Every look was made and is good."
    ]


def test_bad_look_shuts_until_a_good_one(workshop: Workshop, car: str) -> None:
    """The last look counts."""
    readings = workshop.library.readings
    for look in may_of(workshop.state(car), "crank").looks:
        workshop.say(car, say_of(readings[look.kind]))
    workshop.say(car, "oil there: bad")
    shut = may_of(workshop.state(car), "crank")
    assert list(gate_words(shut, readings)) == [
        "crank the engine: no, until this is put right.",
        "bad: oil on the stick, between the marks; once it is right, look again and say 'oil there: good'",
    ]
    workshop.say(car, "oil there: good")
    assert may_of(workshop.state(car), "crank").is_open


@pytest.mark.parametrize(
    ("found", "gate", "look", "mended", "again"),
    [
        ("fuel hose leaks", "start", "fuel_tight_look", "replaced fuel hose", "fuel tight: good"),
        ("brake pipe rusted through", "road", "brake_pipes_look", "replaced brake pipes", "brake pipes: good"),
        ("nest on the exhaust", "battery", "nest_look", "cleaned engine bay", "nest: none"),
    ],
)
def test_finding_shuts_the_gate_its_look_is_for(
    workshop: Workshop, car: str, found: str, gate: str, look: str, mended: str, again: str
) -> None:
    """What was seen beyond doubt is a bad look, also after a good one; put right, it is looked at again."""

    def state_of() -> str:
        return next(one.state for one in may_of(workshop.state(car), gate).looks if one.kind == look)

    states = []
    for line in (again, found, mended, again):
        assert workshop.say(car, line).counts, line
        states.append(state_of())
    assert states == ["good", "bad", "not looked", "good"]


@pytest.mark.parametrize(
    ("line", "bad"),
    [
        ("brake pedal goes to the floor", "brake pedal held 30 s, every wheel brakes"),
        ("spongy brakes", "brake pedal held 30 s, every wheel brakes"),
        ("handbrake does not hold", "handbrake holds and lets go"),
        ("steering wanders", "steering without play from lock to lock"),
    ],
)
def test_complaint_about_a_stop_item_shuts_the_look_at_it(workshop: Workshop, car: str, line: str, bad: str) -> None:
    """A pedal told to go to the floor is not one that nobody looked at; a good look opens the gate again."""
    workshop.say(car, line)
    closing = may_of(workshop.state(car), "yard").closing
    assert [look.name for look in closing] == [bad]
    workshop.say(car, say_of(workshop.library.readings[closing[0].kind]))
    assert not may_of(workshop.state(car), "yard").closing


@pytest.mark.parametrize("line", ["no spongy brakes", "brakes do not pull"])
def test_complaint_that_is_denied_shuts_nothing(workshop: Workshop, car: str, line: str) -> None:
    """The looks are still to be made."""
    workshop.say(car, line)
    assert not may_of(workshop.state(car), "yard").closing


@pytest.mark.parametrize("work", ["replaced fuel filter", "replaced injector 2", "replaced fuel pump"])
def test_work_on_the_fuel_side_asks_for_the_look_at_leaks_again(workshop: Workshop, car: str, work: str) -> None:
    """A joint of the fuel that was open is looked at before the next start, however good it was before."""
    for line in ("fuel tight: good", work):
        assert workshop.say(car, line).counts, line
    (fuel,) = [one for one in may_of(workshop.state(car), "start").looks if one.kind == "fuel_tight_look"]
    assert fuel.state == "not looked"


def test_finding_that_nothing_is_there_is_no_bad_look(workshop: Workshop, car: str) -> None:
    """Looked for and not seen: the look of the gate is still to be made."""
    workshop.say(car, "no nest seen on the exhaust")
    assert "bad" not in {one.state for gate in GATES for one in may_of(workshop.state(car), gate).looks}


def test_what_was_left_undone_shuts_every_gate(workshop: Workshop, car: str) -> None:
    """Until it is put right, whatever else is good."""
    workshop.say(car, "left off: coil 3")
    for gate in GATES:
        found = may_of(workshop.state(car), gate)
        assert not found.is_open
        words = gate_words(found, workshop.library.readings)
        assert "left undone: left off: coil 3, cylinder 3; once it is right, say 'put back' and what it is" in words
    assert todo_of(workshop.state(car))[0].why == "left as it must not stay"
    workshop.undo(car)
    assert work_of(workshop.state(car)).undone == []


@pytest.mark.parametrize(
    ("left", "right"),
    [
        ("ground strap gearbox to body hanging loose", "put the strap back on"),
        ("ground strap gearbox to body hanging loose", "put back ground strap gearbox to body"),
        ("rag in the intake port 3", "put back rag in the intake port 3"),
        ("unplugged coil 2", "repaired coil 2"),
    ],
)
def test_what_was_left_undone_is_right_again_by_what_it_is(workshop: Workshop, car: str, left: str, right: str) -> None:
    """As the gate tells to say it, or by the one noun that only one of them has; the overview names what shuts it."""
    workshop.say(car, left)
    assert any(f"left undone: {left}" in line for line in stage_words(workshop.state(car)))
    workshop.say(car, right)
    assert not workshop.state(car).undone
    assert not any("left undone" in line for line in stage_words(workshop.state(car)))


def test_what_was_left_at_two_is_not_right_at_both(workshop: Workshop, car: str) -> None:
    """A noun that both have closes neither: which one it was is not known."""
    workshop.say(car, "ground strap gearbox to body hanging loose")
    workshop.say(car, "ground strap engine to bulkhead hanging loose")
    workshop.say(car, "put the strap back on")
    assert len(workshop.state(car).undone) == 2


def test_gate_is_found_by_a_word_of_its_name(workshop: Workshop, car: str) -> None:
    """As it is said."""
    assert may_of(workshop.state(car), "drive it").gate.id == "road"


def test_danger_says_what_is_not_done_until_then(workshop: Workshop, car: str) -> None:
    """A brake pipe that is rusted stands first, with minutes and money, and with how the car must not be moved."""
    workshop.say(car, "brake pipe rusted")
    first = todo_of(workshop.state(car))[0]
    assert first.urgency == "must not wait"
    assert first.minutes > 0 and first.money > 0
    assert first.until.startswith("not driven, not even in the yard; not towed on a rope or bar")


def test_what_wears_on_says_what_comes_of_it(workshop: Workshop, car: str) -> None:
    """A blocked fuel filter can wait for danger, but costs the pump in time."""
    workshop.say(car, "fuel filter blocked")
    things = {thing.what: thing for thing in todo_of(workshop.state(car))}
    filter_ = next(thing for what, thing in things.items() if what.startswith("fuel filter"))
    assert filter_.urgency == "costs more by waiting"
    assert filter_.reason.startswith("in time ")


def test_repair_not_proved_stays_with_the_chance_that_is_left(workshop: Workshop, car: str) -> None:
    """Until it is read again; one that came back says who is suspected now."""
    for line in ("shakes at cold idle", "P0303 stored", "replaced coil 3"):
        assert workshop.say(car, line).counts
    (left,) = [thing for thing in todo_of(workshop.state(car)) if thing.what.startswith("prove: ")]
    assert left.what == "prove: replaced ignition coil cylinder 3"
    assert left.why.startswith("still ")
    assert "that it is not right; write the codes down, then clear them" in left.why
    workshop.say(car, "shakes at cold idle")
    (back,) = [thing for thing in todo_of(workshop.state(car)) if thing.what.startswith("replaced ")]
    assert back.urgency == "gets worse by driving"
    assert "most likely now: " in back.why
