"""Step ranges of signed ladders: ``"-6..-3"``."""

from __future__ import annotations

import re

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
