"""What the page shows of an engine, a cylinder, a suspect, a journal; a line struck with a reason."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from knowngood.app.gate_view import gate_looks, gates_of
from knowngood.app.journal_view import journal_of, places_in
from knowngood.app.plan_view import plan_of_engine, story_of_cylinder, suspicion
from knowngood.app.strike import strike_line
from knowngood.app.suspect_view import suspect_view
from knowngood.app.workshop import Workshop, line_numbers
from knowngood.errors import Refused
from knowngood.library.load import load

LINES = ("V6, coil on plug, cylinder 1 in the right bank", "comp 175 172 60 175 174 173 psi", "P0303 stored")


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Workshop, str]]:
    """A workshop with a V6 of which a few lines are said."""
    with Workshop(tmp_path_factory.mktemp("views"), load()) as workshop:
        job = workshop.new("six").code
        for line in LINES:
            workshop.say(job, line)
        yield workshop, job


def test_plan_is_seen_from_the_flywheel_end(told: tuple[Workshop, str]) -> None:
    """The left bank at the left hand, whichever holds cylinder 1; each bank counted from the pulley end."""
    workshop, job = told
    plan = plan_of_engine(workshop.state(job))
    assert [name for name, _ in plan.banks] == ["bank 2, left", "bank 1, right"]
    assert [one.number for one in plan.banks[0][1]] == [4, 5, 6]
    low = plan.banks[1][1][2]
    assert (low.number, low.readings, low.word) == (3, (("compression", "60 psi"),), "most likely here")


def test_suspicion_is_a_chance_and_points_at_the_low_one(told: tuple[Workshop, str]) -> None:
    """Between none and all of the draws, most at the cylinder the readings speak of."""
    workshop, job = told
    state = workshop.state(job)
    chances = {number: suspicion(state, number) for number in state.layout.numbers()}
    assert all(0.0 <= chance <= 1.0 for chance in chances.values())
    assert max(chances, key=lambda number: chances[number]) == 3


def test_story_holds_the_lines_of_the_cylinder(told: tuple[Workshop, str]) -> None:
    """The last first; a cylinder that is not there is refused."""
    workshop, job = told
    story = story_of_cylinder(workshop.state(job), 3)
    assert story.lines == (LINES[2], LINES[1])
    assert story.suspects[0][2] >= story.suspects[-1][2]
    with pytest.raises(Refused, match=r"There is no cylinder 7\. Cylinders of this engine: 1 to 6\."):
        story_of_cylinder(workshop.state(job), 7)


def test_suspect_without_each_line(told: tuple[Workshop, str]) -> None:
    """Without the line that speaks for it, it is less likely; the chance without it is that of a car never told it."""
    workshop, job = told
    entries = workshop.entries(job)
    state = workshop.state(job)
    fault = workshop.answer(job).suspects[0].fault
    view = suspect_view(state, fault, line_numbers(entries))
    row = next(one for one in view.lines if one.text == LINES[1])
    assert row.weight > 0
    assert row.without < view.places[0].chance
    of_line = [index for index, entry in enumerate(entries) if entry.line == LINES[1]]
    column = next(index for index, at in enumerate(state.belief.faults) if at.fault == fault and
                  str(at.place) == view.places[0].place)  # fmt: skip
    assert row.without == pytest.approx(float(state.belief.chances_without(*of_line)[column]))
    with pytest.raises(Refused, match="There is no suspect 'nosuch' on this car"):
        suspect_view(state, "nosuch", {})


def test_gates_come_in_the_order_of_the_job(told: tuple[Workshop, str]) -> None:
    """With how to look at each thing, those not made first."""
    workshop, job = told
    state = workshop.state(job)
    assert [one.gate.id for one in gates_of(state)] == ["battery", "crank", "start", "idle", "yard", "road"]
    gate, looks = gate_looks(state, "crank")
    assert len(looks) == len(gate.looks)
    assert all(look.how for look in looks)


def test_journal_by_place(told: tuple[Workshop, str]) -> None:
    """Cylinders in their order; a line stands once, however many entries it made."""
    workshop, job = told
    entries, layout = workshop.entries(job), workshop.state(job).layout
    assert places_in(entries, layout)[:3] == ["cylinder 1", "cylinder 2", "cylinder 3"]
    assert [line.text for line in journal_of(entries, layout, "cylinder 3")] == [LINES[2], LINES[1]]
    assert [line.text for line in journal_of(entries, layout)] == [*reversed(LINES), "six"]


def test_struck_line_is_gone_with_all_its_entries(tmp_path: Path) -> None:
    """An undo gives it back; the name of the car stays; a reason is needed."""
    with Workshop(tmp_path / "home", load()) as workshop:
        job = workshop.new("six").code
        workshop.say(job, LINES[0])
        workshop.say(job, LINES[1])
        before = workshop.entries(job)
        struck = strike_line(workshop, job, before[-1].id, "read wrong")
        assert struck.text == f"struck: {LINES[1]} (read wrong)"
        assert [entry.line for entry in workshop.entries(job) if entry.line == LINES[1]] == []
        workshop.undo(job)
        assert workshop.entries(job) == before
        with pytest.raises(Refused, match=r"'six' began this job and stays\."):
            strike_line(workshop, job, before[0].id, "mistyped")
        with pytest.raises(Refused, match="Say why in 1 to 200 characters"):
            strike_line(workshop, job, before[-1].id, " ")


def test_part_of_the_engine_is_renewed_once(tmp_path: Path) -> None:
    """A distributor cap is one part, whichever contact is burnt; what the new one changed is asked."""
    with Workshop(tmp_path, load()) as workshop:
        job = workshop.new("five").code
        for line in ("5 cylinders inline, distributor, port injection", "shakes at idle"):
            workshop.say(job, line)
        view = suspect_view(workshop.state(job), "cap_contact_burnt", {})
    assert len(view.places) == 5
    assert [field for place in view.places for field, _ in place.cures] == ["work|replaced|distributor_cap|engine"]
    assert view.places[0].cures[0][1] == "Replaced: distributor cap"
    assert {value for value, _ in view.effects} == {"", "cured", "better", "no change", "worse"}
