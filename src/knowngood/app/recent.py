"""What was spoken of last on a car: what the next line may leave out."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.evidence import Body, Entry
from knowngood.lines import Recent, Understood, recent_after


def recent_of(entries: Sequence[Entry]) -> Recent:
    """What the next line may leave out, from the lines that stand, in the order they were typed."""
    recent = Recent()
    lines: dict[tuple[str, str], list[Body]] = {}
    for entry in sorted(entries, key=lambda entry: entry.entered):
        lines.setdefault((entry.entered, entry.line), []).append(entry.body)
    for bodies in lines.values():
        recent = recent_after(recent, Understood(tuple(bodies), echo=""))
    return recent
