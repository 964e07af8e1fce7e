"""A journal as text and back: nothing lost, nothing doubled, nothing half stored."""

from __future__ import annotations

from pathlib import Path

import pytest

from knowngood.errors import Refused
from knowngood.evidence import CarFact, Strike
from knowngood.jobs.card import read_card, write_card
from knowngood.jobs.export import TakenIn, read_in, write_out
from knowngood.jobs.store import Store
from tests.unit.jobs.workshop import NAME, entry


def filled(folder: Path) -> Store:
    store = Store.open(folder)
    store.append(
        "k7f3", [entry("n", NAME, at=1), entry("a", at=2), entry("s", Strike("a", "misread"), at=1, entered=3)]
    )
    store.append("b2b2", [entry("m", CarFact("nickname", '"estate"'), at=2)])
    return store


def test_export_is_one_line_an_entry_in_time_order(tmp_path: Path) -> None:
    """Each line stands alone, with job and place."""
    with filled(tmp_path) as store:
        lines = write_out(store, "k7f3").splitlines()
    assert [line[:37] for line in lines] == [
        '{"id":"n","job":"k7f3","seq":0,"at":"',
        '{"id":"s","job":"k7f3","seq":2,"at":"',
        '{"id":"a","job":"k7f3","seq":1,"at":"',
    ]
    assert lines[1].endswith(',"line":"s","look":"","version":1,"body":{"type":"strike","entry":"a","why":"misread"}}')


def test_import_gives_the_same_workshop_once(tmp_path: Path) -> None:
    """The strike that stands before what it strikes is no hindrance; a second time nothing is new."""
    with filled(tmp_path / "a") as here, Store.open(tmp_path / "b") as there:
        text = write_out(here)
        assert read_in(there, text.encode(), name="a.jsonl") == TakenIn(4, 0, ("b2b2", "k7f3"))
        assert read_in(there, text.encode(), name="a.jsonl") == TakenIn(0, 4, ("b2b2", "k7f3"))
        assert there.kept() == here.kept()
        assert write_out(there) == text


def test_one_code_for_two_cars_can_be_imported_under_another(tmp_path: Path) -> None:
    """Two workshops drew the same code."""
    with filled(tmp_path / "a") as here, Store.open(tmp_path / "b") as there:
        there.append("k7f3", [entry("x", CarFact("nickname", '"red coupe"'), at=9)])
        with pytest.raises(Refused, match="Two cars have one code"):
            read_in(there, write_out(here).encode(), name="a.jsonl")
        read_in(there, write_out(here).encode(), name="a.jsonl", codes={"k7f3": "c3c3"})
        assert [(job.code, job.nickname) for job in there.jobs()] == [
            ("c3c3", "green van"),
            ("b2b2", "estate"),
            ("k7f3", "red coupe"),
        ]


def test_card_is_left_out_unless_asked_for(tmp_path: Path) -> None:
    """The hand-over names nobody."""
    with filled(tmp_path / "a") as here, Store.open(tmp_path / "b") as there:
        write_card(here, "k7f3", "plate", "AB 12 CD")
        write_card(here, "b2b2", "plate", "EF 34 GH")
        assert "AB 12 CD" not in write_out(here) + write_out(here, "k7f3")
        assert write_out(here, "k7f3", with_card=True).splitlines()[-1] == (
            '{"card":"k7f3","field":"plate","text":"AB 12 CD"}'
        )
        text = write_out(here, with_card=True)
        read_in(there, text.encode(), name="a.jsonl")
        assert read_card(there, "k7f3") == {"plate": "AB 12 CD"}
        assert write_out(there, with_card=True) == text


@pytest.mark.parametrize("ending", [b"", b"\n", b"\r\n", b"\n\n  \n"])
def test_line_endings_do_not_matter(tmp_path: Path, ending: bytes) -> None:
    """A file that went through an editor is the same file."""
    with filled(tmp_path / "a") as here, Store.open(tmp_path / "b") as there:
        text = write_out(here).strip().encode().replace(b"\n", b"\r\n") + ending
        read_in(there, text, name="a.jsonl")
        assert there.kept() == here.kept()
