"""What is left: danger first, then what gets worse by driving, what costs more by waiting, then comfort."""

from __future__ import annotations

from dataclasses import dataclass

DANGER, HARM, COST, COMFORT = "must not wait", "gets worse by driving", "costs more by waiting", "comfort"
_ORDER = (DANGER, HARM, COST, COMFORT)


@dataclass(frozen=True)
class Remaining:
    """One thing that is left.

    Parameters
    ----------
    what, why : str
    urgency : str
        ``must not wait``, ``gets worse by driving``, ``costs more by waiting`` or ``comfort``.
    chance : float
        That it is really there; 1 for what was seen or left undone.
    minutes, money : float
        To put it right.
    until : str
        What is not done to the car until then; empty where nothing is in danger.
    """

    what: str
    why: str
    urgency: str
    chance: float = 1.0
    minutes: float = 0.0
    money: float = 0.0
    until: str = ""


def in_order(things: list[Remaining]) -> list[Remaining]:
    """The list in the order it should be worked off: urgency, then chance, then the quickest."""
    return sorted(things, key=lambda thing: (_ORDER.index(thing.urgency), -thing.chance, thing.minutes, thing.what))
