"""``no compression in 3``: a quantity of which nothing was seen."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.car import ENGINE, Place
from knowngood.evidence import Reading, Value
from knowngood.lines.amounts import quantity_of
from knowngood.lines.conditions import STAYS_PLAIN, settled
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.vocabulary import PASSED_OVER
from knowngood.units import kinds

NEVER_NOTHING = frozenset(["share", "battery_voltage", *STAYS_PLAIN])
"""Quantities of which "no" says that they were not measured, rather than that there was nothing."""


def _is_beside(denial: Token, name: Token, others: Sequence[Token]) -> bool:
    """``no vacuum``, and not ``no fuel in the vacuum pipe``: nothing but small words between."""
    between = [token for token in others if denial.end <= token.start < name.start]
    return denial.end <= name.start and all(token.means("filler") or token.plain in PASSED_OVER for token in between)


def _never_nothing(quantity: str) -> bool:
    return quantity in NEVER_NOTHING or (quantity in kinds() and not kinds()[quantity].zero_is_none)


def read_nothing(
    reader: Reader, kind: str, name: Token, others: Sequence[Token], places: Sequence[Place], said: Sequence[str]
) -> bool:
    """``no compression in 3``: none seen, at a cylinder that is said."""
    none = [
        t for t in others if t.means("mark", "none") or (t.means("mark", "negation") and _is_beside(t, name, others))
    ]
    where = [place for place in places if place.kind == reader.place_of_kind(kind)]
    if reader.place_of_kind(kind) == "engine":
        where = [ENGINE]
    if (
        none
        and not where
        and reader.place_of_kind(kind) == "cylinder"
        and not any(t.means("judge") and not t.means("mark", "none") for t in others)
    ):
        reader.doubt(
            sorted([name, *none], key=lambda token: token.start),
            "which cylinder is not said",
            f"no {name.text}: in which cylinder?",
        )
        return True
    if not none or not where or any(t.means("judge") and not t.means("mark", "none") for t in others):
        return False
    final, conditions = settled(reader, kind, said)
    if _never_nothing(quantity_of(reader, kind)):
        words = f"no {name.text}"
        reader.doubt(
            sorted([name, *none], key=lambda token: token.start),
            "not measured, or none?",
            f"{words}: not measured, or was it nothing?",
        )
        return True
    for place in where:
        doubt = "" if reader.kind_record(final) else "no such kind"
        reader.put(
            Reading(kind=final, place=place, value=Value(0.0, "none seen"), conditions=conditions, doubt=doubt),
            [name, none[0]],
        )
    return True
