"""Whether all that was told to be wrong is told to be gone: then it is time to prove the work and hand the car over."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.app.complained import NO_COMPLAINT
from knowngood.evidence import Entry, Reading, Work
from knowngood.library.records import Library

GONE = "All that was told to be wrong is told to be gone."


def told_gone(entries: Sequence[Entry], library: Library) -> bool:
    """Whether work was done here, and the last word of every complaint and of the codes is that there is none.

    Codes count as gone when they were read again and none was there, not when they were cleared.
    """
    still: dict[str, bool] = {}
    worked = False
    for entry in entries:
        body = entry.body
        worked = worked or (isinstance(body, Work) and body.who == "here")
        if not isinstance(body, Reading) or body.doubt:
            continue
        if body.kind == "code":
            still["code"] = bool(body.code) and body.word not in NO_COMPLAINT
        elif (kind := library.readings.get(body.kind)) is not None and kind.complaint:
            still[body.kind] = body.word not in NO_COMPLAINT
    return worked and bool(still) and not any(still.values())
