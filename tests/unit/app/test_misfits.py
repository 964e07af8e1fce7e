"""A cylinder this engine does not have: kept, not counted, and no page breaks on it."""

from __future__ import annotations

from pathlib import Path

import pytest

from knowngood.app.asks import asks_of
from knowngood.app.plan_view import plan_of_engine, story_of_cylinder
from knowngood.app.strips import row_strips
from knowngood.app.taps import read_taps
from knowngood.app.workshop import Workshop
from knowngood.car import Car, Place, layout_of
from knowngood.errors import Refused
from knowngood.evidence import Entry, Note, Reading, Work
from knowngood.library.load import load

LIBRARY = load()
SIX = Place("cylinder", "6")


@pytest.fixture(name="shop")
def workshop_with_a_four(tmp_path: Path) -> Workshop:
    """A car of four cylinders that shakes."""
    shop = Workshop(tmp_path, LIBRARY)
    job = shop.new("four").code
    for line in ("petrol, 4 cylinders, coil on plug", "shakes at idle"):
        assert shop.say(job, line).counts
    return shop


@pytest.mark.parametrize(
    "field", ["number|compression|cylinder 6", "word|plug_look|cylinder 6", "work|replaced|ignition_coil|cylinder 6"]
)
def test_tap_at_a_cylinder_that_is_not_there_is_a_note(shop: Workshop, field: str) -> None:
    """As a line about it would be: a form that waited may speak of an engine that was told otherwise since."""
    job = shop.jobs()[0].code
    value = {"number": "150", "word": "wet with fuel", "work": "cured"}[field.partition("|")[0]]
    tapped = read_taps(LIBRARY, [(field, value)])
    said = shop.keep(job, tapped.line, tapped.bodies)
    assert not said.counts
    assert said.why == "There is no cylinder 6: the engine has 4."
    assert f"say '{tapped.line}' again" in said.ask
    (note,) = [entry for entry in shop.entries(job) if isinstance(entry.body, Note)]
    assert note.line == tapped.line
    assert shop.answer(job).next
    assert said.ask in shop.answer(job).asks


@pytest.mark.parametrize("name", ["6", "x", "L9", ""])
def test_entry_that_came_from_elsewhere_breaks_no_page(shop: Workshop, name: str) -> None:
    """Two devices may have told two engines: what does not fit is passed over, and asked about."""
    job, place = shop.jobs()[0].code, Place("cylinder", name)
    was = shop.state(job).belief.chances()
    bodies = (Reading(kind="plug_look", place=place, word="wet with fuel"), Work(do="replaced", places=(place,)))
    now = shop.now()
    entries = [Entry(id=f"n{n}", at=now, entered=now, line="from elsewhere", body=one) for n, one in enumerate(bodies)]
    shop.store.append(job, entries)
    answer, state = shop.answer(job), shop.state(job)
    assert state.belief.chances() == pytest.approx(was)
    assert answer.next
    assert len(plan_of_engine(state).banks[0][1]) == 4
    assert story_of_cylinder(state, 1).lines == ()
    assert row_strips(state) == []
    asked = [ask for ask in asks_of(state, ()) if "from elsewhere" in ask]
    assert len(asked) == 1 and "the engine has 4" in asked[0]


@pytest.mark.parametrize("name", ["6", "x", "L9", ""])
def test_cylinder_by_its_number(name: str) -> None:
    """Of a name that is no cylinder here it is said, not guessed."""
    layout = layout_of(Car(cylinders=4))
    assert layout.by_number(Place("cylinder", name)) is None
    assert layout.by_number(Place("cylinder", "I2")) == Place("cylinder", "2")
    assert layout.by_number(Place("bank", "1")) == Place("bank", "1")
    with pytest.raises(Refused, match="There is no cylinder"):
        layout.number(Place("cylinder", name))


@pytest.mark.parametrize("place", ["cylinder x", "foo bar", "cylinder"])
def test_tap_at_no_place_is_refused(place: str) -> None:
    """A field that names no place was not made by our page."""
    with pytest.raises(Refused, match=f"'{place}' is no place. Open the page again"):
        read_taps(LIBRARY, [(f"word|plug_look|{place}", "wet with fuel")])
