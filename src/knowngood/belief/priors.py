"""Chances before any evidence: the library's counts, raised by the car's own story.

Odds, not chances, are multiplied: a fault that is likelier for two reasons
stays below one. Equipment that was not told is spread over what is usual, so
that a car of unknown ignition keeps distributor faults at a share of their chance.
"""

from __future__ import annotations

from collections.abc import Mapping

from knowngood.belief.protocol import FaultAt
from knowngood.car import Car, Layout, Place
from knowngood.library.records import Area, Fault, Fitted, Library, Raised

HIGH_MILEAGE_KM = 150_000.0  # common practice
LOW_MILEAGE_KM = 60_000.0  # common practice
LONG_STANDING_YEARS = 0.5  # common practice
LEAST, MOST = 1e-12, 0.9


def touched_areas(told: tuple[str, ...], areas: Mapping[str, Area]) -> frozenset[str]:
    """Areas of work whose words stand in what was told of earlier work."""
    text = " ".join(told).lower()
    return frozenset(area.id for area in areas.values() if any(word in text for word in area.words))


def share_fitted(needs: Mapping[str, tuple[str, ...]], car: Car, fitted: Mapping[str, Fitted]) -> float:
    """Chance that the car has the equipment a record needs: 1, 0, or the usual share where it was not told."""
    share = 1.0
    for name, lawful in needs.items():
        if name == "systems":
            share *= 1.0 if set(lawful) & set(car.systems) else 0.0 if car.systems else 0.3
            continue
        value = getattr(car, name)
        text = {True: "yes", False: "no", None: ""}.get(value, value) if name == "turbo" else value
        if text:
            share *= 1.0 if str(text) in lawful else 0.0
        elif name in fitted:
            share *= sum(part for key, part in fitted[name].share.items() if key in lawful)
    return share


def _applies(raised: Raised, car: Car, touched: frozenset[str]) -> bool:
    km = car.mileage_km
    match raised.by:
        case "animals":
            return bool(car.animals)
        case "flood":
            return bool(car.flood)
        case "standing":
            return car.standing_years is not None and car.standing_years >= LONG_STANDING_YEARS
        case "high mileage":
            return km is not None and km >= HIGH_MILEAGE_KM
        case "low mileage":
            return km is not None and km < LOW_MILEAGE_KM
        case "after work":
            return (not raised.on and bool(touched)) or bool(touched & set(raised.on))
        case "new part":
            return bool(touched & set(raised.on))
    return False


def prior_chance(
    fault: Fault, car: Car, touched: frozenset[str], fitted: Mapping[str, Fitted], per_1000: float = -1.0
) -> float:
    """Chance of a fault at one place of this car before any reading; 0 where the car cannot have it."""
    share = share_fitted(fault.needs, car, fitted)
    if share <= 0.0:
        return 0.0
    base = (fault.chance.per_1000 if per_1000 < 0 else per_1000) / 1000.0
    odds = base / (1.0 - base)
    for raised in fault.raised:
        if _applies(raised, car, touched):
            odds *= raised.times
    return min(max(share * odds / (1.0 + odds), LEAST), MOST)


def fault_places(fault: Fault, layout: Layout) -> list[Place]:
    """Where on this engine a kind of fault can sit."""
    match fault.place:
        case "cylinder":
            return [Place("cylinder", str(number)) for number in layout.numbers()]
        case "bank":
            return [Place("bank", str(index + 1)) for index in range(len(layout.banks))]
        case "pair":
            return [Place("pair", f"{a}-{b}") for a, b in layout.pairs()]
        case "companions":
            return [Place("companions", f"{a}-{b}") for a, b in layout.companions()]
    return [Place("engine")]


def all_priors(library: Library, car: Car, layout: Layout) -> dict[FaultAt, float]:
    """Chance of every fault at every place this car has."""
    touched = touched_areas(car.last_done + car.new_parts, library.areas)
    result: dict[FaultAt, float] = {}
    for fault in library.faults.values():
        chance = prior_chance(fault, car, touched, library.fitted)
        if chance > 0.0:
            for place in fault_places(fault, layout):
                result[FaultAt(fault.id, place)] = chance
    return result
