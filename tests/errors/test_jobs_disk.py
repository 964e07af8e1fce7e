"""Every refusal of the workshop file, word for word: damaged, foreign, newer, full, held, not to be written."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path

import pytest

from knowngood.errors import KnownGoodError, Refused, StoreDamaged
from knowngood.jobs import disk, schema
from knowngood.jobs.copies import copy_day, restore
from knowngood.jobs.store import Store
from tests.unit.jobs.workshop import NAME, entry, stamp

AWAY = "Move workshop.sqlite and the files beside it that begin with its name into another folder and keep them; then "
NO_COPY = AWAY + "restore the last copy."


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A workshop with enough entries to fill some pages."""
    with Store.open(tmp_path / "home") as store:
        store.append("k7f3", [entry("n", NAME)])
        store.append("k7f3", [entry(f"e{index}", at=index, line="x" * 500) for index in range(60)])
    return tmp_path / "home" / "workshop.sqlite"


def run(file: Path, *statements: str) -> None:
    with closing(sqlite3.connect(file)) as connection:
        for statement in statements:
            connection.execute(statement)
        connection.commit()


def open_and_read(file: Path) -> None:
    with Store.open(file.parent) as store:
        store.entries("k7f3")


def message(error: type[KnownGoodError], do: Callable[[], object]) -> str:
    with pytest.raises(error) as met:
        do()
    return str(met.value)


def test_file_that_is_no_database(file: Path) -> None:
    file.write_bytes(b"not a database, but long enough to be taken for one" * 100)
    assert message(StoreDamaged, lambda: open_and_read(file)) == (
        f"{file} cannot be read: file is not a database. {NO_COPY}"
    )


def test_empty_file(file: Path) -> None:
    file.write_bytes(b"")
    assert message(StoreDamaged, lambda: open_and_read(file)) == f"{file} is empty: 0 bytes. {NO_COPY}"


@pytest.mark.parametrize("left", [0.02, 0.3, 0.6, 0.99])
def test_file_cut_short(file: Path, left: float) -> None:
    """Wherever it was cut, it is told, with the way back and without a traceback of the engine's."""
    whole = file.read_bytes()
    file.write_bytes(whole[: int(len(whole) * left)])
    text = message(StoreDamaged, lambda: open_and_read(file))
    assert text.startswith((f"{file} cannot be read: ", f"{file} is damaged: "))
    assert text.endswith(NO_COPY)


def test_every_page_overwritten_is_noticed_or_harmless(file: Path) -> None:
    """Noise over one page after the other: never anything but the whole journal or a refusal."""
    whole = file.read_bytes()
    with Store.open(file.parent) as store:
        entries = store.entries("k7f3")
    noticed = 0
    for start in range(0, len(whole), 4096):
        file.write_bytes(whole[:start] + bytes(range(256)) * 16 + whole[start + 4096 :])
        try:
            with Store.open(file.parent) as store:
                assert store.entries("k7f3") == entries
        except StoreDamaged:
            noticed += 1
    assert noticed >= len(whole) // 4096 - 2


def test_database_of_another_program(tmp_path: Path) -> None:
    file = tmp_path / "workshop.sqlite"
    run(file, "CREATE TABLE entry (id)")
    assert message(StoreDamaged, lambda: open_and_read(file)) == (
        f"{file} is a database, but not a workshop file. {NO_COPY}"
    )


@pytest.mark.parametrize(
    ("statement", "names"),
    [
        ("DROP TRIGGER entry_is_never_deleted", "entry_is_never_deleted"),
        ("CREATE TRIGGER also AFTER INSERT ON entry BEGIN SELECT 1; END", "also"),
        ("ALTER TABLE entry ADD COLUMN more", "entry"),
        ("DROP TABLE card", "card"),
    ],
)
def test_form_changed_from_outside(file: Path, statement: str, names: str) -> None:
    run(file, statement)
    assert message(StoreDamaged, lambda: open_and_read(file)) == (
        f"{file} has been changed from outside: {names} not as written. {NO_COPY}"
    )


def test_file_of_a_newer_version(file: Path) -> None:
    run(file, f"PRAGMA user_version = {schema.SCHEMA + 1}")
    before = file.read_bytes()
    assert message(Refused, lambda: open_and_read(file)) == (
        f"{file} was written by a newer version: its form is 2, this version knows 1. "
        "Open it with the newer version; nothing was changed."
    )
    assert file.read_bytes() == before


def test_log_without_its_file(file: Path) -> None:
    with Store.open(file.parent) as store:
        store.append("k7f3", [entry("late", at=99)])
        shutil.copy(f"{file}-wal", file.parent / "log")
    file.unlink()
    (file.parent / "log").rename(f"{file}-wal")
    assert message(StoreDamaged, lambda: open_and_read(file)) == (
        f"{file} is gone, but its log workshop.sqlite-wal is still there. {NO_COPY}"
    )
    assert Path(f"{file}-wal").stat().st_size > 0


def test_last_copy_is_named(file: Path, tmp_path: Path) -> None:
    """Followed word for word, the message leads back to the workshop; a file called otherwise is no copy of a day."""
    copies = tmp_path / "copies"
    copy_day(file.parent, copies, now=stamp(0).replace("-03T", "-02T"))
    copy = copy_day(file.parent, copies, now=stamp(0))
    (copies / "workshop-old.sqlite").write_bytes(b"")
    with Store.open(file.parent) as store:
        entries = store.entries("k7f3")
    file.write_bytes(b"")
    text = message(StoreDamaged, lambda: Store.open(file.parent, copies=copies))
    assert text == f"{file} is empty: 0 bytes. {AWAY}restore the last copy: {copy}."
    (tmp_path / "kept").mkdir()
    for beside in file.parent.glob("workshop.sqlite*"):
        beside.rename(tmp_path / "kept" / beside.name)
    restore(Path(text.split("last copy: ")[1].removesuffix(".")), file.parent)
    with Store.open(file.parent) as store:
        assert store.entries("k7f3") == entries


def test_disk_is_full(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Met with a limit on pages; on a real file system in tests/durability/test_troubled_disk.py."""
    pages = file.stat().st_size // 4096
    monkeypatch.setitem(disk.PROMISES, "max_page_count", (str(pages), pages))
    with Store.open(file.parent) as store:
        before = store.kept()
        assert message(Refused, lambda: store.append("k7f3", [entry("big", at=1, line="x" * 50_000)])) == (
            f"The disk of {file} is full. Make room, then type it again; nothing was changed."
        )
        assert store.kept() == before


def test_file_is_held_by_another_program(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(disk, "WAIT_S", 0.1)
    with Store.open(file.parent) as store, Store.open(file.parent) as other, other.writing():
        assert message(Refused, lambda: store.append("k7f3", [entry("a", at=1)])) == (
            f"{file} was held by another program for 0 s. Close the other one, then type it again; nothing was changed."
        )


def test_file_cannot_be_written(file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Met with a connection that only reads; on a read-only disk in tests/durability/test_troubled_disk.py."""
    monkeypatch.setitem(disk.PROMISES, "query_only", ("1", 1))
    with Store.open(file.parent) as store:
        assert message(Refused, lambda: store.append("k7f3", [entry("a", at=1)])) == (
            f"{file} cannot be written: attempt to write a readonly database. "
            "Check that its disk and folder may be written to; nothing was changed."
        )


def test_file_cannot_be_opened(tmp_path: Path) -> None:
    file = tmp_path / "workshop.sqlite"
    file.mkdir()
    (file / "in the way").touch()
    assert message(Refused, lambda: Store.open(tmp_path)) == (
        f"{file} cannot be written: unable to open database file. "
        "Check that its disk and folder may be written to; nothing was changed."
    )


def test_folder_is_a_file(tmp_path: Path) -> None:
    (tmp_path / "home").touch()
    assert message(Refused, lambda: Store.open(tmp_path / "home")) == (
        f"{tmp_path / 'home'} cannot be used: File exists. "
        "Check the disk and the rights on the folder; nothing was changed."
    )


def test_disk_that_does_not_do_what_it_is_asked() -> None:
    """An error of the disk itself, as the engine names it."""
    trouble = sqlite3.OperationalError("disk I/O error")
    trouble.sqlite_errorcode = sqlite3.SQLITE_IOERR_FSYNC
    assert str(disk.error_of_ours(trouble, Path("workshop.sqlite"), "")) == (
        "The disk of workshop.sqlite did not do what it was asked: disk I/O error. "
        "Check the disk, then type it again; nothing was acknowledged."
    )


def test_promise_that_is_not_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(disk.PROMISES, "synchronous", ("NORMAL", 2))
    assert message(Refused, lambda: Store.open(tmp_path)) == (
        f"No workshop can be kept safely in {tmp_path}: synchronous is 1 where NORMAL was asked for. "
        "Keep it on a disk of this machine."
    )


def test_file_replaced_while_open(file: Path) -> None:
    with Store.open(file.parent) as store:
        shutil.copy(file, file.parent / "other")
        (file.parent / "other").replace(file)
        assert message(StoreDamaged, lambda: store.entries("k7f3")) == (
            f"{file} was replaced while it was open. "
            "Start the program again; what was acknowledged is in the file of before."
        )
