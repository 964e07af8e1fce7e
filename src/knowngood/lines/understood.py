"""What came of one line of typing or speech."""

from __future__ import annotations

import msgspec

from knowngood.car import Place
from knowngood.evidence import Body, Reading

TRIMS_ASKED = "Trims of this car: is 0 or 100 neutral?"


class Understood(msgspec.Struct, frozen=True):
    """The bodies of the entries a line stands for, and everything that should be said about it.

    Parameters
    ----------
    bodies : tuple of Body
        What was understood. What is doubtful is a ``Note`` with ``why`` and ``ask``, or a ``Reading`` with ``doubt``:
        kept, shown, not counted.
    echo : str
        One short line: what was understood, with every guess shown.
    asks : tuple of str
        The one question to put, or nothing.
    left : tuple of str
        Words that were not understood, in their order; those of a ``Note`` among them.
    assumed : tuple of str
        Guesses made: unit, counting order, neutral trim, conditions taken for granted.
    day : str
        The day it happened, ISO 8601, where the line begins with one; else empty.
    """

    bodies: tuple[Body, ...]
    echo: str
    asks: tuple[str, ...] = ()
    left: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()
    day: str = ""


class Recent(msgspec.Struct, frozen=True, kw_only=True):
    """What the lines before this one were about, so that nothing has to be typed twice.

    Parameters
    ----------
    kind : str
        Id of the kind last read: a bare row of numbers goes on with it.
    units : dict
        Kind of reading -> name of the unit typed last; a bare number takes it.
    place : Place or None
        Where the last reading or work was.
    trims_asked : bool
        Whether it was asked already which trim of this car is neutral.
    """

    kind: str = ""
    units: dict[str, str] = {}
    place: Place | None = None
    trims_asked: bool = False


def recent_after(recent: Recent | None, understood: Understood) -> Recent:
    """What the next line may go on with."""
    now = recent or Recent()
    units, kind, place = dict(now.units), now.kind, now.place
    for body in understood.bodies:
        if isinstance(body, Reading) and not body.doubt:
            if body.value is not None and body.value.unit:
                units[body.kind] = body.value.unit
                kind = body.kind
            place = body.place if body.place.kind == "cylinder" else place
    one = [body for body in understood.bodies if isinstance(body, Reading) and body.place.kind == "cylinder"]
    return Recent(
        kind=kind,
        units=units,
        place=place if len(one) == 1 else None,
        trims_asked=now.trims_asked or TRIMS_ASKED in understood.asks,
    )
