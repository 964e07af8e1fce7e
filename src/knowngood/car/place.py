"""A place: where something sits.

A cylinder is a position. Its number is a label the car gives that position, so
a place keeps what was said: ``Place("cylinder", "5")`` came by number,
``Place("cylinder", "L2")`` came by position (left bank, second from the pulley
end). :meth:`knowngood.car.Layout.number` turns either into the present number.
"""

from __future__ import annotations

import re

import msgspec

TWO = ("pair", "companions", "leads")
"""Kinds that name two cylinders, as ``2-3``."""
ONE_OR_TWO = ("cylinder", *TWO)
"""Kinds that name a cylinder, or two of them."""
ON_ENGINE = ("engine", *ONE_OR_TWO, "bank")
"""Kinds that the plan of an engine tells of; faults and readings sit at no other."""
WITH_LEVELS = ("engine", "bank", "cylinder")
"""Kinds that a ladder or a branch stands at; what lies between two cylinders acts on those of both."""
PLACE_KINDS = (*ON_ENGINE, "axle", "wheel", "branch", "connector", "module", "instrument", "tank", "cabin")
"""Every kind of place."""

_POSITION = re.compile(r"[LRI]\d+")


class Place(msgspec.Struct, frozen=True, order=True, cache_hash=True):
    """A kind of place and which one of that kind (empty where there is only one).

    Parameters
    ----------
    kind : str
        One of :data:`PLACE_KINDS`.
    name : str
        ``"5"`` or ``"L2"`` for a cylinder, ``"2-3"`` for a pair of neighbours, ``"1-4"`` for companions on one coil or
        for two leads that can change places, ``"1"`` or ``"left"`` for a bank, free words for the rest.
    """

    kind: str
    name: str = ""

    def by_position(self) -> bool:
        """Whether a cylinder was named by where it sits, not by its number."""
        return self.kind == "cylinder" and bool(_POSITION.fullmatch(self.name))

    def is_lawful(self) -> bool:
        """Whether it is of a kind there is, and a cylinder is named by its number or where it sits."""
        return self.kind in PLACE_KINDS and (self.kind != "cylinder" or self.name.isdecimal() or self.by_position())

    def __str__(self) -> str:
        return f"{self.kind} {self.name}".rstrip()


ENGINE = Place("engine")


def read_place(text: str) -> Place:
    """The inverse of ``str(place)``, of a text that came from there; the kind is not checked.

    >>> read_place("cylinder 5")
    Place(kind='cylinder', name='5')
    """
    kind, _, name = text.partition(" ")
    return Place(kind, name)
