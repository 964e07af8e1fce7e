"""What the odometer said when: distance since a piece of work counts from what was told last before it."""

from __future__ import annotations

import json
from collections.abc import Sequence

from knowngood.evidence import CarFact, Entry


def readings_km(entries: Sequence[Entry]) -> list[tuple[str, float]]:
    """Every mileage that was told: (moment, km), in time order."""
    told = [
        (entry.at, json.loads(entry.body.value))
        for entry in entries
        if isinstance(entry.body, CarFact) and entry.body.field == "mileage_km"
    ]
    return [(at, float(km)) for at, km in told if km is not None]


def km_at(entries: Sequence[Entry], moment: str) -> float | None:
    """The mileage at a moment: as told last before it, else first after it; None where none was told."""
    told = readings_km(entries)
    before = [km for at, km in told if at[: len(moment)] <= moment]
    return before[-1] if before else told[0][1] if told else None


def km_since(entries: Sequence[Entry], moment: str) -> float | None:
    """Kilometres driven since a moment, as far as they were told."""
    then, told = km_at(entries, moment), readings_km(entries)
    return max(told[-1][1] - then, 0.0) if then is not None else None
