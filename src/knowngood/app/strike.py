"""A line struck with a reason: it stays in the journal, and counts no more."""

from __future__ import annotations

from knowngood.app.workshop import Workshop
from knowngood.errors import Problem, Refused
from knowngood.evidence import Strike
from knowngood.jobs.fold import birth

REASONS = ("mistyped", "read wrong", "wrong place", "not of this car")
LONGEST = 200


def strike_line(workshop: Workshop, job: str, entry_id: str, why: str, *, at: str = "") -> str:
    """Strike every entry of the line that an entry belongs to; the words of that line.

    Raises
    ------
    Refused
        No reason was given, the line is not there or struck already, or it is the one the car began with.
    """
    why = " ".join(why.split())
    if not 0 < len(why) <= LONGEST:
        raise Refused(Problem(f"A reason of {len(why)} characters.", f"Say why in 1 to {LONGEST} characters."))
    entries = workshop.entries(job)
    named = next((entry for entry in entries if entry.id == entry_id), None)
    if named is None:
        raise Refused(Problem("This line does not stand any more.", "Open the journal again."))
    if named.id == birth(entries).id:
        raise Refused(Problem(f"'{named.line}' began this job and stays.", "Type another nickname to change it."))
    of_line = [entry for entry in entries if (entry.line, entry.entered) == (named.line, named.entered)]
    workshop.keep(job, f"struck: {named.line} ({why})", [Strike(entry.id, why) for entry in of_line], at=at)
    return named.line
