"""A workshop file and its connections: made once, opened safely, its troubles told in plain words."""

from __future__ import annotations

import contextlib
import os
import sqlite3
import threading
from collections.abc import Iterator
from pathlib import Path

from sqlalchemy.exc import DBAPIError

from knowngood.errors import KnownGoodError, Problem, Refused, StoreDamaged
from knowngood.jobs import schema

FILE = "workshop.sqlite"
WAIT_S = 10.0
"""How long a connection waits for another program that is writing (ours)."""

# What a connection is told, and what it must answer when it is asked. synchronous 2 is FULL: the log is on the disk
# before a commit returns; fullfsync does the same where a plain sync is not enough (it changes nothing elsewhere).
PROMISES: dict[str, tuple[str, object]] = {
    "journal_mode": ("WAL", "wal"),
    "synchronous": ("FULL", 2),
    "fullfsync": ("1", 1),
    "secure_delete": ("1", 1),
    "recursive_triggers": ("1", 1),
    "trusted_schema": ("0", 0),
}

NO_SPACE = (sqlite3.SQLITE_FULL,)
HELD = (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)
NOT_WRITABLE = (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_PERM, sqlite3.SQLITE_AUTH)
NOT_TAKEN = (sqlite3.SQLITE_IOERR,)
NOT_READABLE = (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_ERROR, sqlite3.SQLITE_FORMAT)


def connect(file: Path) -> sqlite3.Connection:
    """A connection that keeps the promises; every one is read back first.

    Raises
    ------
    Refused
        The disk or the database engine does not keep one of them.
    """
    connection = sqlite3.connect(file, timeout=WAIT_S, isolation_level=None, check_same_thread=False)
    try:
        for name, (wanted, _) in PROMISES.items():
            connection.execute(f"PRAGMA {name} = {wanted}")
        for name, (wanted, must_be) in PROMISES.items():
            (met,) = connection.execute(f"PRAGMA {name}").fetchone()
            if met != must_be:
                fact = (
                    f"No workshop can be kept safely in {file.parent}: {name} is {met!r} where {wanted} was asked for."
                )
                raise Refused(Problem(fact, "Keep it on a disk of this machine."))
    except BaseException:
        connection.close()
        raise
    return connection


def make(file: Path) -> None:
    """Make an empty workshop file, whole or not at all; one that is there by then is left as it is."""
    draft = file.with_name(f"{file.name}.{os.getpid()}-{threading.get_ident()}.new")
    _sweep(draft)
    try:
        with contextlib.closing(connect(draft)) as connection:
            schema.make(connection)
        settle(draft, file)
    finally:
        _sweep(draft)


def _sweep(draft: Path) -> None:
    for ending in ("", "-wal", "-shm", "-journal"):
        draft.with_name(f"{draft.name}{ending}").unlink(missing_ok=True)


def settle(draft: Path, file: Path) -> None:
    """Give a finished file its name without ever taking the place of another, and write that to the disk."""
    try:
        os.link(draft, file)
    except FileExistsError:
        pass
    except OSError:
        # a disk without hard links
        if not file.exists():
            draft.rename(file)
    sync_folder(file.parent)


def copies_in(folder: Path) -> list[Path]:
    """The daily copies in a folder, oldest first; what is called otherwise is none."""
    return sorted(folder.glob("workshop-????-??-??.sqlite"))


def sync_folder(folder: Path) -> None:
    """Write a folder's list of names to the disk, where the system can."""
    if not hasattr(os, "O_DIRECTORY"):
        return
    descriptor = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(descriptor)
    finally:
        os.close(descriptor)


def check_form(connection: sqlite3.Connection, file: Path, way_back: str) -> None:
    """Whether a file is a whole workshop file of a form this version knows.

    Raises
    ------
    StoreDamaged
        It is not a workshop file, or its tables, triggers or pages are not as they were written.
    Refused
        Its form is newer than this version of the program.
    """
    found = schema.number(connection)
    if found is None:
        raise StoreDamaged(Problem(f"{file} is a database, but not a workshop file.", way_back))
    if found > schema.SCHEMA:
        fact = f"{file} was written by a newer version: its form is {found}, this version knows {schema.SCHEMA}."
        raise Refused(Problem(fact, "Open it with the newer version; nothing was changed."))
    differing = schema.differs(connection)
    if differing:
        fact = f"{file} has been changed from outside: {', '.join(differing)} not as written."
        raise StoreDamaged(Problem(fact, way_back))
    (verdict,) = connection.execute("PRAGMA quick_check(1)").fetchone()
    if verdict != "ok":
        raise StoreDamaged(Problem(f"{file} is damaged: {verdict}.", way_back))


@contextlib.contextmanager
def in_plain_words(file: Path, way_back: str) -> Iterator[None]:
    """Turn what the database engine or the disk raises into errors of ours.

    Raises
    ------
    Refused
        The file is held by another program, or the disk is full, read-only or failing.
    StoreDamaged
        The file cannot be read. What is none of these is a mistake of ours and is raised as it is.
    """
    try:
        yield
    except DBAPIError as trouble:
        error = error_of_ours(trouble.orig, file, way_back) if isinstance(trouble.orig, sqlite3.Error) else None
        if error is None:
            raise
        raise error from trouble
    except sqlite3.Error as trouble:
        error = error_of_ours(trouble, file, way_back)
        if error is None:
            raise
        raise error from trouble
    except OSError as trouble:
        fact = f"{trouble.filename or file} cannot be used: {trouble.strerror or trouble}."
        raise Refused(Problem(fact, "Check the disk and the rights on the folder; nothing was changed.")) from trouble


def error_of_ours(trouble: sqlite3.Error, file: Path, way_back: str) -> KnownGoodError | None:
    """The error of ours for one of the engine's; ``None`` for one that is a mistake of the program."""
    kind = getattr(trouble, "sqlite_errorcode", 0) & 0xFF
    if kind in HELD:
        fact = f"{file} was held by another program for {WAIT_S:.0f} s."
        return Refused(Problem(fact, "Close the other one, then type it again; nothing was changed."))
    if kind in NO_SPACE:
        return Refused(Problem(f"The disk of {file} is full.", "Make room, then type it again; nothing was changed."))
    if kind in NOT_WRITABLE:
        fact = f"{file} cannot be written: {trouble}."
        return Refused(Problem(fact, "Check that its disk and folder may be written to; nothing was changed."))
    if kind in NOT_TAKEN:
        fact = f"The disk of {file} did not do what it was asked: {trouble}."
        return Refused(Problem(fact, "Check the disk, then type it again; nothing was acknowledged."))
    if kind in NOT_READABLE:
        return StoreDamaged(Problem(f"{file} cannot be read: {trouble}.", way_back))
    return None
