"""Page on an area of work: what it disturbs, what it gets wrong, what to look at before it is closed up."""

from __future__ import annotations

from collections.abc import Iterable

from knowngood.library.records import Area, Library

AFTER_WORK = "after work"


def explain_area(library: Library, area: Area) -> tuple[str, list[tuple[str, Iterable[str]]]]:
    """What a repair there leaves behind when it goes wrong, the likeliest first."""
    misfits = sorted(
        (
            (raised.times, fault.name)
            for fault in library.faults.values()
            for raised in fault.raised
            if raised.by == AFTER_WORK and area.id in raised.on
        ),
        key=lambda found: (-found[0], found[1]),
    )
    parts = [part for part in library.parts.values() if part.area == area.id]
    steps = dict.fromkeys(step for part in parts for step in part.access)
    looks = dict.fromkeys(library.checks[name].name for step in steps for name in library.access[step].before_closing)
    return "", [
        ("Wrong more often after it", [f"{name}: odds times {times:g}" for times, name in misfits]),
        ("It disturbs", [_name(library, name) for name in area.disturbs]),
        ("Parts there", [part.name for part in parts]),
        ("Comes off for it", [library.access[step].name for step in steps]),
        ("Look at before it is closed up", looks),
        ("Known by the words", [", ".join(area.words)]),
    ]


def _name(library: Library, name: str) -> str:
    return (library.parts[name] if name in library.parts else library.areas[name]).name
