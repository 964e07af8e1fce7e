"""Time on the car by the clock: started and stopped by a line or a tap, with the work done while it ran."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

import msgspec

from knowngood.app.bay_time import bay_time
from knowngood.evidence import Clock, Entry, Work
from knowngood.sheets.words import minutes

FORGOTTEN_MIN = 12 * 60.0  # a clock that ran longer was left running; it counts for nothing


class Session(msgspec.Struct, frozen=True):
    """One run of the clock.

    Parameters
    ----------
    start, end : str
        Moments; ``end`` is empty while it runs.
    minutes : float or None [min]
        None while it runs, and where it was forgotten.
    works : tuple of int
        Entries of work done while it ran; minutes typed with them are inside it.
    """

    start: str
    end: str
    minutes: float | None
    works: tuple[int, ...]


def clock_words(session: Session) -> str:
    """``2026-03-07 09:00 to 11:10: 2 h 10``."""
    began = bay_time(session.start)
    if not session.end:
        return f"{began}: running"
    if session.minutes is None:
        return f"{began}: left running, not counted"
    return f"{began} to {bay_time(session.end)[11:]}: {minutes(session.minutes)}"


def sessions_of(entries: Sequence[Entry]) -> list[Session]:
    """Every run of the clock in time order; a second start or stop changes nothing."""
    sessions: list[Session] = []
    start, works = "", []
    for index, entry in enumerate(entries):
        if isinstance(entry.body, Work) and entry.body.who == "here" and start:
            works.append(index)
        if not isinstance(entry.body, Clock) or entry.body.running == bool(start):
            continue
        if entry.body.running:
            start, works = entry.at, []
        else:
            took = (datetime.fromisoformat(entry.at) - datetime.fromisoformat(start)).total_seconds() / 60.0
            counts = took <= FORGOTTEN_MIN
            sessions.append(Session(start, entry.at, took if counts else None, tuple(works) if counts else ()))
            start = ""
    if start:
        sessions.append(Session(start, "", None, ()))
    return sessions
