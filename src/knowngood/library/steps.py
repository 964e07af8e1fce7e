"""Step ranges of signed ladders, ``"-6..-3"``, and tables that are written by them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import TypeVar

Held = TypeVar("Held")
_RANGE = re.compile(r"([-+]?\d+)\.\.([-+]?\d+)")


def steps_of(text: str) -> range | None:
    """The whole steps of ``"-6..-3"``, both ends included; ``None`` when the text is no range, or runs downward.

    Examples
    --------
    >>> list(steps_of("-6..-4")), steps_of("-3..-6"), steps_of("lean")
    ([-6, -5, -4], None, None)
    """
    match = _RANGE.fullmatch(text.strip())
    if match is None:
        return None
    low, high = int(match[1]), int(match[2])
    return range(low, high + 1) if low <= high else None


def at_level(table: Mapping[str, Held], level: str | int) -> Held | None:
    """What a table holds at a level, or of signed steps at the range they lie in; ``None`` where it holds nothing.

    Examples
    --------
    >>> table = {"-6..-4": "poor", "weak": "dead"}
    >>> at_level(table, -5), at_level(table, -3), at_level(table, "weak")
    ('poor', None, 'dead')
    """
    if isinstance(level, str):
        return table.get(level)
    for key, held in table.items():
        steps = steps_of(key)
        if steps is not None and level in steps:
            return held
    return None
