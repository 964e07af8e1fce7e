"""What may be added to the journal that is already there."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

import msgspec
from sqlalchemy import Connection, Row, func, select

from knowngood.errors import Problem, Refused, StoreDamaged
from knowngood.evidence import BODY_VERSION, Body, CarFact, Setting, Strike
from knowngood.jobs.kept import Kept, newer_form
from knowngood.jobs.schema import ENTRY

SHOP = "shop"
"""The job that is no car: what holds for the whole workshop. Each workshop has one, so two of them join."""
CODE = re.compile(r"[a-z0-9-]{1,16}")
"""What is taken as the code of a job; wider than what is drawn for a new one."""
AT_A_TIME = 500
"""Ids asked for in one query; the engine allows 999 in its oldest form."""


def read(row: Row[tuple[object, ...]]) -> Kept:
    """A row of the journal table as a record.

    Raises
    ------
    Refused
        It was written by a newer version.
    StoreDamaged
        Its body cannot be read.
    """
    columns = row._asdict()
    if columns["version"] > BODY_VERSION:
        what = f"Entry '{columns['id']}'"
        raise Refused(newer_form(what, columns["version"], "Use the newer version; nothing was changed."))
    try:
        columns["body"] = msgspec.json.decode(columns["body"], type=Body)
    except msgspec.DecodeError as trouble:
        fact = f"Entry '{columns['id']}' of job {columns['job']} ('{columns['line']}') cannot be read: {trouble}."
        raise StoreDamaged(Problem(fact, "Move the workshop away, then restore the last copy.")) from trouble
    return Kept(**columns)


def row_of(one: Kept) -> dict[str, object]:
    """The columns of a record."""
    return {**msgspec.structs.asdict(one), "body": msgspec.json.encode(one.body).decode()}


def next_seq(connection: Connection, job: str) -> int:
    """The place the next entry of a job takes; 0 for a job that is not there."""
    last = connection.execute(select(func.max(ENTRY.c.seq)).where(ENTRY.c.job == job)).scalar()
    return 0 if last is None else int(last) + 1


def found(connection: Connection, ids: Iterable[str]) -> dict[str, Kept]:
    """Those entries that are in the journal, by id."""
    wanted = list(ids)
    here: dict[str, Kept] = {}
    for start in range(0, len(wanted), AT_A_TIME):
        query = select(ENTRY).where(ENTRY.c.id.in_(wanted[start : start + AT_A_TIME]))
        here.update((row.id, read(row)) for row in connection.execute(query))
    return here


def sort_out(connection: Connection, rows: Sequence[Kept]) -> tuple[list[Kept], list[tuple[int, Problem]]]:
    """Which of some entries are new here, and what speaks against them.

    Returns
    -------
    new : list of Kept
        Without those that are here already, word for word.
    problems : list of (int, Problem)
        With the index of the entry.
    """
    strikes = [one.body.entry for one in rows if isinstance(one.body, Strike)]
    here = found(connection, {one.id for one in rows} | set(strikes))
    seen: dict[str, Kept] = dict(here)
    new: list[Kept] = []
    problems: list[tuple[int, Problem]] = []
    index_of: dict[str, int] = {}
    for index, one in enumerate(rows):
        earlier = seen.get(one.id)
        if earlier is None:
            seen[one.id] = one
            index_of[one.id] = index
            new.append(one)
        elif msgspec.structs.replace(earlier, seq=one.seq) != one:
            problems.append((index, _two_under_one_id(earlier, one)))
    problems += ((index_of[one.id], problem) for one, problem in _strike_problems(new, seen))
    problems += ((index_of[one.id], problem) for one, problem in _job_problems(connection, new))
    return new, sorted(problems, key=lambda pair: pair[0])


def _two_under_one_id(earlier: Kept, later: Kept) -> Problem:
    return Problem(
        f"Two entries have the id '{later.id}': {_in_short(earlier)} is here, {_in_short(later)} is new.",
        "An entry is never replaced; strike the one that is wrong and type the other as a line of its own.",
    )


def _in_short(one: Kept) -> str:
    return f"'{one.line or msgspec.json.encode(one.body).decode()}' ({one.job}, typed {one.entered})"


def _strike_problems(new: Iterable[Kept], seen: dict[str, Kept]) -> Iterator[tuple[Kept, Problem]]:
    for one in new:
        if not isinstance(one.body, Strike):
            continue
        struck = seen.get(one.body.entry)
        if struck is None or struck.job != one.job:
            fact = f"A strike names the entry '{one.body.entry}', which is not in job {one.job}."
            yield one, Problem(fact, "Take the id from the journal.")
        elif _goes_round(one, seen):
            fact = f"The strike '{one.id}' takes back itself, in a circle."
            yield one, Problem(fact, "Name an entry that was there before it.")


def _goes_round(one: Kept, seen: dict[str, Kept]) -> bool:
    passed: set[str] = set()
    at: Kept | None = one
    while at is not None and isinstance(at.body, Strike):
        if at.id in passed:
            return True
        passed.add(at.id)
        at = seen.get(at.body.entry)
    return False


def _job_problems(connection: Connection, new: Sequence[Kept]) -> Iterator[tuple[Kept, Problem]]:
    firsts: dict[str, Kept] = {}
    for one in new:
        firsts.setdefault(one.job, one)
    born = {one.job: one for one in reversed(new) if one.seq == 0}
    for job, first in firsts.items():
        if job == SHOP:
            strange = next((one for one in new if one.job == SHOP and not isinstance(one.body, Setting | Strike)), None)
            if strange is not None:
                yield strange, Problem(f"{_in_short(strange)} is no setting.", "Say it of a car.")
            continue
        if not CODE.fullmatch(job):
            yield first, Problem(f"'{job}' is not a job code.", "Use small letters and digits, like k7f3.")
            continue
        query = select(ENTRY).where(ENTRY.c.job == job, ENTRY.c.seq == 0)
        here = connection.execute(query).first()
        if here is None and not (job in born and _names_a_car(born[job])):
            yield first, Problem(f"There is no job '{job}'.", "A job begins with the nickname of its car.")
        elif here is not None and job in born:
            fact = f"Job {job} is {_in_short(read(here))} here, and {_in_short(born[job])} there."
            yield born[job], Problem(fact, "Two cars have one code: import it under another one.")


def _names_a_car(one: Kept) -> bool:
    return isinstance(one.body, CarFact) and one.body.field == "nickname"
