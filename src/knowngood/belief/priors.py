"""Chances before any evidence: the library's counts, raised by the car's own story.

Odds, not chances, are multiplied: a fault that is likelier for two reasons
stays below one. Of equipment that was not told a fault keeps a share of its
chance: that of cars which have it (:mod:`knowngood.library.fitted_on`).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from knowngood.belief.protocol import FaultAt
from knowngood.car import Car, Layout
from knowngood.library.find import spoken_of
from knowngood.library.fitted_on import share_fitted
from knowngood.library.fitted_records import Fitted
from knowngood.library.records import Fault, Library, Raised

HIGH_MILEAGE_KM = 150_000.0  # common practice
LOW_MILEAGE_KM = 60_000.0  # common practice
LONG_STANDING_YEARS = 0.5  # common practice
LEAST, MOST = 1e-12, 0.9  # chances are held inside: no story makes a fault impossible or certain
OUR_CARE = 0.2  # of what work by others leaves behind, the share ours does; from memory


@dataclass(frozen=True)
class Story:
    """What the car's story says of its chances: areas that were worked on, parts that are new."""

    areas: frozenset[str]
    new_parts: frozenset[str]


def story_of(car: Car, library: Library) -> Story:
    """Areas of work and new parts whose words stand in what was told."""
    areas = (spoken_of(library.areas, told) for told in car.last_done + car.new_parts)
    new_parts = (spoken_of(library.parts, told) for told in car.new_parts)
    return Story(frozenset[str]().union(*areas), frozenset[str]().union(*new_parts))


def has_stood(car: Car) -> bool:
    """Whether the car is known to have stood for long."""
    return car.standing_years is not None and car.standing_years >= LONG_STANDING_YEARS


def applies(raised: Raised, fault: Fault, car: Car, story: Story) -> bool:
    """Whether the car's story raises a fault in this way."""
    km = car.mileage_km
    match raised.by:
        case "animals":
            return bool(car.animals)
        case "flood":
            return bool(car.flood)
        case "standing":
            return has_stood(car)
        case "high mileage":
            return km is not None and km >= HIGH_MILEAGE_KM
        case "low mileage":
            return km is not None and km < LOW_MILEAGE_KM
        case "after work":
            return bool(story.areas & set(raised.on)) if raised.on else bool(story.areas)
        case "new part":
            return fault.part in story.new_parts
    return False


def prior_chance(fault: Fault, car: Car, story: Story, fitted: Mapping[str, Fitted]) -> float:
    """Chance of a fault at one place of this car before any reading; 0 where the car cannot have it."""
    share = share_fitted(fault.needs, car, fitted)
    if share <= 0.0:
        return 0.0
    base = fault.chance.per_1000 / 1000.0
    odds = base / (1.0 - base)
    for raised in fault.raised:
        if applies(raised, fault, car, story):
            odds *= raised.times
    return min(max(share * odds / (1.0 + odds), LEAST), MOST)


def disturbances(library: Library, car: Car, layout: Layout) -> dict[str, list[tuple[FaultAt, float]]]:
    """Of each part, the faults that work on it may bring about in what has to come off, with the chance of each.

    A car whose story tells of work in an area has a fault so many times likelier; of what that is more than without,
    our own careful work brings about a share.
    """
    areas = [(part.id, library.areas[part.area]) for part in library.parts.values() if part.area in library.areas]
    found: dict[str, list[tuple[FaultAt, float]]] = {}
    for fault in library.faults.values():
        times = {area: one.times for one in fault.raised if one.by == "after work" for area in one.on}
        untold = prior_chance(fault, car, Story(frozenset(), frozenset()), library.fitted) if times else 0.0
        for part, area in areas if untold > 0.0 else ():
            if fault.part != part and fault.part in area.disturbs and times.get(area.id, 1.0) > 1.0:
                odds = times[area.id] * untold / (1.0 - untold)
                chance = OUR_CARE * (odds / (1.0 + odds) - untold)
                found.setdefault(part, []).extend((FaultAt(fault.id, at), chance) for at in layout.places(fault.place))
    return found


def all_priors(library: Library, car: Car, layout: Layout) -> dict[FaultAt, float]:
    """Chance of every fault at every place this car has."""
    story = story_of(car, library)
    result: dict[FaultAt, float] = {}
    for fault in library.faults.values():
        chance = prior_chance(fault, car, story, library.fitted)
        if chance > 0.0:
            for place in layout.places(fault.place):
                result[FaultAt(fault.id, place)] = chance
    return result
