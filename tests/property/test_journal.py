"""Whatever is appended: out and in again is the same state, and two workshops that read each other's become equal."""

from __future__ import annotations

import contextlib
import tempfile
from collections.abc import Iterator
from pathlib import Path

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from knowngood.app.state import car_of
from knowngood.car import Place
from knowngood.evidence import Access, Body, CarFact, Entry, Finding, Note, Reading, Strike, Undone, Value, Work
from knowngood.jobs import standing, undo
from knowngood.jobs.export import read_in, write_out
from knowngood.jobs.store import Store
from tests.unit.jobs.workshop import ids, stamp

EXAMPLES = settings(max_examples=40, suppress_health_check=[HealthCheck.too_slow])

texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
moments = st.builds(stamp, st.integers(0, 5), st.integers(0, 2))
places = st.builds(Place, st.sampled_from(["cylinder", "bank", "branch"]), texts)
values = st.builds(Value, st.floats(allow_nan=False, allow_infinity=False), st.sampled_from(["exact", "about"]))
facts = st.sampled_from(
    [
        CarFact("cylinders", "6"),
        CarFact("systems", '["automatic"]'),
        CarFact("nickname", '"½"'),
        CarFact("year", "null"),
    ]
)
bodies: st.SearchStrategy[Body] = st.one_of(
    facts,
    st.builds(Note, texts, texts, texts),
    st.builds(Reading, kind=texts, place=places, value=st.none() | values, conditions=st.lists(texts).map(tuple)),
    st.builds(Finding, fault=texts, place=places, seen=st.booleans(), looked_share=st.floats(0, 1)),
    st.builds(Work, do=texts, places=st.lists(places, max_size=3).map(tuple), to=st.none() | places),
    st.builds(Access, texts, st.booleans()),
    st.builds(Undone, what=texts),
)


@st.composite
def journals(draw: st.DrawFn, name: str, first: Entry | None = None, struck: tuple[str, ...] = ()) -> list[Entry]:
    """Entries of one job, strikes among them; ids begin with the name."""
    entries = [first] if first else []
    there = list(struck)
    for number in range(draw(st.integers(0, 8))):
        body = draw(bodies | st.sampled_from(there).map(lambda entry: Strike(entry, "")) if there else bodies)
        one = Entry(
            id=f"{name}{number}",
            at=draw(moments),
            entered=draw(moments),
            body=body,
            line=draw(texts),
            look=draw(st.sampled_from(["", "1"])),
        )
        there.append(one.id)
        entries.append(one)
    return entries


BIRTH = Entry(id="birth", at=stamp(3), entered=stamp(3), body=CarFact("nickname", '"van"'))


@contextlib.contextmanager
def workshop(*parts: list[Entry]) -> Iterator[Store]:
    """A workshop in a folder of its own, filled in several appends."""
    with tempfile.TemporaryDirectory() as folder, Store.open(Path(folder)) as store:
        for entries in parts:
            store.append("k7f3", entries)
        yield store


@EXAMPLES
@given(journals("a", BIRTH))
def test_export_and_import_give_the_same_state(entries: list[Entry]) -> None:
    """Entries, order, what stands, the car, and the export of the import."""
    with workshop(entries) as here, workshop() as there:
        text = write_out(here)
        read_in(there, text.encode(), name="a")
        assert sorted(here.entries("k7f3"), key=id_of) == sorted(entries, key=id_of)
        assert there.entries("k7f3") == here.entries("k7f3")
        assert standing(there.entries("k7f3")) == standing(here.entries("k7f3"))
        assert car_of(standing(there.entries("k7f3"))) == car_of(standing(entries))
        assert write_out(there) == text


@EXAMPLES
@given(journals("z"), journals("b", struck=("a0",)), journals("c", struck=("a0", "birth")))
def test_two_workshops_that_read_each_other_become_equal(
    before: list[Entry], one: list[Entry], other: list[Entry]
) -> None:
    """A job carried to a second machine, worked on at both, and brought together in either direction."""
    common = [BIRTH, Entry(id="a0", at=stamp(3), entered=stamp(3), body=Note("")), *before]
    with workshop(common, one) as first, workshop() as second:
        with workshop(common) as carried:
            read_in(second, write_out(carried).encode(), name="carried")
        second.append("k7f3", other)
        from_first, from_second = write_out(first), write_out(second)
        read_in(first, from_second.encode(), name="second")
        read_in(second, from_first.encode(), name="first")
        assert first.kept() == second.kept()
        assert len(first.kept()) == len(common) + len(one) + len(other)
        for store, text in ((first, from_first), (second, from_second), (first, from_second)):
            assert read_in(store, text.encode(), name="again").added == 0


@EXAMPLES
@given(journals("a", BIRTH))
def test_order_of_appending_does_not_matter_to_what_stands(entries: list[Entry]) -> None:
    """What counts is a matter of the set of entries, not of who came first."""
    assert {entry.id for entry in standing(entries)} == {entry.id for entry in standing(entries[::-1])}


@EXAMPLES
@given(journals("a", BIRTH))
def test_what_stands_is_what_the_definition_says(entries: list[Entry]) -> None:
    """The slow, obvious twin: an entry counts when no strike of it counts."""

    def counts(entry: Entry) -> bool:
        return not any(isinstance(by.body, Strike) and by.body.entry == entry.id and counts(by) for by in entries)

    assert {entry.id for entry in standing(entries)} == {entry.id for entry in entries if counts(entry)}


@EXAMPLES
@given(journals("a", BIRTH))
def test_undo_of_the_undo_brings_everything_back(entries: list[Entry]) -> None:
    """Nothing is lost by taking back."""
    new_id = ids()
    taken = undo([*entries, LAST], now=stamp(100), new_id=new_id)
    without = standing([*entries, LAST, *taken])
    assert LAST not in without
    back = undo([*entries, LAST, *taken], now=stamp(101), new_id=new_id, of=taken[0].id)
    made = {entry.id for entry in taken + back}
    everything = standing([*entries, LAST, *taken, *back])
    assert [entry for entry in everything if entry.id not in made] == standing([*entries, LAST])


LAST = Entry(id="last", at=stamp(0), entered=stamp(99), body=Note("the last line"), line="the last line")


def id_of(entry: Entry) -> str:
    return entry.id
