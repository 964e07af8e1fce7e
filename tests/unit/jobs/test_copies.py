"""A copy for each day of work, and the way back."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from pathlib import Path

import pytest

from knowngood.errors import Refused, StoreDamaged
from knowngood.jobs.card import read_card, write_card
from knowngood.jobs.copies import copy_day, restore
from knowngood.jobs.disk import copies_in
from knowngood.jobs.export import write_out
from knowngood.jobs.store import Store
from tests.unit.jobs.workshop import NAME, entry, stamp

MORNING, EVENING, TOMORROW = stamp(1), stamp(3000), "2001-02-04T04:00:00.000000Z"


@pytest.fixture
def home(tmp_path: Path) -> Path:
    with Store.open(tmp_path / "home") as store:
        store.append("k7f3", [entry("n", NAME, at=1), entry("a", at=2)])
        write_card(store, "k7f3", "plate", "AB 12 CD")
    return tmp_path / "home"


def all_of(folder: Path) -> str:
    with Store.open(folder) as store:
        return write_out(store, with_card=True)


def test_copy_restores_to_the_same_workshop(home: Path, tmp_path: Path) -> None:
    """Entries, cards and form; the copy is one file with nothing beside it."""
    copy = copy_day(home, tmp_path / "copies", now=MORNING)
    assert [path.name for path in (tmp_path / "copies").iterdir()] == ["workshop-2001-02-03.sqlite"]
    before = copy.read_bytes()
    restore(copy, tmp_path / "new")
    assert all_of(tmp_path / "new") == all_of(home)
    assert copy.read_bytes() == before
    with Store.open(tmp_path / "new") as store:
        store.append("k7f3", [entry("b", at=3)])
        assert read_card(store, "k7f3") == {"plate": "AB 12 CD"}


def test_one_copy_a_day_the_later_one_stays(home: Path, tmp_path: Path) -> None:
    """Evening takes the place of morning; tomorrow is another file."""
    copies = tmp_path / "copies"
    copy_day(home, copies, now=MORNING)
    with Store.open(home) as store:
        store.append("k7f3", [entry("b", at=3)])
    evening = copy_day(home, copies, now=EVENING)
    assert copies_in(copies) == [evening]
    restore(evening, tmp_path / "new")
    assert all_of(tmp_path / "new") == all_of(home)
    assert copies_in(copies) == [evening]
    tomorrow = copy_day(home, copies, now=TOMORROW)
    assert copies_in(copies) == [evening, tomorrow]


def test_copy_sees_what_is_still_in_the_log(home: Path, tmp_path: Path) -> None:
    """Made while the store is open and a writer is in the middle of something."""
    with Store.open(home) as store:
        store.append("k7f3", [entry("b", at=3)])
        with store.writing() as connection:
            connection.exec_driver_sql("DELETE FROM card")
            copy = copy_day(home, tmp_path / "copies", now=MORNING)
        restore(copy, tmp_path / "new")
    with Store.open(tmp_path / "new") as store:
        assert [entry.id for entry in store.entries("k7f3")] == ["n", "a", "b"]
        assert read_card(store, "k7f3") == {"plate": "AB 12 CD"}


def test_copy_never_takes_the_place_of_one_that_holds_more(home: Path, tmp_path: Path) -> None:
    """A workshop begun anew in the same folder does not eat the last copy of the old one."""
    copy = copy_day(home, tmp_path / "copies", now=MORNING)
    before = copy.read_bytes()
    (home / "workshop.sqlite").unlink()
    Store.open(home).close()
    with pytest.raises(Refused, match="holds 2 entries that this workshop does not hold"):
        copy_day(home, tmp_path / "copies", now=EVENING)
    assert copy.read_bytes() == before
    assert list((tmp_path / "copies").iterdir()) == [copy]


def test_damaged_workshop_is_not_copied_over_a_good_copy(home: Path, tmp_path: Path) -> None:
    """The last good copy is there when it is needed."""
    copy = copy_day(home, tmp_path / "copies", now=MORNING)
    before = copy.read_bytes()
    file = home / "workshop.sqlite"
    file.write_bytes(file.read_bytes()[:-4096])
    with pytest.raises(StoreDamaged, match=r"then restore the last copy: .*workshop-2001-02-03\.sqlite"):
        copy_day(home, tmp_path / "copies", now=EVENING)
    assert copy.read_bytes() == before


def test_restore_only_where_nothing_is(home: Path, tmp_path: Path) -> None:
    """A workshop without an entry counts as nothing."""
    copy = copy_day(home, tmp_path / "copies", now=MORNING)
    with pytest.raises(Refused, match=r"holds 2 entries\. Restore into an empty folder; nothing was changed\."):
        restore(copy, home)
    Store.open(tmp_path / "new").close()
    restore(copy, tmp_path / "new")
    assert all_of(tmp_path / "new") == all_of(home)


def test_damaged_copy_is_not_restored(home: Path, tmp_path: Path) -> None:
    """And the folder stays free for another one."""
    copy = copy_day(home, tmp_path / "copies", now=MORNING)
    with closing(sqlite3.connect(copy)) as connection:
        connection.execute("DROP TRIGGER entry_is_never_changed")
        connection.commit()
    with pytest.raises(StoreDamaged, match="entry_is_never_changed not as written"):
        restore(copy, tmp_path / "new")
    assert not (tmp_path / "new").exists()
