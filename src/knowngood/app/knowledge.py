"""What the library knows of one kind of fault."""

from __future__ import annotations

from collections.abc import Iterable

from knowngood.library.reach import reached, tells
from knowngood.library.records import Check, Fault, Library


def seen_by(library: Library, fault: Fault) -> list[Check]:
    """Checks one of whose readings shows something else with this fault than on a good car, the quickest first."""
    ways = reached(library, fault)
    result = []
    for check in library.checks.values():
        kinds = [library.readings[name] for name in check.reads if name in library.readings]
        if any(tells(library, kind, kind.chance or kind.spread or None, fault.id, ways) for kind in kinds):
            result.append(check)
    return sorted(result, key=lambda check: check.minutes)


def telling_readings(library: Library, faults: Iterable[str]) -> frozenset[str]:
    """Kinds of reading that show something else with one of these faults than on a good car."""
    ways = {name: reached(library, library.faults[name]) for name in faults}
    return frozenset(
        kind.id
        for kind in library.readings.values()
        if any(tells(library, kind, kind.chance or kind.spread or None, name, way) for name, way in ways.items())
    )
