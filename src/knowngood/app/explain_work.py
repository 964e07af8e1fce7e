"""Page on an area of work: what it disturbs, what it gets wrong, what to look at before it is closed up."""

from __future__ import annotations

from collections.abc import Iterable

from knowngood.library.records import Area, Fault, Library

AFTER_WORK = "after work"
OFTEN = 3.0  # odds times so much: worth a look of its own before closing up
QUICK_MIN = 6.0  # where it takes no longer than this


def explain_area(library: Library, area: Area) -> tuple[str, list[tuple[str, Iterable[str]]]]:
    """What a repair there leaves behind when it goes wrong, the likeliest first."""
    misfits = sorted(
        (
            (raised.times, fault)
            for fault in library.faults.values()
            for raised in fault.raised
            if raised.by == AFTER_WORK and area.id in raised.on
        ),
        key=lambda found: (-found[0], found[1].name),
    )
    parts = [part for part in library.parts.values() if part.area == area.id]
    steps = dict.fromkeys(step for part in parts for step in part.access)
    closing = [name for step in steps for name in library.access[step].before_closing]
    naming = [name for times, fault in misfits if times >= OFTEN for name in _naming(library, fault)]
    looks = dict.fromkeys(library.checks[name].name for name in (*closing, *naming))
    return "", [
        ("Wrong more often after it", [f"{fault.name}: odds times {times:g}" for times, fault in misfits]),
        ("It disturbs", [_name(library, name) for name in area.disturbs]),
        ("Parts there", [part.name for part in parts]),
        ("Comes off for it", [library.access[step].name for step in steps]),
        ("Look at before it is closed up", looks),
        ("Known by the words", [", ".join(area.words)]),
    ]


def _naming(library: Library, fault: Fault) -> list[str]:
    """The quickest check that names the fault itself, if it is quick."""
    naming = {read.id for read in library.readings.values() if fault.id in read.direct}
    checks = [
        check for check in library.checks.values() if check.minutes <= QUICK_MIN and not naming.isdisjoint(check.reads)
    ]
    return [min(checks, key=lambda check: check.minutes).id] if checks else []


def _name(library: Library, name: str) -> str:
    return (library.parts[name] if name in library.parts else library.areas[name]).name
