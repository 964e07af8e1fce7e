"""What a fault brings about in time: a chance of another at a place it touches.

The count of a fault already holds the cars in which another brought it about. So the chance of the follow-on by itself
is what is left of its count once its causes are taken out; before any reading every chance is its count, linked or not.
A link is laid where one of its two ends was looked at and found or not found, so that what was seen for sure asks what
caused it and what it caused.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

import numpy as np

from knowngood.belief.common_causes import CommonCauses
from knowngood.belief.elimination import Array
from knowngood.belief.model import Model
from knowngood.belief.protocol import FaultAt
from knowngood.belief.timeline import Instance

BROUGHT_ABOUT = 0.15  # of cars with the cause there now, the share in which it has brought about the other; from memory
MOST_OF_COUNT = 0.9  # of a fault's count, the share that known causes may explain; from memory


@dataclass(frozen=True)
class Stem:
    """Chance of an instance: ``base`` by itself, by state of the common causes (state,), and each parent that is there
    brings it about with a chance."""

    base: Array
    parents: tuple[tuple[Instance, float], ...]


def stem_of(count: Array, causes: Mapping[Instance, Array]) -> Stem:
    """The stem of a fault from its own count and the chances of its causes, each by state of the common causes.

    In every state its chance before evidence is the count.

    Examples
    --------
    >>> from knowngood.car import ENGINE
    >>> cause = Instance("loom_rubbed", ENGINE)
    >>> stem = stem_of(np.array([0.05]), {cause: np.array([0.1])})
    >>> [float(value.round(12)) for value in 1.0 - (1.0 - stem.base) * (1.0 - 0.15 * 0.1)]
    [0.05]
    """
    chances = np.array(list(causes.values()))
    share = min(BROUGHT_ABOUT, float((MOST_OF_COUNT * count / chances.sum(axis=0)).min()))
    base = 1.0 - (1.0 - count) / np.prod(1.0 - share * chances, axis=0)
    return Stem(np.maximum(base, 0.0), tuple((cause, share) for cause in causes))


def links(model: Model, found: Iterable[Instance], common: CommonCauses) -> dict[Instance, Stem]:
    """Stems of the follow-ons of what was looked for, and of what was looked for and may follow from others.

    Only parts that have been on the car all along have had the time.
    """
    causes: dict[FaultAt, dict[FaultAt, None]] = {}
    for instance in found:
        if instance.serial or instance.generation:
            continue
        at = FaultAt(instance.fault, instance.home)
        for follow_on in _touched(model, at, model.library.faults[at.fault].leads_to):
            causes.setdefault(follow_on, {})[at] = None
        for cause in _touched(model, at, model.causes.get(at.fault, ())):
            causes.setdefault(at, {})[cause] = None
    return {
        Instance(at.fault, at.place): stem_of(
            common.of(at), {Instance(cause.fault, cause.place): common.of(cause) for cause in found_causes}
        )
        for at, found_causes in causes.items()
    }


def _touched(model: Model, at: FaultAt, names: Iterable[str]) -> list[FaultAt]:
    return [
        other for name in names for other in model.places.get(name, ()) if model.acting.feeds(at.place, other.place)
    ]
