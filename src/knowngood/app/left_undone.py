"""What was left as it must not stay, by the entries alone: it is known before anything is worked out."""

from __future__ import annotations

from collections.abc import Iterable

from knowngood.car import ENGINE
from knowngood.evidence import Entry, Undone, Work

PUTTING = ("put", "plugged", "connected", "clipped", "clicked", "pushed", "joined")
OF_ITS_OWN = frozenset(
    [*PUTTING, "back", "again", "on", "in", "up", "to", "the", "a", "an", "it", "right", "is", "now"]
)
"""Words of putting right, which name nothing that was left."""


def left_undone(entries: Iterable[Entry]) -> tuple[Undone, ...]:
    """What is left undone, from standing entries in time order."""
    undone: list[Undone] = []
    for entry in entries:
        match entry.body:
            case Work(do="replaced" | "fitted" | "reseated" | "repaired", part=part, who="here", places=places) if part:
                undone = [one for one in undone if one.part != part or one.place not in places]
            case Undone() as said:
                undone = _after(undone, said)
    return tuple(undone)


def _after(undone: list[Undone], said: Undone) -> list[Undone]:
    """Something is left undone, or what was left so is right again: it is known by its part and place.

    Where no place is named, the part is right wherever it was left; where no part is, the words must be the same, or
    name what one thing alone was left of: "put the strap back on".
    """

    def is_same(one: Undone) -> bool:
        same_part = bool(said.part) and said.put_right and one.part == said.part
        at = one.place == said.place or (same_part and said.place == ENGINE)
        return at and (same_part or one.what == said.what)

    still = [one for one in undone if not is_same(one)]
    if not said.put_right:
        return [*still, said]
    meant = [one for one in undone if _is_named(one, said)]
    return [one for one in undone if one is not meant[0]] if len(still) == len(undone) and len(meant) == 1 else still


def _is_named(one: Undone, said: Undone) -> bool:
    """Every word of what was put right is one of what was left, and no other place is named."""
    words = set(said.what.casefold().split()) - OF_ITS_OWN
    return bool(words) and words <= set(one.what.casefold().split()) and said.place in (ENGINE, one.place)
