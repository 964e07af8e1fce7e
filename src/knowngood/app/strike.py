"""A line struck with a reason: it stays in the journal, and counts no more."""

from __future__ import annotations

from collections.abc import Iterable

from knowngood.app.workshop import SaidLine, Workshop
from knowngood.errors import Problem, Refused
from knowngood.evidence import Strike
from knowngood.jobs.fold import UNDO, birth, standing, typed

REASONS = ("mistyped", "read wrong", "wrong place", "not of this car")
LONGEST = 200


def strike_line(workshop: Workshop, job: str, entry_id: str, why: str, *, at: str = "") -> SaidLine:
    """Strike every entry of the line that an entry belongs to.

    Raises
    ------
    Refused
        No reason was given, the line is not there or struck already, or it is the one the car began with.
    """
    why = " ".join(why.split())
    if not why:
        raise Refused(Problem("No reason was given.", f"Say why in 1 to {LONGEST} characters."))
    if len(why) > LONGEST:
        raise Refused(Problem(f"The reason has {len(why)} characters.", f"Say why in 1 to {LONGEST} characters."))
    entries = workshop.entries(job)
    named = next((entry for entry in entries if entry.id == entry_id), None)
    if named is None:
        raise Refused(Problem("This line does not stand any more.", "Open the journal again."))
    if named.id == birth(entries).id:
        raise Refused(Problem(f"'{named.line}' began this job and stays.", "Type another nickname to change it."))
    of_line = [entry for entry in entries if (entry.line, entry.entered) == (named.line, named.entered)]
    reason = why if why != UNDO else f"typed: {why}"  # an undo passes over what is marked as one of its own
    strikes = [Strike(entry.id, reason) for entry in of_line]
    return workshop.keep(job, f"struck: {named.line} ({why})", strikes, at=at)


def take_back(workshop: Workshop, job: str, entry_ids: Iterable[str]) -> str:
    """Take back the lines that these entries belong to, and no other; what became of each, in words.

    A line that is struck already stays so, and that is said: an undo may come twice, or after another hand's.

    Raises
    ------
    Refused
        No entry is named, one is none of this job, or it is the one the car began with; lines before it are struck.
    """
    said = []
    for entry_id in entry_ids:
        entries = workshop.store.entries(job)
        counts = any(entry.id == entry_id for entry in standing(entries))
        struck = None if counts else next((entry for entry in entries if entry.id == entry_id), None)
        said.append(f"Struck before: {struck.line}." if struck else f"Struck: {workshop.undo(job, of=entry_id)}.")
    if not said:
        raise Refused(Problem("What is to be taken back was not named.", "Strike it in the journal."))
    return " ".join(said)


def to_take_back(workshop: Workshop, job: str) -> list[str]:
    """Entries that can be taken back, those of the line typed last at the end."""
    return [entry.id for entry in typed(workshop.store.entries(job))]
