"""What is known of a simulated car when its chances are judged: the complaint, often the codes, and a few checks.

Fixed before any way of working was measured: 8 checks (early) or 24 (measured), drawn among those that see something
the complaint may come from, the quick ones oftener. Which are drawn does not hang on what is wrong.
"""

from __future__ import annotations

import numpy as np

from knowngood.belief.protocol import Ask
from knowngood.library.fitted_on import can_have
from knowngood.library.reach import reach_of
from knowngood.library.records import Check, Library
from knowngood.proving.simulated import SimulatedCar
from knowngood.proving.simulated_worlds import dice

EARLY, MEASURED = 8, 24
CODES_SHARE = 0.5
ALWAYS_MINUTES = 2.0  # of any check: fetching the tool; keeps the quickest from being drawn always


def bearing_checks(car: SimulatedCar, library: Library) -> list[Check]:
    """Checks this car can have that see a fault of ours which may give its complaint: nobody looks for hidden ones."""
    seen = reach_of(library).readings
    causes = seen[car.arrival.complaint]
    return [
        check
        for check in library.checks.values()
        if can_have(check, car.arrival.car, library)
        and any(name in library.readings and seen[name] & causes for name in check.reads)
    ]


def minutes_of(check: Check, library: Library) -> float:
    """Minutes of a check with what must come off and go on again, on a car with everything closed."""
    access = (library.access[step] for step in check.access)
    return check.minutes + sum(step.open_minutes + step.close_minutes for step in access)


def asks_of(check: Check, car: SimulatedCar, library: Library) -> list[Ask]:
    """Every reading of a check at every place the engine has."""
    return [
        Ask(name, place)
        for name in check.reads
        if name in library.readings
        for place in car.model.acting.ladder_places(library.readings[name].place)
    ]


def gather(car: SimulatedCar, library: Library, checks: int) -> None:
    """Read the codes of one car in two, make a few checks, write all of it down.

    Parameters
    ----------
    library : Library
        Ours: what a check takes does not depend on the world.
    """
    rng = dice(car.arrival.seed, "evidence")
    if rng.random() < CODES_SHARE:
        car.read_codes()
    possible = bearing_checks(car, library)
    weight = np.array([1.0 / (ALWAYS_MINUTES + minutes_of(check, library)) for check in possible])
    count = min(checks, len(possible))
    for index in rng.choice(len(possible), count, replace=False, p=weight / weight.sum()) if count else ():
        car.check(asks_of(possible[int(index)], car, library))
