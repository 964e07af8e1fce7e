"""A form that may be sent again because its answer was lost is kept once, at its own time."""

from __future__ import annotations

import itertools
from collections.abc import Callable
from datetime import datetime, timedelta

from knowngood.app.workshop import STAMP, Workshop
from knowngood.jobs.store import Job

LONGEST_KEEPING_S = 60.0  # a form that is farther behind than that was told of another day
LONGEST_WAIT_S = 90 * 86400.0  # a form that says it waited longer is taken as sent now


def ids_from(sent: str) -> Callable[[], str]:
    """Ids that are the same each time the same form is sent: ``<sent>-0``, ``<sent>-1``, ..."""
    numbers = itertools.count()
    return lambda: f"{sent}-{next(numbers)}"


def was_sent(workshop: Workshop, job: str, sent: str) -> bool:
    """Whether a form of that name was kept before, standing or taken back since."""
    return any(entry.id == f"{sent}-0" for entry in workshop.store.entries(job))


def begun_by(workshop: Workshop, sent: str) -> Job | None:
    """The car that a form of that name began; its code is drawn from the ids of the form, too."""
    return next(
        (
            job
            for job in workshop.jobs()
            if any(one.id.startswith(f"{sent}-") for one in workshop.store.entries(job.code)[:1])
        ),
        None,
    )


def behind(workshop: Workshop, job: str, at: str, before: str) -> str:
    """When a form was filled in, moved behind the one that its sender filled in before it.

    How long a form waited is told when it is sent, and counted back from when it is kept: on a machine that keeps one
    slowly and the next at once, the two would change places.

    Parameters
    ----------
    at : str
        As :func:`typed_at` tells it; empty stays empty.
    before : str
        Name of the form that was filled in before; one that is not in this car moves nothing.
    """
    kept = [entry.at for entry in workshop.store.entries(job) if before and entry.id.startswith(f"{before}-")]
    if not at or not kept or at > max(kept):
        return at
    just_after = datetime.strptime(max(kept), STAMP) + timedelta(microseconds=1)
    late_s = (just_after - datetime.strptime(at, STAMP)).total_seconds()
    return just_after.strftime(STAMP) if late_s < LONGEST_KEEPING_S else at


def typed_at(now: str, waited_s: str) -> str:
    """When a form was filled in, by how long its sender says it waited; empty where it does not say.

    Also by parts of a second: of two that waited, the later may have waited less than one and the earlier more, and the
    order in which they were typed is theirs.

    >>> typed_at("2026-05-01T09:30:00.000000Z", "90")
    '2026-05-01T09:28:30.000000Z'
    >>> typed_at("2026-05-01T09:30:00.000000Z", "0.25")
    '2026-05-01T09:29:59.750000Z'
    >>> typed_at("2026-05-01T09:30:00.000000Z", "soon")
    ''
    """
    try:
        waited = float(waited_s)
    except ValueError:
        return ""
    if not 0.0 < waited <= LONGEST_WAIT_S:
        return ""
    return (datetime.strptime(now, STAMP) - timedelta(seconds=waited)).strftime(STAMP)
