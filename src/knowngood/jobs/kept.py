"""An entry as it is kept and exported: with its job and its place in it, all in one flat record."""

from __future__ import annotations

import re
from datetime import datetime

import msgspec

from knowngood.car import Car
from knowngood.car.fold import with_fact
from knowngood.errors import Problem, Refused
from knowngood.evidence import BODY_VERSION, Body, CarFact, Entry

STAMP = "2001-02-03T04:05:06.000007Z"
"""A moment as it is written; the zone may also be ``+00:00``."""
SHAPE = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}\.[0-9]{6}(?:Z|\+00:00)")


class Kept(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One row of the journal.

    Parameters
    ----------
    id, at, entered, line, look, version
        As in :class:`knowngood.evidence.Entry`.
    job : str
        Code of the job.
    seq : int
        How many entries of the job were here before it when it was typed. It goes along in an export, so that
        entries of one moment stand in one order on every device.
    body : Body
    """

    id: str
    job: str
    seq: int
    at: str
    entered: str
    line: str
    look: str
    version: int
    body: Body

    def entry(self) -> Entry:
        """Without job and place."""
        return Entry(
            id=self.id,
            at=self.at,
            entered=self.entered,
            body=self.body,
            line=self.line,
            look=self.look,
            version=self.version,
        )


def kept(job: str, seq: int, entry: Entry) -> Kept:
    """An entry with its job and its place in it."""
    return Kept(
        id=entry.id,
        job=job,
        seq=seq,
        at=entry.at,
        entered=entry.entered,
        line=entry.line,
        look=entry.look,
        version=entry.version,
        body=entry.body,
    )


def newer_form(what: str, version: int, fix: str) -> Problem:
    """What is said of an entry whose form this version does not know."""
    return Problem(f"{what} was written by a newer version: form {version}, known is {BODY_VERSION}.", fix)


def why_not(entry: Entry) -> Problem | None:
    """What keeps an entry out of the journal, if anything does: what is let in must come out again as it was."""
    if not entry.id:
        return Problem("An entry has no id.", "Give each entry a random one.")
    for name, stamp in (("at", entry.at), ("entered", entry.entered)):
        if not is_stamp(stamp):
            return Problem(f"'{stamp}' is not a moment as `{name}` is kept.", f"Write it like {STAMP}.")
    if entry.version > BODY_VERSION:
        return newer_form(f"Entry '{entry.id}'", entry.version, "Use the newer version.")
    try:
        again = msgspec.json.decode(msgspec.json.encode(entry), type=Entry)
    except (UnicodeEncodeError, msgspec.DecodeError) as trouble:
        return Problem(f"Entry '{entry.id}' cannot be written down: {trouble}.", "Type it again.")
    if again != entry:
        return Problem(f"Entry '{entry.id}' does not come out as it goes in.", "Use finite numbers and plain text.")
    if isinstance(entry.body, CarFact):
        try:
            with_fact(Car(), entry.body)
        except Refused as refused:
            return refused.problems[0]
    return None


def is_stamp(text: str) -> bool:
    """Whether a text is a moment in UTC with microseconds; their one width lets them sort as text."""
    if not SHAPE.fullmatch(text):
        return False
    try:
        datetime.fromisoformat(text)
    except ValueError:
        return False
    return True
