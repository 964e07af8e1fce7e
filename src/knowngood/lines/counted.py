"""``2 new injectors``, ``changed 2 coils``: how many parts, and not which."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token


def is_counted(reader: Reader, tokens: Sequence[Token], part: Token) -> bool:
    """Whether a number stands right before a part in the plural and is not that of all cylinders."""
    if part not in tokens:
        return False  # named in the statement before
    at = tokens.index(part) - 1
    while at >= 0 and (tokens[at].means("origin") or tokens[at].plain == "of"):
        at -= 1
    number = tokens[at].whole() if at >= 0 else None
    several = part.text.casefold().endswith("s") and reader.part_place(reader.part(part)) == "cylinder"
    led = at > 0 and (tokens[at - 1].means("part") or tokens[at - 1].means("mark", "cylinder"))
    return several and number is not None and number > 1 and number != reader.cylinders and not led
