"""Page on a mechanism, a ladder in the files: its levels, what acts on it, where it shows."""

from __future__ import annotations

from collections.abc import Iterable

from knowngood.app.explain_words import sentence
from knowngood.library.records import Act, Ladder, Library


def explain_ladder(library: Library, ladder: Ladder) -> tuple[str, list[tuple[str, Iterable[str]]]]:
    """What a fault of one's own may act on, and what then reads it."""
    if ladder.combine == "sum":
        what = f"steps from {ladder.low:+d} to {ladder.high:+d} at the {ladder.place}; they add"
    else:
        what = f"at the {ladder.place}, {'' if ladder.unordered else 'from good to worst: '}{', '.join(ladder.levels)}"
    acting = [
        f"{fault.name} ({fault.id}): {done_of(ladder, act)}"
        for fault in library.faults.values()
        for act in fault.acts
        if act.on == ladder.id
    ]
    readings = [
        f"{one.name} ({one.id})" for one in library.readings.values() if one.on == ladder.id or ladder.id in one.inputs
    ]
    codes = [f"{one.id} {one.name}" for one in library.codes.values() if one.on == ladder.id or ladder.id in one.inputs]
    return sentence(what), [
        ("Its levels are no degrees", [f"{ladder.unordered}."] if ladder.unordered else []),
        ("Faults that act on it", dict.fromkeys(acting)),
        ("Comes from", [f"{library.ladders[name].name} ({name})" for name in ladder.inputs]),
        ("Goes on to", [f"{one.name} ({one.id})" for one in library.ladders.values() if ladder.id in one.inputs]),
        ("Readings that see it", readings),
        ("Codes that see it", codes),
    ]


def done_of(ladder: Ladder, act: Act) -> str:
    """What an act does there: its level, or its steps."""
    steps = f"{act.shift:+d} step{'s' if abs(act.shift) != 1 else ''}"
    return steps if ladder.combine == "sum" else act.level
