"""How far a series of numbers goes over the clauses of a sentence."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.lines.elements import Element, elements_of
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.states import series_elements

SERIES = frozenset(
    [
        "NAME",
        "PLACE",
        "CELL",
        "COND",
        "SPEED",
        "DASH",
        "LINK",
        "FILL",
        "MUTE",
        "EQUALS",
        "ALL",
        "REST",
        "EXCEPT",
        "NONE",
        "OPEN",
        "SPEC",
        "HIGH",
        "LOW",
        "ARROW",
        "COMMA",
        "HOLE",
    ]
)


def is_series(elements: Sequence[Element]) -> bool:
    """Whether a run holds nothing but what a row of readings may hold."""
    return all(
        element.kind in SERIES
        and not (element.token.means("work") and not element.token.means("filler"))
        and not element.token.means("effect")
        and not (
            element.token.means("outcome")
            and not element.token.means("kind")
            and not element.token.means("mark", "none")
        )
        and not element.token.means("mark", "negation")
        and not element.token.means("mark", "cut")
        for element in elements
        if element.kind not in ("CELL", "PLACE", "SPEED", "COND", "SPEC", "NONE")
    )


def series_end(reader: Reader, clauses: Sequence[Sequence[Token]], start: int) -> int:
    """How far a series of numbers goes: clauses of numbers, and the conditions that trail them."""
    end, named = start, False
    for index in range(start, len(clauses)):
        elements = series_elements(reader, elements_of(reader, clauses[index]))
        numbers = any(e.kind in ("CELL", "NONE", "SPEED", "OPEN") for e in elements)
        conditions = any(e.kind == "COND" for e in elements) and all(
            e.kind in ("COND", "FILL", "MUTE") for e in elements
        )
        said = any(e.kind == "NAME" for e in elements)
        if end > start and index + 1 < len(clauses) and _is_place_alone(elements):
            continue
        if index > start and clauses[index][0].plain in ("was", "were"):
            break
        if not is_series(elements) or not (numbers or (conditions and end > start) or (index == start and said)):
            break
        if index > start and said and named and not numbers:
            break
        named = named or said
        end = index + 1
    return end


def _is_place_alone(elements: Sequence[Element]) -> bool:
    return all(e.kind in ("PLACE", "FILL", "MUTE") for e in elements) and any(e.kind == "PLACE" for e in elements)
