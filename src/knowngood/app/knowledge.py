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
    return frozenset().union(*(_telling(library, name) for name in faults))


_TELLING: dict[tuple[str, str], frozenset[str]] = {}
"""By hash of the library and fault: asked again with every line, and the same as long as the library is."""


def _telling(library: Library, name: str) -> frozenset[str]:
    found = _TELLING.get((library.hash, name))
    if found is None:
        way = reached(library, library.faults[name])
        kinds = library.readings.values()
        found = frozenset(
            kind.id for kind in kinds if tells(library, kind, kind.chance or kind.spread or None, name, way)
        )
        _TELLING[(library.hash, name)] = found
    return found
