"""The answer to "what is wrong, and what next", in the one form every door shows.

What is promised of it to other programs is in :mod:`knowngood.app.weigh_form`.
"""

from __future__ import annotations

from typing import Any

import msgspec


class PlaceChance(msgspec.Struct, frozen=True):
    """One place of a suspect with its own chance."""

    place: str
    chance: float


class Because(msgspec.Struct, frozen=True):
    """How far one line moved the suspect: change of its log odds, 10 log10."""

    line: int
    weight: float
    text: str = ""
    settled: bool = False


class OfStory(msgspec.Struct, frozen=True):
    """What of the car's story bears on a suspect: change of its log odds before any reading, 10 log10."""

    weight: float
    text: str


class KindShare(msgspec.Struct, frozen=True):
    """One kind of fault of a suspect: the chance that it is there, and that it is behind something that was found."""

    fault: str
    name: str
    chance: float
    behind: float


class Suspect(msgspec.Struct, frozen=True, kw_only=True):
    """Kinds of fault of one part; ``fault`` is the likeliest of them, ``kinds`` names all that matter.

    ``chance``: that one of them is at one of its places at least. ``behind``: that one is there and behind something
    that was found; suspects are in this order. ``shown``: the one that is said, behind where something was found;
    ``low``, ``high``: the same at either end of the prior of the likeliest. ``stand_out``: how many of its places,
    the first ones, stand out from the rest, and ``held``: the part of ``shown`` that lies there; ``several``: that
    there is more than one.
    """

    fault: str
    name: str
    part: str
    chance: float
    low: float
    high: float
    behind: float
    shown: float
    stand_out: int
    held: float
    several: bool
    places: list[PlaceChance]
    because: list[Because]
    unweighed: list[Because] = []
    story: list[OfStory] = []
    what: str = ""
    kinds: list[KindShare] = []


class AfterAnswer(msgspec.Struct, frozen=True):
    """What one answer of a step leads to: ``then`` in all; ``do`` what is done then, empty where it is not known."""

    answer: str
    chance: float
    then: str
    do: str = ""


class Asked(msgspec.Struct, frozen=True):
    """A kind of reading and the place at which a step takes it."""

    kind: str
    place: str


class NextStep(msgspec.Struct, frozen=True, kw_only=True):
    """One step that could be done now, best first. ``cost`` is the expected cost to the end when starting with it.

    ``place`` is where; of a set every place, with commas between. ``opens`` names what comes off first, ``off`` holds
    the ids of it. ``reads`` are the readings it takes; a repair takes none. ``before``: how the gate stands that it
    leads through, and ``gate`` its id; both empty where there is none or it is open.
    """

    do: str
    what: str
    name: str
    place: str
    minutes: float
    money: float
    cost: float
    why: str
    answers: list[AfterAnswer]
    cautions: list[str]
    tools: list[str] = []
    opens: list[str] = []
    off: list[str] = []
    against_replace: str = ""
    flips: list[str] = []
    toss_up: bool = False
    reads: list[Asked] = []
    sure: str = ""
    wait: str = ""
    gate: str = ""
    before: str = ""


class AlikePair(msgspec.Struct, frozen=True, kw_only=True):
    """Two suspects that no check at hand tells apart; ``cost``: what that wastes on average."""

    first: str
    second: str
    cost: float
    said: str


class UnderstoodLine(msgspec.Struct, frozen=True):
    """A line that was read, and the entries it became."""

    line: int
    text: str
    entries: list[Any]
    echo: str = ""


class NotUnderstood(msgspec.Struct, frozen=True):
    """A line kept as a note, and why."""

    line: int
    text: str
    why: str
    ask: str = ""


class Answer(msgspec.Struct, frozen=True, kw_only=True):
    """Everything a door needs to show what is so."""

    car: dict[str, Any]
    understood: list[UnderstoodLine]
    not_understood: list[NotUnderstood]
    suspects: list[Suspect]
    unlisted: float
    next: list[NextStep]
    asks: list[str]
    library: str
    version: int = 1
    exact: bool = True
    error_bound: float = 0.0
    assumed: list[str] = []
    refused: list[str] = []
    surprises: list[str] = []
    alike: list[AlikePair] = []
    ms: float = 0.0

    @property
    def how_exact(self) -> str:
        """How far the chances can be off, in a sentence; never said finer than one in a hundred."""
        if self.exact:
            return "The chances are worked out without rounding off any fault."
        return f"The chances are good to about {max(100.0 * self.error_bound, 1.0):.0f} in 100."
