"""Moments as the clock on the bay's wall shows them: kept in UTC, said in the zone of the machine.

A line that was said of a day ("3 May") has no time of day: it is stamped with the first instant of that day, and only
the day is shown, whatever the zone.
"""

from __future__ import annotations

from datetime import UTC, date, datetime

A_DAY = "T00:00:00.000000Z"
BEFORE_ZONES = "1970"  # a notes file without dates counts its lines from the year 1


def bay_time(at: str) -> str:
    """``2026-05-01 09:30``; a day alone where no time of day was said.

    Parameters
    ----------
    at : str
        As the journal stamps it, ISO 8601 in UTC.
    """
    if at.endswith(A_DAY):
        return at[:10]
    if at < BEFORE_ZONES:
        return at[:16].replace("T", " ")
    return f"{datetime.fromisoformat(at).astimezone():%Y-%m-%d %H:%M}"


def bay_day(at: str) -> str:
    """``2026-05-01``: the day it was in the bay."""
    return bay_time(at)[:10]


def in_utc(told: datetime) -> datetime:
    """A typed moment in UTC; without an offset it is the bay's own time."""
    return told.astimezone(UTC)


def today_of(now: str) -> date:
    """The day it is in the bay at a moment."""
    return date.fromisoformat(bay_time(now.replace(A_DAY, "T00:00:00.000001Z"))[:10])
