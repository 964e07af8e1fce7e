"""Misfire counts of each cylinder: ``mf 1:0 2:34 3:0``, ``misfire count 0 412 0 3``."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.evidence import Reading
from knowngood.lines.elements import Element, cylinder
from knowngood.lines.reader import Reader

MANY = 10
"""Counts from here on are a cylinder that misses; fewer, and not none, say nothing (common practice)."""
NAMES = frozenset(["misfire", "misfires", "miss", "misses", "mf"])
QUIET = ("EQUALS", "COMMA", "FILL", "MUTE", "LINK", "DASH", "COND")
MORE = frozenset(
    ["count", "counts", "counter", "counters", "per", "each", "cyl", "cylinder", "cyls", "cylinders", "up"]
)


def read_counts(reader: Reader, elements: Sequence[Element]) -> bool:
    """Read a row of counts, or counts beside their cylinders, two or more, behind a name for misfires."""
    named = [e for e in elements if NAMES & set(e.token.plain.split())]
    rest = [e for e in elements if e not in named and not set(e.token.plain.split()) <= MORE]
    at = next((index for index, e in enumerate(rest) if e.kind == "REST"), len(rest))
    others = [e.whole for e in rest[at + 1 :] if e.kind == "CELL"] if at < len(rest) else []
    if at < len(rest) and (len(others) != 1 or others[0] is None):
        return False
    rest = rest[:at]
    cells = [e for e in rest if e.kind in ("CELL", "PLACE")]
    if not named or len(cells) < 2 or any(e.kind not in (*QUIET, "CELL", "PLACE") for e in rest):
        return False
    if any(e.unit or (e.kind == "CELL" and e.whole is None) for e in cells):
        return False
    if any(e.kind == "PLACE" and len(e.places) != 1 for e in cells):
        return False
    numbers = [int(e.places[0].name) if e.kind == "PLACE" else e.whole or 0 for e in cells]
    signs = sum(e.kind == "EQUALS" for e in rest)
    paired = any(e.kind == "PLACE" for e in cells) or signs >= len(cells) // 2
    if paired:
        pairs = list(zip(numbers[::2], numbers[1::2], strict=False))
        if len(numbers) % 2:
            return False
    elif len(numbers) == reader.cylinders:
        pairs = list(enumerate(numbers, start=1))
    else:
        return False
    if any(not 1 <= number <= reader.most for number, _ in pairs):
        return False
    told = {number for number, _ in pairs}
    everyone = range(1, (reader.cylinders or 0) + 1) if others else ()
    pairs += [(number, others[0] or 0) for number in everyone if number not in told]
    for number, count in pairs:
        if count == 0 or count >= MANY:
            word = "yes" if count else "no"
            reader.bodies.append(
                Reading(kind="miss", place=cylinder(str(number)), word=word, conditions=(f"{count} counts",))
            )
        else:
            reader.suppose(f"{count} on {number}: too few to say")
    reader.use_turned(token for element in elements for token in element.tokens)
    reader.kind = "miss"
    return True
