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
    reason : str
        Why it is as urgent as that, where more is to be said; things of one reason are told together.
    """

    what: str
    why: str
    urgency: str
    chance: float = 1.0
    minutes: float = 0.0
    money: float = 0.0
    until: str = ""
    reason: str = ""


def in_order(things: list[Remaining]) -> list[Remaining]:
    """The list in the order it should be worked off: urgency, then chance, then the quickest."""
    return sorted(things, key=lambda thing: (_ORDER.index(thing.urgency), -thing.chance, thing.minutes, thing.what))


def grouped(things: list[Remaining]) -> list[tuple[str, list[Remaining]]]:
    """Things that wait for the same reason under one heading, in the order of the most urgent of each."""
    groups: dict[tuple[str, str], list[Remaining]] = {}
    for urgency in _ORDER:
        for thing in things:
            if thing.urgency == urgency:
                groups.setdefault((urgency, thing.reason), []).append(thing)
    return [
        (f"{urgency.capitalize()}{f': {reason}' if reason else ''}", group)
        for (urgency, reason), group in groups.items()
    ]
