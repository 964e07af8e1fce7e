"""Whether a car has what a record needs: as told, else by what is usual on cars like it.

Equipment that was not told is spread over what is usual: a car of unknown ignition has a distributor by its share.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Protocol

from knowngood.car import Car
from knowngood.library.fitted_records import Fitted
from knowngood.library.records import Library

WORTH_OFFERING = 0.05  # share of such cars that have it, up to which nothing is offered for it; ours
MOST_HAVE = 0.5  # share from which on it is taken to be there: it comes off, it is serviced; ours
UNCOUNTED = 0.5  # share of cars with a system of which the library has no share; from memory


class Needing(Protocol):
    """A record that only some cars can have."""

    @property
    def needs(self) -> Mapping[str, tuple[str, ...]]:
        """Field of a car -> values, one of which it must have."""


def can_have(record: Needing, car: Car, library: Library) -> bool:
    """Whether the car, as far as it was told, can have what a record needs at all."""
    return share_fitted(record.needs, car, library.fitted) > 0.0


def may_have(record: Needing, car: Car, library: Library) -> bool:
    """Whether enough of such cars have what a record needs for it to be offered."""
    return share_fitted(record.needs, car, library.fitted) > WORTH_OFFERING


def usually_has(record: Needing, car: Car, library: Library) -> bool:
    """Whether most of such cars have what a record needs, so that it is taken to be there."""
    return share_fitted(record.needs, car, library.fitted) >= MOST_HAVE


def is_told(needs: Mapping[str, tuple[str, ...]], car: Car) -> bool:
    """Whether the car was told to have all that is needed."""
    return all(
        bool(set(lawful) & set(car.systems)) if name == "systems" else _told(car, name) in lawful
        for name, lawful in needs.items()
    )


def share_fitted(needs: Mapping[str, tuple[str, ...]], car: Car, fitted: Mapping[str, Fitted]) -> float:
    """Chance that the car has the equipment a record needs: 1, 0, or the usual share where it was not told."""
    share = 1.0
    for name, lawful in needs.items():
        if name == "systems":
            if not set(lawful) & set(car.systems):
                usual = [usual_shares(fitted[one], car).get("yes", 0.0) for one in lawful if one in fitted]
                share *= max(usual, default=UNCOUNTED)
        elif told := _told(car, name):
            share *= 1.0 if told in lawful else 0.0
        elif name in fitted:
            share *= sum(part for key, part in usual_shares(fitted[name], car).items() if key in lawful)
    return share


def usual_shares(fitted: Fitted, car: Car) -> Mapping[str, float]:
    """Share of each value on cars as far as this one is told."""
    for given in fitted.given:
        old = given.before is None or (car.year is not None and car.year < given.before)
        new = given.since is None or (car.year is not None and car.year >= given.since)
        if old and new and is_told(given.needs, car):
            return given.share
    return fitted.share


def _told(car: Car, field: str) -> str:
    """What was told of a field that holds one value, as ``needs`` writes it; empty where nothing was."""
    value = getattr(car, field)
    if value is None:
        return ""
    return ("yes" if value else "no") if isinstance(value, bool) else str(value)
