"""A drive in one line: its parts as the road test has them, and never a part that was not named."""

from __future__ import annotations

import pytest

from knowngood.app.road_drive import driven
from knowngood.evidence import Note, Reading
from knowngood.library.drive import GOOD, STRETCHES
from knowngood.library.load import load
from knowngood.lines import read_notes
from knowngood.lines.drives import HOW, NO_PARTS, NOT_SAID, WHICH
from knowngood.lines.understood import Understood

CAR = "6 cylinders inline, coil on plug, port injection, 214000 km\n"


def read(line: str) -> Understood:
    """A line of a six of 214,000 km."""
    return read_notes(CAR + line, load()).lines[-1][2]


@pytest.mark.parametrize(
    ("line", "parts"),
    [
        ("drove 25 km, cold start, town and hills, all fine", ("start", "town", "pull")),
        ("drive 2: town, 12 km, fine", ("town",)),
        ("road test, town, stop and go: as it should be", ("town",)),
        ("road test: cold start good, idle good, town good, steady good, hills good, hot restart good", "all"),
        ("test drive over 10 miles: idle and motorway, nothing to find", ("idle", "steady")),
        ("road test cold start idle town good", ("start", "idle", "town")),
    ],
)
def test_parts_are_said_as_a_tap_says_them(line: str, parts: tuple[str, ...] | str) -> None:
    """The same readings under the same conditions as the road test's own buttons, nothing left, no mileage."""
    wanted = [one.id for one in STRETCHES] if parts == "all" else parts
    said = [body for part in wanted for body in driven(load(), part, [GOOD])[1]]
    found = read(line)
    assert list(found.bodies) == said
    assert (found.left, found.asks) == ((), ())


@pytest.mark.parametrize("line", ["drove it, nothing to find", "test drive 12 km, all fine", "clean drive"])
def test_parts_that_were_not_named_are_asked_for(line: str) -> None:
    """All fine of what? Kept with the question; the line as it was typed."""
    found = read(line)
    assert found.bodies == (Note(line, NO_PARTS, WHICH),)
    assert found.asks == (WHICH,)


def test_how_it_went_is_asked_for() -> None:
    """A part alone says neither well nor ill."""
    assert read("drove it: town").bodies == (Note("drove it: town", NOT_SAID, HOW),)


def test_a_part_behind_the_last_word_of_how_it_went_is_not_taken_for_good() -> None:
    """Of the start it is said, of the town it is not: asked, and nothing of the town counts."""
    line = "road test: cold start good, town"
    found = read(line)
    assert found.bodies == (Note(line, NOT_SAID, HOW), *driven(load(), "start", [GOOD])[1])
    assert found.asks == (HOW,)


@pytest.mark.parametrize(
    ("line", "kind"),
    [("drove 30 km, misfires under load", "misfires_pulling"), ("drove 10 miles, shakes at idle", "shakes")],
)
def test_a_drive_on_which_something_showed_is_read_as_before(line: str, kind: str) -> None:
    """What showed counts; the distance is never the odometer's."""
    found = read(line)
    assert [body.kind for body in found.bodies if isinstance(body, Reading)] == [kind]
    assert all(isinstance(body, Reading | Note) for body in found.bodies)
