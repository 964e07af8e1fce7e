"""What a driver says of a car, to be tapped: the usual first, the rest behind."""

from __future__ import annotations

from knowngood.library.records import Library, ReadingKind

USUAL = (
    "shakes",
    "misfires_pulling",
    "hesitates",
    "no_power",
    "hard_start",
    "cranks_dead",
    "does_not_crank",
    "slow_crank",
    "fires_and_dies",
    "stalls",
    "hunts",
    "lamp_on",
    "lamp_blinks",
    "fuel_smell",
    "black_smoke",
    "needle_red",
    "coolant_loss",
    "flat_overnight",
)
WHEN = ("cold start", "cold idle", "hot idle", "hot restart", "cruise", "pull", "overrun")


def complaints(library: Library) -> tuple[list[ReadingKind], list[ReadingKind]]:
    """Complaints of the whole car that are there or not: the usual ones in their order, and all others by name."""
    all_there = {
        kind.id: kind
        for kind in library.readings.values()
        if kind.complaint and kind.place == "engine" and set(kind.words) == {"yes", "no"}
    }
    usual = [all_there[name] for name in USUAL if name in all_there]
    return usual, sorted((kind for kind in all_there.values() if kind.id not in USUAL), key=lambda kind: kind.name)
