"""The journal of a workshop: entries are added to it and never changed."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import Any

import msgspec
from sqlalchemy import Connection, Engine, QueuePool, create_engine, event, insert, or_, select

from knowngood.errors import Problem, Refused, StoreDamaged
from knowngood.evidence import CarFact, Entry
from knowngood.jobs import admission, disk
from knowngood.jobs.fold import moment, standing
from knowngood.jobs.kept import Kept, kept, why_not
from knowngood.jobs.schema import ENTRY


@dataclass(frozen=True)
class Job:
    """One car being brought back, as a list of jobs shows it.

    Parameters
    ----------
    code : str
        What is typed to name it.
    nickname : str
        What the mechanic calls the car now.
    began : str
        When its first entry was typed, ISO 8601 in UTC.
    """

    code: str
    nickname: str
    began: str


class Store:
    """One workshop file. It is its own context manager; :meth:`close` lets go of the file.

    May be used by several threads and by several programs at once.
    """

    def __init__(self, file: Path, engine: Engine, way_back: str) -> None:
        self.file = file
        self._engine = engine
        self._way_back = way_back
        self._identity = _identity(file)

    @classmethod
    def open(cls, folder: Path, *, copies: Path | None = None) -> Store:
        """The workshop in a folder; a new one when the folder holds none.

        Parameters
        ----------
        folder : Path
            Made when it is missing.
        copies : Path or None
            Where the daily copies are, so that a damaged file can be told with the copy to restore.

        Raises
        ------
        StoreDamaged
            The file is not a workshop file, or damaged, or its log is there without it.
        Refused
            The folder cannot be made or a new workshop not written, the disk does not keep what is promised, or the
            file is of a newer version. A workshop that is there can be read on a read-only disk.
        """
        file = folder / disk.FILE
        way_back = way_back_from(copies)
        with disk.in_plain_words(file, way_back):
            folder.mkdir(parents=True, exist_ok=True)
            if not file.exists():
                if file.with_name(f"{file.name}-wal").exists():
                    fact = f"{file} is gone, but its log {file.name}-wal is still there."
                    raise StoreDamaged(Problem(fact, way_back))
                disk.make(file)
            if file.stat().st_size == 0:
                raise StoreDamaged(Problem(f"{file} is empty: 0 bytes.", way_back))
            with contextlib.closing(disk.connect(file)) as connection:
                disk.check_form(connection, file, way_back)
        engine = create_engine("sqlite://", creator=lambda: disk.connect(file), poolclass=QueuePool)
        event.listen(engine, "begin", _begin)
        return cls(file, engine, way_back)

    def close(self) -> None:
        """Let go of the file; its log is worked into it when nobody else has it open."""
        self._engine.dispose()

    def __enter__(self) -> Store:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.close()

    @contextlib.contextmanager
    def reading(self) -> Iterator[Connection]:
        """A connection that sees one state of the file."""
        with disk.in_plain_words(self.file, self._way_back):
            self._still_there()
            with self._engine.begin() as connection:
                yield connection

    @contextlib.contextmanager
    def writing(self) -> Iterator[Connection]:
        """A connection nobody else writes beside; all of it is on disk when the block is left, or none."""
        with disk.in_plain_words(self.file, self._way_back):
            self._still_there()
            with self._engine.connect().execution_options(writes=True) as connection, connection.begin():
                yield connection

    def append(self, job: str, entries: Sequence[Entry]) -> None:
        """Add entries to a job, all or none. They are on disk when this returns, and only then.

        The first entry of a new job is its birth: it tells the car's nickname. An entry that is here already, word
        for word, is passed over, so that an append may be sent again when its answer was lost.

        Raises
        ------
        Refused
            An entry cannot be kept, has the id of another, strikes one that is not there; the job is not there; the
            disk is full, cannot be written or is held by another program.
        StoreDamaged
            The file cannot be read, or was moved away while it was open.
        """
        problems = [problem for entry in entries if (problem := why_not(entry)) is not None]
        if problems:
            raise Refused(problems)
        with self.writing() as connection:
            first = admission.next_seq(connection, job)
            rows = [kept(job, first + index, entry) for index, entry in enumerate(entries)]
            new, found = admission.sort_out(connection, rows)
            if found:
                raise Refused(problem for _, problem in found)
            add(connection, new)

    def kept(self, job: str = "") -> list[Kept]:
        """All entries of a job (of all jobs when none is named) with their places, in time order inside each job."""
        query = select(ENTRY).where(ENTRY.c.job == job) if job else select(ENTRY)
        with self.reading() as connection:
            rows = [admission.read(row) for row in connection.execute(query)]
        return sorted(rows, key=in_journal)

    def entries(self, job: str) -> list[Entry]:
        """All entries of a job in time order: by when they happened, then when they were typed.

        Raises
        ------
        Refused
            There is no such job; the jobs there are, are named.
        StoreDamaged
            An entry cannot be read.
        """
        rows = self.kept(job)
        if not job or not rows:
            there = ", ".join(f"{one.code} {one.nickname}" for one in self.jobs()) or "none yet"
            raise Refused(Problem(f"There is no job '{job}'.", f"Jobs: {there}."))
        return [row.entry() for row in rows]

    def jobs(self) -> list[Job]:
        """The jobs in the order they began, each with the nickname its car has now."""
        of_interest = or_(
            ENTRY.c.seq == 0,
            ENTRY.c.body.like('{"type":"car","field":"nickname"%'),
            ENTRY.c.body.like('{"type":"strike"%'),
        )
        with self.reading() as connection:
            rows = [admission.read(row) for row in connection.execute(select(ENTRY).where(of_interest))]
        by_job: dict[str, list[Kept]] = {}
        for row in sorted(rows, key=in_journal):
            if row.job != admission.SHOP:
                by_job.setdefault(row.job, []).append(row)
        jobs = [_job(code, rows) for code, rows in by_job.items()]
        return sorted(jobs, key=lambda job: (job.began, job.code))

    def cut_log(self) -> bool:
        """Work the log into the file and cut it to nothing; ``False`` when another program was in the way."""
        with disk.in_plain_words(self.file, self._way_back), contextlib.closing(disk.connect(self.file)) as connection:
            (in_the_way, _, _) = connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
        return not in_the_way

    def _still_there(self) -> None:
        if _identity(self.file) != self._identity:
            fact = f"{self.file} was replaced while it was open."
            raise StoreDamaged(
                Problem(fact, "Start the program again; what was acknowledged is in the file of before.")
            )


def add(connection: Connection, rows: Sequence[Kept]) -> None:
    """Write entries that have been sorted out already."""
    if rows:
        connection.execute(insert(ENTRY), [admission.row_of(row) for row in rows])


def in_journal(row: Kept) -> tuple[str, str, str, int, str]:
    """Sort key: job, then time order, then place; the id decides between two devices."""
    return row.job, moment(row.at), moment(row.entered), row.seq, row.id


def way_back_from(copies: Path | None) -> str:
    """What to do about a damaged file, with the last copy if there is one."""
    last = max(disk.copies_in(copies), default=None) if copies is not None else None
    away = f"Move {disk.FILE} and the files beside it that begin with its name into another folder and keep them"
    return f"{away}; then restore the last copy{f': {last}' if last else ''}."


def _job(code: str, rows: Sequence[Kept]) -> Job:
    """A job as listed. It began with the entry in place 0, which no import moves; the nickname is what stands now."""
    began = next(row for row in rows if row.seq == 0)
    told = [row for row in standing(row.entry() for row in rows) if isinstance(row.body, CarFact)]
    named = [row.body.value for row in told if isinstance(row.body, CarFact) and row.body.field == "nickname"]
    named = named or [began.body.value] if isinstance(began.body, CarFact) else named
    return Job(code, str(msgspec.json.decode(named[-1])), began.entered)


def _identity(file: Path) -> tuple[int, int]:
    try:
        met = file.stat()
    except FileNotFoundError:
        return (0, 0)
    return met.st_dev, met.st_ino


def _begin(connection: Connection) -> Any:
    writes = connection.get_execution_options().get("writes")
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")
