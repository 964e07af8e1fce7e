"""A swap told from both of its ends (``inj 4 -> 1, inj 1 -> 4``) is one swap."""

from __future__ import annotations

import msgspec

from knowngood.evidence import Work
from knowngood.lines.reader import Reader


def join_mutual_swaps(reader: Reader, since: int) -> None:
    """Join two swaps of one part that are each other's way back; what either says of the effect is kept."""
    index = since
    while index < len(reader.bodies):
        second = reader.bodies[index]
        at = next((i for i in range(since, index) if _is_back(reader.bodies[i], second)), None)
        if at is None:
            index += 1
            continue
        first = reader.bodies[at]
        assert isinstance(first, Work) and isinstance(second, Work)
        told = second if second.effect else first
        reader.bodies[at] = msgspec.structs.replace(
            first, effect=told.effect, effect_at=told.effect_at, words=f"{first.words}, {second.words}"
        )
        del reader.bodies[index]


def _is_back(first: object, second: object) -> bool:
    if not (isinstance(first, Work) and isinstance(second, Work)) or first.do != "swapped" or second.do != "swapped":
        return False
    there = first.to is not None and second.places == (first.to,) and (second.to,) == first.places
    return there and first.part == second.part
