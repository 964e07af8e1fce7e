"""The journal on disk: what is appended is there, in order, and nothing takes it away."""

from __future__ import annotations

import os
import sqlite3
import threading
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import msgspec
import pytest
from sqlalchemy import exc

from knowngood.car import Place
from knowngood.errors import Refused, StoreDamaged
from knowngood.evidence import CarFact, Finding, Note, Reading, Strike, Value, Work
from knowngood.jobs import disk
from knowngood.jobs.store import Job, Store
from tests.unit.jobs.workshop import NAME, entry, stamp


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store.open(tmp_path) as opened:
        opened.append("k7f3", [entry("n", NAME, at=1)])
        yield opened


def names(store: Store, job: str = "k7f3") -> str:
    return " ".join(entry.id for entry in store.entries(job))


def test_entries_come_back_as_they_went_in(store: Store, tmp_path: Path) -> None:
    """Every kind of body, words in any script, also after the file was closed."""
    bodies = [
        Reading(kind="compression", place=Place("cylinder", "3"), value=Value(600.0, "about", unit="bar")),
        CarFact("cylinders", "6"),
        Finding(fault="hose_chewed", place=Place("bank", "left"), words="нагрызено ½"),
        Work(do="swapped", part="coil", places=(Place("cylinder", "5"),), to=Place("cylinder", "2"), effect="moved"),
        Note('words "as typed"\nwith a second line', why="not understood"),
    ]
    entries = [entry(f"e{index}", body, at=2, line="a line, ½") for index, body in enumerate(bodies)]
    store.append("k7f3", entries)
    store.close()
    with Store.open(tmp_path) as again:
        assert again.entries("k7f3")[1:] == entries


def test_entries_are_in_time_order(store: Store) -> None:
    """By when it happened, then when it was typed, then as they were given."""
    store.append("k7f3", [entry("c", at=5, entered=9), entry("b", at=5, entered=8)])
    store.append("k7f3", [entry("z", at=5, entered=9), entry("a", at=5, entered=9), entry("f", at=0, entered=9)])
    assert names(store) == "f n b c z a"


def test_jobs_are_listed_with_the_name_the_car_has_now(store: Store) -> None:
    """In the order they began; a struck name gives way to the one before."""
    store.append("b2b2", [entry("m", CarFact("nickname", '"estate"'), at=0)])
    store.append("k7f3", [entry("n2", CarFact("nickname", '"blue van"'), at=7)])
    assert store.jobs() == [Job("b2b2", "estate", stamp(0)), Job("k7f3", "blue van", stamp(1))]
    store.append("k7f3", [entry("s", Strike("n2", "it is green"), at=8)])
    assert store.jobs()[1].nickname == "green van"


def test_append_sent_again_is_stored_once(store: Store) -> None:
    """An answer that was lost on the way does not double a reading."""
    for _ in range(2):
        store.append("k7f3", [entry("a", at=2), entry("b", at=3)])
    assert names(store) == "n a b"


def test_append_is_all_or_nothing(store: Store) -> None:
    """One entry that cannot be taken keeps the others out."""
    with pytest.raises(Refused):
        store.append("k7f3", [entry("a", at=2), entry("s", Strike("gone", ""), at=3)])
    assert names(store) == "n"


REST = "job, seq, at, entered, 'x', look, body, version FROM entry"
ATTACKS = {
    "update": "UPDATE entry SET line = 'x'",
    "update or replace": "UPDATE OR REPLACE entry SET id = 'other'",
    "delete": "DELETE FROM entry",
    "insert again": "INSERT INTO entry SELECT * FROM entry",
    "replace": f"INSERT OR REPLACE INTO entry SELECT id, {REST}",
    "replace, short": f"REPLACE INTO entry SELECT id, {REST}",
    "ignore": "INSERT OR IGNORE INTO entry SELECT * FROM entry",
    "upsert": "INSERT INTO entry SELECT * FROM entry WHERE true ON CONFLICT (id) DO UPDATE SET line = 'x'",
    "id as bytes": f"INSERT INTO entry SELECT CAST(id AS BLOB), {REST}",
    "no id": f"INSERT INTO entry SELECT NULL, {REST}",
}


@pytest.mark.parametrize("recursive", [0, 1])
@pytest.mark.parametrize("attack", ATTACKS)
def test_no_statement_changes_an_entry(store: Store, attack: str, recursive: int) -> None:
    """From any program, whatever it sets for itself."""
    before = store.kept()
    with closing(sqlite3.connect(store.file)) as connection:
        connection.execute(f"PRAGMA recursive_triggers = {recursive}")
        with pytest.raises(sqlite3.IntegrityError):
            connection.execute(ATTACKS[attack])
        connection.commit()
    assert store.kept() == before


def test_no_rowid_can_be_named_to_replace_an_entry(store: Store) -> None:
    """A second, hidden key would be a way round the triggers."""
    with closing(sqlite3.connect(store.file)) as connection, pytest.raises(sqlite3.OperationalError, match="rowid"):
        connection.execute("SELECT rowid FROM entry")


def test_mistake_of_the_program_is_not_dressed_up(store: Store) -> None:
    """What the triggers refuse comes through as it is: it is a fault of ours, not of the disk."""
    with pytest.raises(exc.IntegrityError, match="an entry is never deleted"), store.writing() as connection:
        connection.exec_driver_sql("DELETE FROM entry")


def test_every_connection_keeps_and_reads_back_the_promises(store: Store) -> None:
    """Log ahead of the file, on the disk before a commit returns, erased bytes overwritten."""
    for _ in range(3):
        with store.reading() as connection:
            met = {name: connection.exec_driver_sql(f"PRAGMA {name}").scalar() for name in disk.PROMISES}
        assert met == {
            "journal_mode": "wal",
            "synchronous": 2,
            "fullfsync": 1,
            "secure_delete": 1,
            "recursive_triggers": 1,
            "trusted_schema": 0,
        }


def test_connection_that_does_not_keep_a_promise_is_refused(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Nothing is acknowledged on a disk where the log cannot be."""
    monkeypatch.setitem(disk.PROMISES, "journal_mode", ("MEMORY", "wal"))
    with pytest.raises(Refused, match=r"journal_mode is 'memory' where MEMORY was asked for\. Keep it on"):
        Store.open(tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_draft_left_by_a_crash_is_no_hindrance(tmp_path: Path) -> None:
    """The process that was killed while it made the file had the same number as this one."""
    draft = tmp_path / f"{disk.FILE}.{os.getpid()}-{threading.get_ident()}.new"
    for path in (draft, Path(f"{draft}-wal")):
        path.write_bytes(b"half a file")
    Store.open(tmp_path).close()
    assert [path.name for path in tmp_path.iterdir()] == [disk.FILE]


def test_disk_without_hard_links_holds_a_workshop(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """A stick from the drawer; a file that is there by then is left as it is."""

    def no_link(*_: object) -> None:
        raise PermissionError

    monkeypatch.setattr(os, "link", no_link)
    with Store.open(tmp_path) as store:
        store.append("k7f3", [entry("n", NAME)])
    disk.make(tmp_path / disk.FILE)
    with Store.open(tmp_path) as store:
        assert names(store) == "n"
    assert [path.name for path in tmp_path.iterdir()] == [disk.FILE]


def test_two_workshops_at_once_lose_nothing(tmp_path: Path) -> None:
    """Eight threads with stores of their own, one of them opening the file first."""
    gate = threading.Barrier(8)
    trouble: list[BaseException] = []

    def work(number: int) -> None:
        try:
            gate.wait()
            with Store.open(tmp_path) as mine:
                mine.append(f"j{number}", [entry(f"n{number}", NAME, at=1)])
                for index in range(20):
                    mine.append(f"j{number}", [entry(f"{number}-{index}", at=index + 2)])
        except BaseException as error:
            trouble.append(error)

    threads = [threading.Thread(target=work, args=(number,)) for number in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert trouble == []
    with Store.open(tmp_path) as store:
        assert len(store.jobs()) == 8
        assert len(store.kept()) == 8 * 21
        assert all([row.seq for row in store.kept(job.code)] == list(range(21)) for job in store.jobs())
    assert [path.name for path in tmp_path.iterdir()] == [disk.FILE]


def test_reader_is_not_held_up_by_a_writer(store: Store) -> None:
    """The page shows the journal while a line is being stored."""
    with store.writing() as connection:
        connection.exec_driver_sql("INSERT INTO card VALUES ('k7f3', 'owner', 'x')")
        assert names(store) == "n"


def test_file_that_was_replaced_while_open_is_noticed(store: Store, tmp_path: Path) -> None:
    """An entry that would go into a file nobody can find again is not acknowledged."""
    store.file.rename(tmp_path / "away")
    with pytest.raises(StoreDamaged, match="was replaced while it was open"):
        store.append("k7f3", [entry("a", at=2)])


def test_body_that_cannot_be_read_is_told_with_its_line(store: Store) -> None:
    """A flipped byte inside a record names the record."""
    row = msgspec.structs.asdict(store.kept()[0]) | {"id": "bad", "seq": 1, "line": "comp 175", "body": '{"type":"?"}'}
    with closing(sqlite3.connect(store.file)) as connection:
        connection.execute(
            "INSERT INTO entry VALUES (:id, :job, :seq, :at, :entered, :line, :look, :body, :version)", row
        )
        connection.commit()
    with pytest.raises(StoreDamaged, match=r"Entry 'bad' of job k7f3 \('comp 175'\) cannot be read"):
        store.entries("k7f3")


def test_note_of_any_length_is_kept(store: Store) -> None:
    """A pasted log is one entry, if a long one."""
    store.append("k7f3", [entry("long", Note("x" * 2_000_000), at=2)])
    assert store.entries("k7f3")[1].body == Note("x" * 2_000_000)
