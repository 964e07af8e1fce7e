"""One element of a line: a number with what qualifies it, a place, a condition, a link, a name."""

from __future__ import annotations

from dataclasses import dataclass

from knowngood.car import Place
from knowngood.lines.scan import Token


@dataclass(frozen=True, slots=True)
class Element:
    """One element; ``kind`` is the name of its terminal in the grammar.

    ``CELL`` is a number with what qualifies it (``text`` reads as a quantity, ``unit`` as typed, ``whole`` when it may
    be a cylinder number); ``PLACE`` carries ``places``; ``COND`` carries ``names``.
    """

    kind: str
    tokens: tuple[Token, ...]
    text: str = ""
    unit: str = ""
    whole: int | None = None
    places: tuple[Place, ...] = ()
    names: tuple[str, ...] = ()
    signed: bool = False
    ranged: bool = False
    after: str = ""

    def __str__(self) -> str:
        return self.text

    @property
    def token(self) -> Token:
        """The first token."""
        return self.tokens[0]


def cylinder(number: int | str) -> Place:
    """The cylinder of that number."""
    return Place("cylinder", str(number))
