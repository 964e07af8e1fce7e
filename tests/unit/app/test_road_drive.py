"""The road test by taps: what each tap of a part of the drive says of the car."""

from __future__ import annotations

from itertools import pairwise

import pytest

from knowngood.app.road_drive import BY_ID, road_view, said_of
from knowngood.app.state import state_of
from knowngood.app.taps import read_taps
from knowngood.app.weigh import at_once
from knowngood.car import Car
from knowngood.errors import Refused
from knowngood.evidence import Body, Entry, Note, Reading, Work
from knowngood.library.drive import STRETCHES
from knowngood.library.load import load
from knowngood.library.records import REGIMES
from knowngood.lines import read_line

LIBRARY = load()
AT = "2001-02-03T04:05:06.000007Z"


def entries(line: str, *bodies: Body) -> list[Entry]:
    """Entries of one line."""
    return [Entry(id=f"{line} {n}", at=AT, entered=AT, body=body, line=line) for n, body in enumerate(bodies)]


@pytest.mark.parametrize("stretch", STRETCHES, ids=lambda one: one.id)
def test_as_it_should_be_says_no_to_all_that_shows_there(stretch) -> None:  # type: ignore[no-untyped-def]
    """One tap; every complaint of that part under its conditions, in words the library knows."""
    tapped = read_taps(LIBRARY, [(f"drive|{stretch.id}", "as it should be")])
    assert tapped.line == f"road test, {stretch.name}: as it should be"
    assert stretch.regime in REGIMES
    assert [body.kind for body in tapped.bodies if isinstance(body, Reading)] == list(stretch.kinds)
    for body in tapped.bodies:
        assert isinstance(body, Reading)
        assert (body.word, body.conditions) == ("no", (stretch.regime,))
        assert "no" in LIBRARY.readings[body.kind].words


def test_what_showed_is_said_and_nothing_of_the_rest() -> None:
    """Two of four ticked: two readings; of the others nothing is known."""
    tapped = read_taps(LIBRARY, [("drive|pull", "pings"), ("drive|pull", "no_power"), ("back", "road")])
    assert tapped.line == "road test, hills, hard pull: pings under load, lacks power"
    assert tapped.bodies == (
        Reading(kind="pings", word="yes", conditions=("pull",)),
        Reading(kind="no_power", word="yes", conditions=("pull",)),
    )


def test_not_driven_says_nothing_of_the_car() -> None:
    """It is written down as a note."""
    tapped = read_taps(LIBRARY, [("drive|town", "not driven")])
    assert tapped.bodies == (Note("road test, town, stop and go: not driven", "it was not driven"),)


def test_nothing_ticked_is_refused() -> None:
    """The how was opened and saved without a tap."""
    with pytest.raises(Refused, match=r"Nothing was entered\. Tap an answer or type a number; empty places stay"):
        read_taps(LIBRARY, [("back", "road")])


@pytest.mark.parametrize(
    ("field", "value", "words"),
    [
        ("drive|moon", "as it should be", "There is no part 'moon' of the drive. Open the page again."),
        ("drive|idle", "pings", "'pings' does not show in idle. Open the page again."),
    ],
)
def test_what_is_not_there_is_refused(field: str, value: str, words: str) -> None:
    """A page of before an update, or a hand that writes its own."""
    with pytest.raises(Refused) as refused:
        read_taps(LIBRARY, [(field, value)])
    assert str(refused.value) == words


def test_what_was_said_last_stands_until_work_is_done() -> None:
    """The later of two; nothing any more once something was repaired."""
    told = [
        *entries("road test, idle: shakes, runs unevenly", Reading(kind="shakes", word="yes")),
        *entries("road test, idle: as it should be", Reading(kind="shakes", word="no")),
    ]
    assert said_of(told, BY_ID["idle"]) == "as it should be"
    assert said_of(told, BY_ID["pull"]) == ""
    assert said_of([*told, *entries("new plugs", Work(do="replaced", part="plug"))], BY_ID["idle"]) == ""


def test_each_part_shows_a_line_that_says_so() -> None:
    """Typed as it stands there, it is read as the complaint under the conditions of that part."""
    state = state_of(LIBRARY, ())
    for drive in road_view(state, at_once(state).answer).drives:
        (body,) = read_line(drive.say, Car(), LIBRARY).bodies
        assert isinstance(body, Reading)
        own = (LIBRARY.readings[body.kind].when,)  # of what is always of one condition: hard to start hot
        assert (body.conditions or own) == (drive.stretch.regime,)
        words = drive.say.split()
        assert all(one != other for one, other in pairwise(words)), drive.say
        assert body.word not in ("no", "good", "starts")


def test_a_drive_told_by_a_line_stands_beside_its_parts() -> None:
    """As a tap's does; of a part of which less was said than shows in it nothing stands there."""
    line = "drove 25 km, town and hills, all fine"
    told = entries(line, *read_line(line, Car(), LIBRARY).bodies)
    assert [said_of(told, one) for one in STRETCHES] == ["", "", "as it should be", "", "as it should be", ""]
    some = entries("no pinging on a pull", Reading(kind="pings", word="no", conditions=("pull",)))
    assert said_of(some, BY_ID["pull"]) == ""
    assert said_of([*told, *entries("x", Work(do="cleared", part=""))], BY_ID["town"]) == ""
