"""Which part sat where, and which faults had been put right, at every moment.

A part that can move or be replaced is an *occupant* of a slot (part, place).
Replacing puts a new occupant there, swapping exchanges two, and work that
cures without replacing (cleaning, reseating) starts a new *generation* of the
faults it cures. Each reading is scored on the faults of its own moment.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

import msgspec
from msgspec.structs import replace

from knowngood.belief.protocol import FaultAt
from knowngood.belief.worked_on import does, reaches
from knowngood.car import ENGINE, Layout, Place
from knowngood.evidence import Work
from knowngood.library.records import Fault, Library

PUTS_NEW = ("replaced", "tried", "fitted")
CHANGES = ("reseated", "cleaned", "adjusted", "repaired", "refilled", "bled", "relearned", "removed")

AT_ONCE = ("reseated", "cleaned", "adjusted", "repaired")  # what these do not put right at first they seldom do later
FILLED = "refilled"
SECOND_TRY = 0.2  # of the chance that such a cure works, what is left when it is made again; from memory
HERE = "here"
HANDS_ON = ("swapped", *PUTS_NEW, "cleaned", "repaired", "removed")


class Instance(msgspec.Struct, frozen=True, order=True, cache_hash=True):
    """A fault of one occupant (home place, serial number) in one generation.

    With a grade: the fault, and it is of that grade. With a look (:data:`knowngood.belief.looks.Look`): the fault, and
    it shows in that look.
    """

    fault: str
    home: Place
    serial: int = 0
    generation: int = 0
    grade: str = ""
    look: tuple[()] | tuple[str, int, int] = ()


@dataclass(frozen=True)
class Birth:
    """How an instance comes about: ``new`` (of a new part), ``left`` (what a cure left of ``parent``) or ``disturbed``
    (what was there before, or what the work may have brought about).

    ``works``: chance that the parent is there no more. ``comes``: chance that it is there though the parent was not.
    """

    kind: str
    parent: Instance | None = None
    works: float = 0.0
    comes: float = 0.0


@dataclass
class Snapshot:
    """Where things are at one moment; copied on change."""

    occupant: dict[tuple[str, Place], tuple[Place, int]] = field(default_factory=dict)
    generation: dict[tuple[str, Place, int], int] = field(default_factory=dict)

    def instance(self, fault: Fault, place: Place) -> Instance:
        """The instance of a fault at a place at this moment."""
        home, serial = self.occupant.get((fault.part, place), (place, 0))
        return Instance(fault.id, home, serial, self.generation.get((fault.id, home, serial), 0))

    def copy(self) -> Snapshot:
        """An independent copy."""
        return Snapshot(dict(self.occupant), dict(self.generation))


class Timeline:
    """Snapshots after each work, and the birth of every instance that is not original.

    Parameters
    ----------
    library : Library
    places : iterable of FaultAt
        Every fault this car can have.
    layout : Layout
    disturbed : mapping part -> faults with the chance that work on the part brings each about
    """

    def __init__(
        self,
        library: Library,
        places: Iterable[FaultAt],
        layout: Layout,
        disturbed: Mapping[str, Sequence[tuple[FaultAt, float]]] | None = None,
    ) -> None:
        self.library = library
        self.layout = layout
        self.disturbed = disturbed or {}
        self.births: dict[Instance, Birth] = {}
        self.now = Snapshot()
        self.serials: dict[tuple[str, Place], int] = {}
        self.of_set: dict[tuple[str, Place], int] = {}
        self.tried: dict[tuple[str, str, str, Place, int], int] = {}
        self.by_part: dict[str, list[FaultAt]] = {}
        self.cured_by: dict[tuple[str, str], list[tuple[FaultAt, float]]] = {}
        for at in places:
            fault = library.faults[at.fault]
            self.by_part.setdefault(fault.part, []).append(at)
            for cure in fault.cures:
                for do in dict.fromkeys((cure.do, *(one for one in CHANGES if does(one, cure.do)))):
                    self.cured_by.setdefault((do, cure.part or fault.part), []).append((at, cure.works))

    def do(self, work: Work, places: tuple[Place, ...]) -> None:
        """Fold one piece of work (its places already resolved to numbers) into the present snapshot."""
        after = self.now.copy()
        if len({place for place in places if place.kind == "cylinder"}) == self.layout.cylinders:
            places = (*places, ENGINE)  # all of them: what is said of the whole set is said of these, too
        if work.do == "swapped" and work.to is not None:
            for place in places:
                a, b = (work.part, place), (work.part, work.to)
                first = self.now.occupant.get(a, (place, 0))
                after.occupant[a] = self.now.occupant.get(b, (work.to, 0))
                after.occupant[b] = first
        elif work.do in PUTS_NEW:
            for place in self._reached(work, places):
                self._put_new(after, work.do, work.part, place)
            if self._is_new_set(after, work.part) and ENGINE not in places:
                self._put_new(after, work.do, work.part, ENGINE)
        elif work.do in CHANGES:
            for place in self._reached(work, places):
                self._cure(after, work.do, work.part, place, here=work.who == HERE)
        if work.do in HANDS_ON:
            self._disturb(after, work.part, {*places, *((work.to,) if work.to is not None else ())})
        self.now = after

    def _reached(self, work: Work, places: tuple[Place, ...]) -> list[Place]:
        """The places of the work, and those of faults that it reaches."""
        of_part = self.by_part.get(work.part, ())
        cured = [at for at, _ in self.cured_by.get((work.do, work.part), ())]
        met = dict.fromkeys((*places, *(at.place for at in (*of_part, *cured))))
        return [place for place in met if reaches(self.library, self.layout, work.part, places, place)]

    def _is_new_set(self, after: Snapshot, part: str) -> bool:
        """Whether the last old one of a part that every cylinder has went, one by one or at once: then it is a new set.

        What is said of the whole set is then said of these; one of them replaced later makes no new set.
        """
        cylinders = self.layout.places("cylinder")
        sits = [after.occupant.get((part, place), (place, 0)) for place in cylinders]
        if any(serial <= self.of_set.get((part, home), 0) for home, serial in sits):
            return False
        self.of_set.update(((part, home), serial) for home, serial in sits)
        return True

    def _put_new(self, after: Snapshot, do: str, part: str, place: Place) -> None:
        serial = self.serials.get((part, place), 0) + 1
        self.serials[(part, place)] = serial
        after.occupant[(part, place)] = (place, serial)
        for at in self.by_part.get(part, ()):
            if at.place == place:
                self.births[Instance(at.fault, place, serial)] = Birth("new")
        self._cure(after, do, part, place)

    def _disturb(self, after: Snapshot, part: str, places: set[Place]) -> None:
        """Faults of what had to come off, at the places of the work; what the work has just cured is as it left it."""
        for at, chance in self.disturbed.get(part, ()):
            if at.place not in places:
                continue
            fault = self.library.faults[at.fault]
            old = after.instance(fault, at.place)
            if old == self.now.instance(fault, at.place):
                fresh = replace(old, generation=old.generation + 1)
                after.generation[(old.fault, old.home, old.serial)] = fresh.generation
                self.births[fresh] = Birth("disturbed", old, 0.0, chance)
                gone = (old.fault, old.home, old.serial)
                self.tried = {trial: times for trial, times in self.tried.items() if trial[2:] != gone}

    def share_left(self, do: str, part: str, instance: Instance) -> float:
        """Share of its chance with which a cure of a fault works now: less where it was made before."""
        return share_at(self.tried.get(_trial(do, part, instance), 0))

    def _cure(self, after: Snapshot, do: str, part: str, place: Place, *, here: bool = False) -> None:
        """Faults this work puts right, also those of another part; those of a part that went went with it.

        Whether a cure works is a matter of the part, not of luck: made ``here`` once more it seldom works where it did
        not before.
        """
        works: dict[FaultAt, float] = {}
        for at, chance in self.cured_by.get((do, part), ()):
            new = do in PUTS_NEW and self.library.faults[at.fault].part == part
            if at.place == place and not new:
                works[at] = max(works.get(at, 0.0), chance)
        for at, chance in works.items():
            old = self.now.instance(self.library.faults[at.fault], place)
            fresh = Instance(old.fault, old.home, old.serial, old.generation + 1)
            after.generation[(old.fault, old.home, old.serial)] = fresh.generation
            self.births[fresh] = Birth("left", old, chance * self.share_left(do, part, old))
            if here and seldom_later(self.library.faults[at.fault], do):
                trial = _trial(do, part, old)
                self.tried[trial] = self.tried.get(trial, 0) + 1


def share_at(times: int) -> float:
    """Share of its chance with which a cure works that was made so many times in vain.

    Of parts of one kind some take it and some do not: with a chance that is spread over them as a Beta distribution is,
    each try in vain leaves less of it. One try leaves :data:`SECOND_TRY`.

    >>> [round(share_at(times), 3) for times in range(4)]
    [1.0, 0.2, 0.111, 0.077]
    """
    return 1.0 / (1.0 + times * (1.0 / SECOND_TRY - 1.0))


def seldom_later(fault: Fault, do: str) -> bool:
    """Whether a cure that did not put a fault right seldom does when it is made again.

    A level that is low is filled up again, as often as it takes. Where there is another cure, as a new battery for one
    that was charged, filling it is a try, and what that did not put right is a matter of the part.
    """
    return do in AT_ONCE or (do == FILLED and any(cure.do != FILLED for cure in fault.cures))


def _trial(do: str, part: str, instance: Instance) -> tuple[str, str, str, Place, int]:
    return do, part, instance.fault, instance.home, instance.serial


def new_part_chances(part_faults: Mapping[str, float], new_bad: float) -> dict[str, float]:
    """Chance of each fault of a new part: ``new_bad`` shared out in proportion to the old chances."""
    total = sum(part_faults.values())
    return {name: new_bad * chance / total if total > 0 else 0.0 for name, chance in part_faults.items()}
