"""The card: outside the journal, and really gone when erased."""

from __future__ import annotations

from pathlib import Path

import pytest

from knowngood.errors import Refused
from knowngood.jobs import disk
from knowngood.jobs.card import erase_card, read_card, write_card
from knowngood.jobs.copies import copy_day, erase_card_in_copies
from knowngood.jobs.store import Store
from tests.unit.jobs.workshop import NAME, entry, stamp

OWNER = "Someone Whose Name Is Long Enough To Be Found"


def bytes_in(folder: Path) -> bytes:
    """All that lies in a folder, the log included."""
    return b"".join(path.read_bytes() for path in folder.iterdir())


def test_card_is_written_read_and_replaced(tmp_path: Path) -> None:
    """Field by field; an empty text erases one; cards of other jobs are others."""
    with Store.open(tmp_path) as store:
        store.append("k7f3", [entry("n", NAME)])
        store.append("b2b2", [entry("m", NAME)])
        for job, field, text in [
            ("k7f3", "plate", "AB 12 CD"),
            ("k7f3", "owner", "before"),
            ("k7f3", "owner", "after"),
            ("k7f3", "telephone", "1234"),
            ("k7f3", "telephone", ""),
            ("b2b2", "owner", "other"),
        ]:
            write_card(store, job, field, text)
        assert read_card(store, "k7f3") == {"owner": "after", "plate": "AB 12 CD"}
        erase_card(store, "k7f3")
        assert (read_card(store, "k7f3"), read_card(store, "b2b2")) == ({}, {"owner": "other"})


def test_erased_card_leaves_no_byte(tmp_path: Path) -> None:
    """Neither in the file nor in its log, while the store stays open; so does a field that was written over."""
    with Store.open(tmp_path) as store:
        store.append("k7f3", [entry("n", NAME)])
        write_card(store, "k7f3", "owner", OWNER)
        assert OWNER.encode() in bytes_in(tmp_path)
        write_card(store, "k7f3", "owner", "another")
        assert OWNER.encode() not in bytes_in(tmp_path)
        write_card(store, "k7f3", "owner", OWNER)
        erase_card(store, "k7f3")
        assert OWNER.encode() not in bytes_in(tmp_path)
    assert OWNER.encode() not in bytes_in(tmp_path)


def test_log_held_by_a_reader_is_told_and_the_next_try_does_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nobody is told that a name is gone while its bytes are there."""
    monkeypatch.setattr(disk, "WAIT_S", 0.1)
    with Store.open(tmp_path) as store, Store.open(tmp_path) as other:
        store.append("k7f3", [entry("n", NAME)])
        write_card(store, "k7f3", "owner", OWNER)
        with other.reading() as reader:
            reader.exec_driver_sql("SELECT * FROM card").all()
            with pytest.raises(Refused, match=r"another program holds workshop\.sqlite-wal.*then erase the card again"):
                erase_card(store, "k7f3")
        assert OWNER.encode() in bytes_in(tmp_path)
        erase_card(store, "k7f3")
        assert OWNER.encode() not in bytes_in(tmp_path)


def test_card_is_erased_in_copies_on_demand(tmp_path: Path) -> None:
    """A copy made before keeps the card until it is erased there too."""
    home, copies = tmp_path / "home", tmp_path / "copies"
    with Store.open(home) as store:
        store.append("k7f3", [entry("n", NAME)])
        empty = copy_day(home, copies, now=stamp(0).replace("-03T", "-02T"))
        write_card(store, "k7f3", "owner", OWNER)
    copy = copy_day(home, copies, now=stamp(0))
    assert OWNER.encode() in bytes_in(copies)
    assert erase_card_in_copies(copies, "k7f3") == [copy]
    assert OWNER.encode() not in bytes_in(copies)
    assert sorted(copies.iterdir()) == [empty, copy]


def test_card_needs_a_job(tmp_path: Path) -> None:
    """A name is not kept for nothing."""
    with Store.open(tmp_path) as store, pytest.raises(Refused, match=r"There is no job 'k7f3'\. A card belongs to"):
        write_card(store, "k7f3", "owner", "x")
