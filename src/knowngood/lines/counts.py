"""Misfire counts of each cylinder: ``mf 1:0 2:34 3:0``, ``misfire count 0 412 0 3``."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from knowngood.evidence import Reading
from knowngood.lines.elements import Element, cylinder
from knowngood.lines.reader import Reader

MANY = 10
"""Counts from here on are a cylinder that misses; fewer, and not none, say nothing (common practice)."""
NAMES = frozenset(["misfire", "misfires", "miss", "misses", "mf"])
QUIET = ("EQUALS", "COMMA", "FILL", "MUTE", "LINK", "DASH", "COND")
MORE = frozenset(
    [
        "count",
        "counts",
        "counted",
        "a",
        "over",
        "counter",
        "counters",
        "per",
        "each",
        "cyl",
        "cylinder",
        "cyls",
        "cylinders",
        "up",
    ]
)


UNCLEAR = -1


def _placed(elements: Sequence[Element]) -> list[Element]:
    """``misfires on cylinder three``: the number behind a name that ends so is a cylinder."""
    ends = ["", *(e.token.plain.split()[-1] if e.kind == "NAME" else "" for e in elements)]
    pairs = zip(elements, ends, strict=False)
    return [
        replace(e, kind="PLACE", places=(cylinder(str(e.whole)),))
        if e.kind == "CELL" and e.whole and end in ("cylinder", "cyl", "on", "in")
        else e
        for e, end in pairs
    ]


def _with_others(elements: Sequence[Element]) -> tuple[list[Element], int | None]:
    """The counts of named cylinders, and that of the rest: ``others 0``, ``none on the rest``; None when not said."""
    at = next((index for index, e in enumerate(elements) if e.kind == "REST"), len(elements))
    if at == len(elements):
        return list(elements), None
    before = [e for e in elements[:at] if e.kind not in ("FILL", "LINK", "COMMA", "MUTE")]
    behind = [e for e in elements[at + 1 :] if e.kind in ("CELL", "NONE")]
    if before and before[-1].kind == "NONE" and not behind:
        return [e for e in elements[:at] if e.kind != "NONE"], 0
    if len(behind) == 1 and (behind[0].kind == "NONE" or behind[0].whole is not None):
        return list(elements[:at]), behind[0].whole or 0
    return list(elements), UNCLEAR


def read_counts(reader: Reader, elements: Sequence[Element]) -> bool:
    """Read a row of counts, or counts beside their cylinders, two or more, behind a name for misfires."""
    elements = _placed(elements)
    named = [e for e in elements if NAMES & set(e.token.plain.split())]
    rest = [e for e in elements if e not in named and (e.kind == "PLACE" or not set(e.token.plain.split()) <= MORE)]
    rest, others = _with_others(rest)
    if others == UNCLEAR:
        return False
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
        if all(e.kind == "PLACE" for e in cells[1::2]) and cells[0].kind == "CELL":
            pairs = [(number, count) for count, number in pairs]  # "240 misfires on cylinder 3, 12 on 5"
        if len(numbers) % 2:
            return False
    elif len(numbers) == reader.cylinders:
        pairs = list(enumerate(numbers, start=1))
    else:
        return False
    if any(not reader.is_cylinder(number) for number, _ in pairs):
        return False
    told = {number for number, _ in pairs}
    names = tuple(dict.fromkeys(name for e in elements if e.kind == "COND" for name in e.names))
    everyone = range(1, (reader.cylinders or 0) + 1) if others is not None else ()
    pairs += [(number, others or 0) for number in everyone if number not in told]
    for number, count in pairs:
        if count == 0 or count >= MANY:
            word = "yes" if count else "no"
            reader.bodies.append(
                Reading(kind="miss", place=cylinder(str(number)), word=word, conditions=(f"{count} counts", *names))
            )
        else:
            reader.suppose(f"{count} on {number}: too few to say")
    reader.use_turned(token for element in elements for token in element.tokens)
    reader.kind = "miss"
    return True
