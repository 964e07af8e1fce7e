"""Records as entries of a journal, one after the other."""

from __future__ import annotations

from collections.abc import Iterable

from knowngood.evidence import Body, Entry


def in_turn(bodies: Iterable[Body], *, line: str = "") -> list[Entry]:
    """One entry each, in this order and at no moment in time; each a line of its own, or all of the one named."""
    return [
        Entry(id=str(index), at=f"{index:03}", entered=f"{index:03}", line=line or f"line {index}", body=body)
        for index, body in enumerate(bodies)
    ]
