"""What was found off and then put back is work on that part: it may have cured, and wants its proof."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from knowngood.belief.assemble import STILL_THERE
from knowngood.car import ENGINE
from knowngood.car.place import TWO
from knowngood.evidence import Entry, Finding, Undone, Work
from knowngood.library.records import Library

CHANGED_BACK = ("swapped", "reseated", "repaired")
BY_HAND = ("reseated", "repaired")
"""What putting back is, where the library has such a cure of what was found; common practice."""


def with_work(entries: Sequence[Entry], library: Library) -> list[Entry]:
    """Entries in time order; what puts a finding of its part right stands as the work that it is.

    "Earth strap off at the gearbox", "put the earth strap back on": else the strap would be suspected for ever. Two
    leads found crossed are put right by changing them back.
    """
    result: list[Entry] = []
    found: list[Finding] = []
    for entry in entries:
        body = entry.body
        if isinstance(body, Finding) and body.seen:
            found.append(body)
        elif isinstance(body, Work):
            crossed = next((one for one in found if _changes_back(one, body)), None)
            if crossed is not None and (work := _work(library, crossed, body.words)) is not None:
                effect = "no change" if body.effect in STILL_THERE else body.effect
                body = msgspec.structs.replace(work, effect=effect, minutes=body.minutes, price=body.price)
                entry = msgspec.structs.replace(entry, body=body)
            found = [one for one in found if one.part != body.part or one.place not in body.places]
        elif isinstance(body, Undone) and body.put_right and body.part:
            meant = [one for one in found if one.part == body.part and body.place in (ENGINE, one.place)]
            works = {work for one in meant if (work := _work(library, one, body.what)) is not None}
            if len(works) == 1:
                entry = msgspec.structs.replace(entry, body=works.pop())
                found = [one for one in found if one not in meant]
        result.append(entry)
    return result


def _changes_back(finding: Finding, work: Work) -> bool:
    """Whether work on the two places of a finding changes back what stood crossed there."""
    two = {(finding.part, name) for name in finding.place.name.split("-")} if finding.place.kind in TWO else set()
    at = {(work.part, place.name) for place in (*work.places, *((work.to,) if work.to is not None else ()))}
    return bool(two) and work.do in CHANGED_BACK and at == two


def _work(library: Library, finding: Finding, words: str) -> Work | None:
    fault = library.faults.get(finding.fault)
    cures = {cure.do for cure in fault.cures} if fault is not None else set()
    do = next((one for one in BY_HAND if one in cures), None)
    return Work(do=do, part=finding.part, places=(finding.place,), words=words) if do is not None else None
