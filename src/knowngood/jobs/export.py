"""A journal as text, one JSON line an entry, and back again.

An export holds each entry with its job and its place, in time order; read into another workshop it gives the same
state, read into its own it changes nothing, and two workshops that read each other's become equal.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace

import msgspec
from sqlalchemy import insert, select

from knowngood.errors import Problem, Refused
from knowngood.evidence import BODY_VERSION
from knowngood.jobs import admission
from knowngood.jobs.kept import Kept, newer_form, why_not
from knowngood.jobs.schema import CARD
from knowngood.jobs.store import Store, add

MAKE_ANEW = "Export the journal again, or take the line out; nothing was stored."


class CardLine(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One field of a card, in an export that was asked to hold cards."""

    card: str
    field: str
    text: str


class _Form(msgspec.Struct, frozen=True):
    """What is read of a line before anything else."""

    version: int = 0
    card: str | None = None


@dataclass(frozen=True)
class TakenIn:
    """What an import did.

    Parameters
    ----------
    added : int
        Entries that were new here.
    here_already : int
        Entries that were here, word for word.
    jobs : tuple of str
        Codes of the jobs the file speaks of.
    """

    added: int
    here_already: int
    jobs: tuple[str, ...]


def write_out(store: Store, job: str = "", *, with_card: bool = False) -> str:
    """The journal of a job (of all jobs when none is named) as text.

    Parameters
    ----------
    store : Store
    job : str
    with_card : bool
        Also the cards: names, plates, numbers of people. Left out unless asked for.

    Raises
    ------
    Refused
        There is no such job.
    """
    if job:
        store.entries(job)
    lines = [msgspec.json.encode(one) for one in store.kept(job)]
    if with_card:
        query = select(CARD).where(CARD.c.job == job) if job else select(CARD)
        with store.reading() as connection:
            rows = connection.execute(query.order_by(CARD.c.job, CARD.c.field)).all()
        lines += [msgspec.json.encode(CardLine(*row)) for row in rows]
    return "".join(f"{line.decode()}\n" for line in lines)


def read_in(store: Store, text: bytes, *, name: str, codes: Mapping[str, str] | None = None) -> TakenIn:
    """Add the entries of an export; those that are here already, word for word, are passed over.

    All or nothing: when one line cannot be taken, none is stored, and every such line is named.

    Parameters
    ----------
    store : Store
    text : bytes
        The export, UTF-8.
    name : str
        What the file is called in messages.
    codes : mapping or None
        Job code in the file -> job code here, where two workshops gave one code to two cars.

    Returns
    -------
    TakenIn

    Raises
    ------
    Refused
        Lines cannot be read or speak against what is here; all of them, with their numbers.
    StoreDamaged
        An entry that is here already cannot be read.
    """
    entries, cards = _lines(text, name, codes or {})
    with store.writing() as connection:
        new, found = admission.sort_out(connection, [one for _, one in entries])
        problems = [replace(problem, file=name, line=entries[index][0]) for index, problem in found]
        here = {(row.job, row.field): row.text for row in connection.execute(select(CARD))}
        problems += _card_problems(cards, here, {one.job for _, one in entries}, name)
        if problems:
            raise Refused(sorted(problems, key=lambda problem: problem.line))
        add(connection, new)
        fresh = {(one.card, one.field): one.text for _, one in cards if (one.card, one.field) not in here}
        for (job, field), words in fresh.items():
            connection.execute(insert(CARD).values(job=job, field=field, text=words))
    return TakenIn(len(new), len(entries) - len(new), tuple(sorted({one.job for _, one in entries})))


def _lines(
    text: bytes, name: str, codes: Mapping[str, str]
) -> tuple[list[tuple[int, Kept]], list[tuple[int, CardLine]]]:
    """Entries and card fields, each with the number of its line; `Refused` names every line that is neither."""
    entries: list[tuple[int, Kept]] = []
    cards: list[tuple[int, CardLine]] = []
    problems: list[Problem] = []
    for number, line in enumerate(text.split(b"\n"), start=1):
        if not line.strip():
            continue
        met = _line(line, codes)
        if isinstance(met, Problem):
            problems.append(replace(met, file=name, line=number))
        elif isinstance(met, CardLine):
            cards.append((number, met))
        else:
            entries.append((number, met))
    if problems:
        raise Refused(problems)
    if not entries:
        raise Refused(Problem("There is no entry in it.", "Take a file that was written by an export.", file=name))
    return entries, cards


def _line(line: bytes, codes: Mapping[str, str]) -> Kept | CardLine | Problem:
    try:
        form = msgspec.json.decode(line, type=_Form)
        if form.card is not None:
            card = msgspec.json.decode(line, type=CardLine)
            return msgspec.structs.replace(card, card=codes.get(card.card, card.card))
        if form.version > BODY_VERSION:
            return newer_form("This entry", form.version, "Import it with the newer version; nothing was stored.")
        one = msgspec.json.decode(line, type=Kept)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError) as trouble:
        return Problem(f"This is not an entry: {_start(line)} ({trouble}).", MAKE_ANEW)
    if one.seq < 0:
        return Problem(f"The place of this entry is {one.seq}, below 0.", MAKE_ANEW)
    return why_not(one.entry()) or msgspec.structs.replace(one, job=codes.get(one.job, one.job))


def _start(line: bytes) -> str:
    words = line.decode(errors="replace").strip()
    return repr(words if len(words) <= 40 else f"{words[:40]}...")


def _card_problems(
    cards: Iterable[tuple[int, CardLine]], here: Mapping[tuple[str, str], str], jobs: set[str], name: str
) -> list[Problem]:
    problems = []
    known = dict(here)
    for number, one in cards:
        if one.card not in jobs:
            fact = f"This card belongs to job '{one.card}', of which the file holds no entry."
            problems.append(Problem(fact, MAKE_ANEW, file=name, line=number))
        elif known.setdefault((one.card, one.field), one.text) != one.text:
            fact = f"The card of job {one.card} says something else under '{one.field}' here."
            problems.append(Problem(fact, "Erase one of the two; nothing was stored.", file=name, line=number))
    return problems
