"""A copy in a second folder for each day of work, and the way back from it."""

from __future__ import annotations

import contextlib
import os
import sqlite3
from collections.abc import Iterator
from pathlib import Path

from sqlalchemy import func, insert, select

from knowngood.errors import Problem, Refused, StoreDamaged
from knowngood.jobs import disk
from knowngood.jobs.disk import copies_in
from knowngood.jobs.kept import STAMP, is_stamp
from knowngood.jobs.schema import CARD, ENTRY
from knowngood.jobs.store import Store, way_back_from

TAKE_ANOTHER = "Take another copy."


def copy_day(folder: Path, to: Path, *, now: str) -> Path:
    """Copy the workshop into a second folder, as the file of this day.

    The copy is one state of the workshop, also while others write to it; it is checked, and on disk, before it gets
    its name. A later copy of the same day takes the place of the earlier one only when it holds all that one holds.

    Parameters
    ----------
    folder : Path
        The workshop's; it may be open meanwhile, here and elsewhere.
    to : Path
        Made when it is missing. Best on another disk.
    now : str
        This moment, ISO 8601 in UTC with microseconds; its date names the copy.

    Returns
    -------
    Path
        ``workshop-2001-02-03.sqlite`` in that folder.

    Raises
    ------
    Refused
        There is no workshop; the second folder is the workshop's own, cannot be written or is full; or the day's copy
        holds more than the workshop.
    StoreDamaged
        The workshop, or the day's copy, is damaged.
    """
    if not is_stamp(now):
        raise Refused(Problem(f"'{now}' is not a moment.", f"Write it like {STAMP}."))
    copy = to / f"workshop-{now[:10]}.sqlite"
    draft = copy.with_name(f"{copy.name}.{os.getpid()}.new")
    if not (folder / disk.FILE).is_file():
        raise Refused(Problem(f"There is no workshop in {folder}.", f"Name the folder that holds {disk.FILE}."))
    if to.resolve() == folder.resolve():
        raise Refused(Problem(f"{to} is the workshop's own folder.", "Name another one, best on another disk."))
    with disk.in_plain_words(copy, TAKE_ANOTHER), _leaving_no(draft):
        to.mkdir(parents=True, exist_ok=True)
        _write(folder / disk.FILE, draft)
        if copy.exists():
            _refuse_to_lose(copy, draft)
        os.replace(draft, copy)
        disk.sync_folder(to)
    return copy


def restore(copy: Path, folder: Path) -> Path:
    """Make a workshop of a copy, in a folder that holds none yet, or one without an entry.

    Parameters
    ----------
    copy : Path
        A file made by :func:`copy_day`; it is only read.
    folder : Path
        Made when it is missing.

    Returns
    -------
    Path
        The workshop file.

    Raises
    ------
    Refused
        The folder holds a workshop with entries; there is no such copy; the disk cannot be written.
    StoreDamaged
        The copy is damaged.
    """
    with disk.in_plain_words(copy, TAKE_ANOTHER), contextlib.closing(_open_copy(copy)) as connection:
        disk.check_form(connection, copy, TAKE_ANOTHER)
        entries = connection.execute(_columns("entry", ENTRY.c.keys())).fetchall()
        cards = connection.execute(_columns("card", CARD.c.keys())).fetchall()
    with Store.open(folder) as store, store.writing() as there:
        held = there.execute(select(func.count()).select_from(ENTRY)).scalar_one()
        if held:
            fact = f"{store.file} holds {held} entries."
            raise Refused(Problem(fact, "Restore into an empty folder; nothing was changed."))
        for table, rows in ((ENTRY, entries), (CARD, cards)):
            if rows:
                there.execute(insert(table), [dict(zip(table.c.keys(), row, strict=True)) for row in rows])
        return store.file


def erase_card_in_copies(folder: Path, job: str) -> list[Path]:
    """Erase the card of a job in every copy of a folder.

    Returns
    -------
    list of Path
        The copies that held it.

    Raises
    ------
    StoreDamaged, Refused
        A copy cannot be read or written; those before it are done.
    """
    held = []
    for copy in copies_in(folder):
        with disk.in_plain_words(copy, TAKE_ANOTHER), contextlib.closing(_open_copy(copy, "rw")) as connection:
            disk.check_form(connection, copy, TAKE_ANOTHER)
            connection.execute("PRAGMA synchronous = FULL")
            connection.execute("PRAGMA secure_delete = 1")
            if connection.execute("DELETE FROM card WHERE job = ?", (job,)).rowcount:
                held.append(copy)
    return held


def _write(file: Path, draft: Path) -> None:
    way_back = way_back_from(draft.parent)
    draft.unlink(missing_ok=True)
    with (
        disk.in_plain_words(file, way_back),
        contextlib.closing(disk.connect(file)) as source,
        contextlib.closing(sqlite3.connect(draft, isolation_level=None)) as target,
    ):
        disk.check_form(source, file, way_back)
        target.execute("PRAGMA synchronous = FULL")
        source.backup(target)
        # one file, nothing beside it
        target.execute("PRAGMA journal_mode = DELETE")
        (verdict,) = target.execute("PRAGMA integrity_check(1)").fetchone()
        if verdict != "ok":
            raise StoreDamaged(Problem(f"{file} is damaged: {verdict}.", way_back))


def _refuse_to_lose(copy: Path, draft: Path) -> None:
    with contextlib.closing(_open_copy(copy)) as connection:
        disk.check_form(connection, copy, f"Move {copy.name} away, then copy again.")
        connection.execute("ATTACH ? AS draft", (str(draft),))
        query = "SELECT count(*) FROM entry WHERE id NOT IN (SELECT id FROM draft.entry)"
        (lost,) = connection.execute(query).fetchone()
    if lost:
        fact = f"{copy} holds {lost} entries that this workshop does not hold."
        raise Refused(
            Problem(fact, "Copy into another folder, and find out which of the two workshops is the right one.")
        )


def _open_copy(copy: Path, mode: str = "ro") -> sqlite3.Connection:
    if not copy.is_file():
        raise Refused(Problem(f"There is no copy {copy}.", "Name one of the files a daily copy made."))
    return sqlite3.connect(f"{copy.resolve().as_uri()}?mode={mode}", uri=True, isolation_level=None)


def _columns(table: str, names: list[str]) -> str:
    return f"SELECT {', '.join(names)} FROM {table}"


@contextlib.contextmanager
def _leaving_no(draft: Path) -> Iterator[None]:
    try:
        yield
    finally:
        draft.unlink(missing_ok=True)
