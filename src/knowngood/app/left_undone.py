"""What was left as it must not stay, by the entries alone: it is known before anything is worked out."""

from __future__ import annotations

from collections.abc import Iterable

from knowngood.car import ENGINE
from knowngood.evidence import Entry, Undone, Work


def left_undone(entries: Iterable[Entry]) -> tuple[Undone, ...]:
    """What is left undone, from standing entries in time order."""
    undone: list[Undone] = []
    for entry in entries:
        match entry.body:
            case Work(do="replaced" | "fitted" | "reseated", part=part, who="here", places=places):
                undone = [one for one in undone if one.part != part or one.place not in places]
            case Undone() as said:
                undone = _after(undone, said)
    return tuple(undone)


def _after(undone: list[Undone], said: Undone) -> list[Undone]:
    """Something is left undone, or what was left so is right again: it is known by its part and place.

    Where no place is named, the part is right wherever it was left; where no part is, the words must be the same.
    """

    def is_same(one: Undone) -> bool:
        same_part = bool(said.part) and said.put_right and one.part == said.part
        at = one.place == said.place or (same_part and said.place == ENGINE)
        return at and (same_part or one.what == said.what)

    still = [one for one in undone if not is_same(one)]
    return still if said.put_right else [*still, said]
