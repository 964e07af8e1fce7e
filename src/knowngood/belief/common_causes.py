"""One cause behind many faults: an animal in the loom, years of standing, a flood, the last repair.

A story tells that a cause was there; whether it did much harm to *this* car is not known. That is one state of the
car, shared by every fault the cause can bring about: where it did harm, the odds of each are a multiple of what they
are where it did not. So one chewed wire raises the next. What a fault's chance is over both kinds of car stays the
chance the story gives it: laid or not, nothing moves before a reading.

A cause is laid where a fault that it may have done was seen: then it is asked what else it did.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from knowngood.belief.priors import Story, applies, has_stood
from knowngood.belief.protocol import Array, FaultAt
from knowngood.belief.timeline import Instance
from knowngood.car import ENGINE, Car
from knowngood.library.records import Fault

CAUSES = ("animals", "standing", "flood", "after work")
HARM_TOLD = 0.5  # of cars whose story names the cause, the share it did much harm to; from memory
HARM_UNTOLD = {"animals": 0.05, "standing": 0.15, "flood": 0.01, "after work": 0.1}  # of all neglected cars; memory
MARKED = 3.0  # times, from which a cause is shared: what is less raised came by itself often enough; from memory
NEWTON_STEPS = 12  # the function is nearly a straight line


@dataclass(frozen=True)
class Cause:
    """A cause that is laid: the chance that it did much harm, and how far it then multiplies the odds of a fault.

    ``times``: fault id -> odds where it did harm, as a multiple of the odds where it did not.
    """

    name: str
    harm: float
    times: Mapping[str, float]


def story_names(name: str, car: Car, story: Story) -> bool | None:
    """Whether the car's story names a cause: ``False`` where it says that there was none, ``None`` where it is silent.

    Of work nobody says that none was done: an area that is not told is silence.
    """
    match name:
        case "animals":
            return car.animals
        case "flood":
            return car.flood
        case "standing":
            return None if car.standing_years is None else has_stood(car)
    return True if story.areas else None


def cause_of(name: str, faults: Iterable[Fault], car: Car, story: Story) -> Cause:
    """A cause with its faults; the library's count ``times`` is of all cars whose story names it, harmed or not."""
    told = story_names(name, car, story)
    times: dict[str, float] = {}
    for fault in faults:
        for raised in fault.raised:
            if raised.by == name and raised.times >= MARKED and (not told or applies(raised, fault, car, story)):
                harmed = (raised.times - (1.0 - HARM_TOLD)) / HARM_TOLD
                times[fault.id] = times.get(fault.id, 1.0) * harmed
    return Cause(name, HARM_TOLD if told else HARM_UNTOLD[name], times)


def laid(faults: Mapping[str, Fault], car: Car, story: Story, seen: Iterable[str]) -> tuple[Cause, ...]:
    """The causes of faults that were seen; one that the story denies is not laid, nor one of a single fault."""
    by_seen = {raised.by for name in seen for raised in faults[name].raised if raised.times >= MARKED}
    causes = [
        cause_of(name, faults.values(), car, story)
        for name in CAUSES
        if name in by_seen and story_names(name, car, story) is not False
    ]
    return tuple(cause for cause in causes if len(cause.times) > 1)


def causes_in_state(state: int) -> Instance:
    """What stands for a state of the common causes among the faults of a network, or of drawn sets."""
    return Instance("common causes", ENGINE, state)


class CommonCauses:
    """Which of the laid causes did much harm, as one variable, and every fault's chance in each of its states.

    Parameters
    ----------
    causes : sequence of Cause
    priors : mapping FaultAt -> float
        Chance of each fault over all states.

    Attributes
    ----------
    chance : array (state,)
        State 0: none did; the causes are the bits of a state, the first runs slowest.
    """

    def __init__(self, causes: Sequence[Cause], priors: Mapping[FaultAt, float]) -> None:
        self.causes = tuple(causes)
        self.priors = priors
        self.chance: Array = np.ones(1)
        raised: dict[str, Array] = {}  # of each fault, how far its log odds are raised in each state (state,)
        for cause in causes:
            self.chance = np.outer(self.chance, (1.0 - cause.harm, cause.harm)).ravel()
        for position, cause in enumerate(causes):
            harmed = (np.arange(self.states) >> (len(causes) - 1 - position)) & 1
            for fault, times in cause.times.items():
                raised[fault] = raised.get(fault, np.zeros(self.states)) + harmed * np.log(times)
        touched = [at for at in priors if at.fault in raised]
        given: Array = np.ones((0, self.states))
        if touched:
            given = given_state(
                np.array([priors[at] for at in touched]), [raised[at.fault] for at in touched], self.chance
            )
        self.given = dict(zip(touched, given, strict=True))

    @property
    def states(self) -> int:
        """Number of states; 1 where no cause is laid."""
        return len(self.chance)

    def of(self, at: FaultAt) -> Array:
        """Chance of an original fault in each state (state,)."""
        known = self.given.get(at)
        return known if known is not None else np.full(self.states, self.priors[at])


def given_state(prior: Array, raised: Sequence[Array], chance: Array) -> Array:
    """Chance of each fault in each state (fault, state): log odds ``raised`` in each, ``prior`` over all states.

    Examples
    --------
    >>> given = given_state(np.array([0.1]), [np.array([0.0, np.log(19.0)])], np.array([0.5, 0.5]))
    >>> f"{given @ np.array([0.5, 0.5])}"
    '[0.1]'
    """
    more = np.array(raised)
    wanted = np.log(prior) - np.log1p(-prior)
    odds = wanted - np.log(np.exp(more) @ chance)
    for _ in range(NEWTON_STEPS):
        there = 1.0 / (1.0 + np.exp(-(odds[:, None] + more)))
        mean = there @ chance
        slope = (there * (1.0 - there)) @ chance / (mean * (1.0 - mean))
        odds = odds - (np.log(mean) - np.log1p(-mean) - wanted) / slope
    return 1.0 / (1.0 + np.exp(-(odds[:, None] + more)))
