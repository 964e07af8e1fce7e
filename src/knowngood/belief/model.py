"""What does not change with evidence, and what the evidence comes to."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from knowngood.belief.acting import Acting
from knowngood.belief.clues import ClueMaker, Ladders, Said
from knowngood.belief.common_causes import Cause, CommonCauses, laid
from knowngood.belief.elimination import Array
from knowngood.belief.evaluate import Strengths
from knowngood.belief.faces import Faces, Reach
from knowngood.belief.nodes import is_single
from knowngood.belief.priors import LEAST, all_priors, disturbances, story_of
from knowngood.belief.protocol import FaultAt
from knowngood.belief.timeline import Instance, Snapshot, Timeline, new_part_chances
from knowngood.car import Car, Layout, Place
from knowngood.library.records import Library


@dataclass
class Known:
    """Everything the evidence comes to: what was said of ladders, findings, and where parts were when.

    Parameters
    ----------
    said : list of Said
    found : list of (int, Instance, array (2,))
        Entry, face, and the chance of what was seen where the face is not there and where it is.
    snapshots : list of Snapshot
        Before any work, and after each.
    levels : dict name -> array (point,)
        Grids of the unknown healthy levels, in the base unit of their kind of reading.
    texts : dict entry -> str
        The words of the lines.
    session : int
        The one that is going on, counted from 1.
    """

    said: list[Said] = field(default_factory=list)
    found: list[tuple[int, Instance, Array]] = field(default_factory=list)
    snapshots: list[Snapshot] = field(default_factory=lambda: [Snapshot()])
    levels: dict[str, Array] = field(default_factory=dict)
    texts: dict[int, str] = field(default_factory=dict)
    session: int = 1


class Frame:
    """What stays as long as the same is told of the car; who acts on what is worked out as it is asked for."""

    def __init__(self, library: Library, car: Car, layout: Layout) -> None:
        self.library = library
        self.car = car
        self.layout = layout
        self.story = story_of(car, library)
        self.priors = all_priors(library, car, layout)
        self.faults = tuple(self.priors)
        self.column = {at: index for index, at in enumerate(self.faults)}
        self.places: dict[str, list[FaultAt]] = {}
        for at in self.faults:
            self.places.setdefault(at.fault, []).append(at)
        self.acting = Acting(library, layout)
        self.ladders = Ladders(self.acting, library)
        self.strengths = Strengths(self.acting, self.column)
        self.reach = Reach(self.acting, self.places)
        self.outcome_tables: dict[str, Array] = {}  # by reading, as they are asked for
        self.disturbances = disturbances(library, car, layout)


NEW_BAD_PER_1000 = 10.0  # of a part the library has no record of; from memory
FRAMES_KEPT = 4
_FRAMES: list[Frame] = []
"""Of the cars asked for last: an entry mostly tells nothing new of the car."""


def frame_of(library: Library, car: Car, layout: Layout) -> Frame:
    """The frame of a car, the same one as long as library, car and layout are the same."""
    for frame in tuple(_FRAMES):
        if frame.library is library and frame.layout == layout and frame.car == car:
            return frame
    frame = Frame(library, car, layout)
    _FRAMES.insert(0, frame)
    del _FRAMES[FRAMES_KEPT:]
    return frame


class Model:
    """What does not change with evidence: the car, its possible faults, who acts on what; and where its parts went."""

    def __init__(self, library: Library, car: Car, layout: Layout) -> None:
        self.frame = frame = frame_of(library, car, layout)
        self.library, self.car, self.layout = library, car, layout
        self.story, self.priors, self.faults = frame.story, frame.priors, frame.faults
        self.column, self.places, self.acting = frame.column, frame.places, frame.acting
        self.ladders, self.strengths, self.outcome_tables = frame.ladders, frame.strengths, frame.outcome_tables
        self._common: dict[tuple[str, ...], CommonCauses] = {}
        self.causes: dict[str, list[str]] = {}
        for fault in library.faults.values():
            for name in fault.leads_to:
                self.causes.setdefault(name, []).append(fault.id)
        self.timeline = Timeline(library, self.faults, layout, frame.disturbances)
        self.clues = ClueMaker(library, car, layout, self.ladders)
        self._faces: Faces | None = None

    def seat(self, place: Place) -> int:
        """Where a place sits along the engine: 0 for engine and bank, then the cylinders bank by bank."""
        if not is_single(place):
            return 0
        return min(self._row.index(number) for number in self.acting.cylinders_of(place)) + 1

    def faces(self, snapshots: list[Snapshot]) -> Faces:
        """Faces met at these moments; what was worked out for the same list of them serves again."""
        if self._faces is None or self._faces.snapshots is not snapshots:
            self._faces = Faces(self.frame.reach, snapshots)
        return self._faces

    @cached_property
    def _row(self) -> tuple[int, ...]:
        return tuple(number for bank in self.layout.banks for number in bank)

    def common_causes(self, seen: Iterable[str]) -> CommonCauses:
        """What faults that were seen may have in common with others."""
        causes: tuple[Cause, ...] = laid(self.library.faults, self.car, self.story, seen)
        names = tuple(cause.name for cause in causes)
        if names not in self._common:
            self._common[names] = CommonCauses(causes, self.priors)
        return self._common[names]

    def chance_of(self, instance: Instance, common: CommonCauses) -> Array:
        """Chance of an instance that stems from no other, in each state of the common causes (state,)."""
        birth = self.timeline.births.get(instance)
        if birth is None or birth.kind != "new":
            return common.of(FaultAt(instance.fault, instance.home))
        part = self.library.faults[instance.fault].part
        old = {at.fault: self.priors[at] for at in self.timeline.by_part[part] if at.place == instance.home}
        record = self.library.parts.get(part)
        new_bad = (record.new_bad_per_1000 if record is not None else NEW_BAD_PER_1000) / 1000.0
        return np.full(common.states, max(new_part_chances(old, new_bad)[instance.fault], LEAST))
