"""What is left: danger first, then what gets worse by driving, then what only costs by waiting."""

from __future__ import annotations

from dataclasses import dataclass

DANGER, HARM, WAIT = "must not wait", "gets worse by driving", "can wait"
_ORDER = (DANGER, HARM, WAIT)


@dataclass(frozen=True)
class Remaining:
    """One thing that is left.

    Parameters
    ----------
    what, why : str
    urgency : str
        ``must not wait``, ``gets worse by driving`` or ``can wait``.
    chance : float
        That it is really there; 1 for what was seen or left undone.
    minutes, money : float
        To put it right.
    """

    what: str
    why: str
    urgency: str
    chance: float = 1.0
    minutes: float = 0.0
    money: float = 0.0


def in_order(things: list[Remaining]) -> list[Remaining]:
    """The list in the order it should be worked off: urgency, then chance, then the quickest."""
    return sorted(things, key=lambda thing: (_ORDER.index(thing.urgency), -thing.chance, thing.minutes, thing.what))
