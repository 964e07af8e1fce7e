"""Which faces of which faults a ladder meets, at a place, at a moment, under conditions.

A face is what a reading can meet of a fault (:mod:`knowngood.belief.courses`): there after so many cures, of some
grade, shown in some look.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import msgspec
from msgspec.structs import replace

from knowngood.belief.acting import Acting, Regime, Strength
from knowngood.belief.looks import condition_of
from knowngood.belief.protocol import FaultAt
from knowngood.belief.timeline import Instance, Snapshot
from knowngood.car import Place
from knowngood.library.records import Fault


class Target(msgspec.Struct, frozen=True, cache_hash=True):
    """Which ladder, where, when, under which conditions a reading stands on.

    ``moment``: index of the snapshot, 0 before any work. ``session``: the one its look is of; 0 for what is no look but
    a habit (a complaint, a stored code), in which a fault that comes and goes has shown.
    """

    ladder: str
    place: Place
    regime: Regime
    moment: int
    session: int = 0

    def at(self, ladder: str, place: Place) -> Target:
        """Another ladder at another place, in the same look."""
        return Target(ladder, place, self.regime, self.moment, self.session)


class Reach:
    """Which faults act on a ladder at a place, from where and how strongly; each worked out once.

    Parameters
    ----------
    acting : Acting
    places : mapping fault id -> sequence of FaultAt
        Where each fault can be on this car.
    """

    def __init__(self, acting: Acting, places: Mapping[str, Sequence[FaultAt]]) -> None:
        self.acting, self.places = acting, places
        self._known: dict[tuple[str, Place, Regime], list[tuple[Fault, Place, Strength]]] = {}

    def of(self, ladder: str, place: Place, regime: Regime) -> list[tuple[Fault, Place, Strength]]:
        """The faults, where each sits, and what it does."""
        key = (ladder, place, regime)
        if key not in self._known:
            self._known[key] = [
                (self.acting.library.faults[one.fault], at.place, one)
                for one in self.acting.strengths(ladder, regime)
                for at in self.places.get(one.fault, ())
                if self.acting.feeds(at.place, place)
            ]
        return self._known[key]


class Faces:
    """Faces met, each worked out once for all that is built from the same evidence.

    Parameters
    ----------
    reach : Reach
    snapshots : sequence of Snapshot
        By moment.
    """

    def __init__(self, reach: Reach, snapshots: Sequence[Snapshot]) -> None:
        self.reach, self.acting, self.snapshots = reach, reach.acting, snapshots
        self._known: dict[Target, list[tuple[Instance, int]]] = {}

    def of(self, target: Target) -> list[tuple[Instance, int]]:
        """What acts on the ladder of a target by itself, with its level or steps."""
        known = self._known.get(target)
        if known is None:
            known = self._known[target] = self._met(target)
        return known

    def _met(self, target: Target) -> list[tuple[Instance, int]]:
        snapshot = self.snapshots[target.moment]
        seen_in = (condition_of(target.regime), target.session, target.moment)
        result = []
        for fault, place, (_, grade, goes, size) in self.reach.of(target.ladder, target.place, target.regime):
            look = seen_in if goes and target.session else ()
            instance = snapshot.instance(fault, place)
            face = replace(instance, grade=grade, look=look) if grade or look else instance
            result.append((face, size))
        return result
