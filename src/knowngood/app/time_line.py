"""The story of a job in time: what was told, read, found and done, day by day; and how one thing read has moved."""

from __future__ import annotations

import re
from collections.abc import Iterable

import msgspec

from knowngood.app.bay_time import bay_day
from knowngood.app.pieces import DONE, work_words
from knowngood.app.proof import NO_EFFECT, NOT_YET, NOTHING, PROVED, UPKEEP, Proof
from knowngood.app.state import State
from knowngood.app.story import Chapter, name_of, said_of
from knowngood.evidence import CarFact, Entry, Finding, Reading, Work
from knowngood.lines.service import BUNDLE

SAYS, READ, FOUND, DID = "told", "read", "found", "done"


class Moment(msgspec.Struct, frozen=True):
    """One line of one day: ``told``, ``read``, ``found`` or ``done``, in the words it was typed or the work's own."""

    day: str
    kind: str
    words: str


class History(msgspec.Struct, frozen=True):
    """One thing, read on more than one day: its name, and what it said on which day."""

    name: str
    points: list[tuple[str, str]]


def time_line(state: State) -> list[Moment]:
    """Every typed line that counts, in time order: once as it begins, and with each piece of work it tells of."""
    seen: dict[tuple[str, str], list[Moment]] = {}
    for entry in state.entries:
        kind = _kind(state, entry)
        if not kind:
            continue
        told = seen.setdefault((entry.at, entry.line), [])
        moment = Moment(bay_day(entry.at), kind, _words(state, entry))
        if not told or (kind == DID and moment not in told):
            told.append(moment)
    return [moment for told in seen.values() for moment in told]


def days_of(moments: Iterable[Moment]) -> list[tuple[str, str]]:
    """Each day with its moments in one sentence, the kinds in the order of the day."""
    days: dict[str, dict[str, list[str]]] = {}
    for moment in moments:
        days.setdefault(moment.day, {}).setdefault(moment.kind, []).append(moment.words)
    return [
        (day, ". ".join(f"{kind.capitalize()}: {'; '.join(words)}" for kind, words in kinds.items()))
        for day, kinds in days.items()
    ]


def histories(state: State) -> list[History]:
    """What was read on two days or more, over the life of the job: the last reading of each day."""
    points: dict[str, dict[str, str]] = {}
    for entry in state.entries:
        body = entry.body
        if isinstance(body, Reading) and not body.doubt and body.kind != "code":
            points.setdefault(name_of(state, body), {})[bay_day(entry.at)] = said_of(state, body)
    return [History(name, list(days.items())) for name, days in points.items() if len(days) > 1]


def chapter_words(chapter: Chapter, proof: Proof) -> str:
    """One sentence a fault: what was wrong, what was done, what shows that it worked.

    >>> proof = Proof(work="", verdict=PROVED, left=0.01, shown=[], needs=[])
    >>> chapter_words(Chapter("2026-05-01", "vacuum hose chewed", "replaced vacuum hose", ["trim: +19 before"]), proof)
    'vacuum hose chewed; replaced vacuum hose; proved by trim: +19 before.'
    """
    if proof.verdict == UPKEEP:
        return f"{chapter.done}; {UPKEEP}, nothing was read before it that it would change."
    changed = bool(chapter.shown_by) and proof.verdict in (PROVED, NOT_YET)  # what was read before it called for it
    founded = changed or chapter.done.startswith(BUNDLE)
    was = f"{chapter.was}; " if chapter.was else "" if founded else "on suspicion: "
    if proof.verdict == NOTHING:
        return f"{was}{chapter.done}{'' if chapter.done.endswith(NO_EFFECT) else f'; {NOTHING}'}."
    by = " and ".join(chapter.shown_by)
    shown = f" by {by}" if by and proof.verdict == PROVED else f" ({by})" if by else ""
    return f"{was}{chapter.done}; {proof.verdict}{shown}."


def _kind(state: State, entry: Entry) -> str:
    match entry.body:
        case Work():
            return DID
        case Finding():
            return FOUND
        case CarFact(field=field):
            return "" if field == "nickname" else SAYS
        case Reading() as reading:
            kind = state.library.readings.get(reading.kind)
            return SAYS if kind is not None and kind.complaint else READ
    return ""


def _words(state: State, entry: Entry) -> str:
    body = entry.body
    if isinstance(body, Work) and body.do in DONE and body.who == "here" and body.words != BUNDLE:
        return work_words(state, body)
    if isinstance(body, Finding):
        return re.sub(r"^found\s*:?\s+", "", entry.line, flags=re.IGNORECASE)  # it stands under that word
    return entry.line
