"""Work typed in the words the program writes it down with."""

from __future__ import annotations

from knowngood.evidence import Work
from knowngood.library import load
from knowngood.library.find import work_done
from knowngood.lines import read_line
from tests.cases.test_lines_typed import CARS
from tests.unit.lines.said import text_of

WHERE = {"set the gap of the spark plug, cylinder 3": "adjusted plug 3", "repaired coil wire 3": "repaired coil_wire 3"}


def test_every_work_of_the_library_is_heard_as_it_is_written_down() -> None:
    """Of every cure and every phrase of a part's own: that work on that part, and no reading beside it."""
    library = load()
    cures = {(cure.do, cure.part or fault.part) for fault in library.faults.values() for cure in fault.cures}
    own = {(do, part.id) for part in library.parts.values() for do in part.done_as}
    unheard = []
    for do, part in sorted(cures | own):
        said = work_done(library, do, part)
        heard = [
            all(not hasattr(body, "kind") for body in bodies)
            and any(isinstance(body, Work) and (body.do, body.part) == (do, part) for body in bodies)
            for bodies in (read_line(said, CARS[car], library).bodies for car in ("four", "distributor"))
        ]
        unheard += [] if any(heard) else [said]
    assert len(cures | own) > 250
    assert unheard == []


def test_place_and_effect_behind_it_are_of_that_work() -> None:
    """The cylinder goes with it, and what it changed."""
    library = load()
    for line, work in WHERE.items():
        assert [text_of(body) for body in read_line(line, CARS["four"], library).bodies] == [work]
    bodies = read_line("tensioned the drive belt, no change", CARS["four"], library).bodies
    assert [text_of(body) for body in bodies] == ["adjusted drive_belt: no change"]


def test_list_of_parts_goes_on_behind_it() -> None:
    """``replaced alternator`` is what is written down, and the battery was replaced too."""
    bodies = read_line("replaced alternator, battery: no difference", CARS["four"], load()).bodies
    works = ["replaced alternator: no change", "replaced battery: no change"]
    assert [text_of(body) for body in bodies] == works


def test_removed_duct_is_what_came_off() -> None:
    """What was left in the duct is taken out; the duct itself only comes off."""
    said = ("removed intake duct", "took out what was left in the intake duct")
    heard = [[text_of(body) for body in read_line(line, CARS["four"], load()).bodies] for line in said]
    assert heard == [["duct_off apart"], ["removed intake_duct"]]
