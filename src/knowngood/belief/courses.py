"""Everything one fault of one part can have been over the evidence: its course.

A fault that is there is of one grade, was left by the first so many cures, and showed or did not in each look. Each
such way has a chance of its own, given that the fault was there at first, and only one of them is true. So a history
costs no variables: the ways of a fault are folded into its cylinder beside those of the others.

What a reading meets is a *face* of the fault: there after so many cures, of this grade, shown in this look.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.looks import Look, pattern_chance, share_shown
from knowngood.belief.timeline import Birth, Instance
from knowngood.library.records import Fault

Bools = NDArray[np.bool_]


@dataclass(frozen=True)
class Course:
    """A fault with its ways.

    ``shares``: chance of each way, given that the fault was there at first (way,); they sum to 1. ``holds``: the faces
    that are true in each.
    """

    root: Instance
    shares: tuple[float, ...]
    holds: tuple[frozenset[Instance], ...]

    @cached_property
    def faces(self) -> tuple[Instance, ...]:
        """All its faces, the fault as it was at first before the others."""
        return tuple(sorted(frozenset().union(*self.holds)))

    @cached_property
    def table(self) -> Bools:
        """Which faces are true in which way (face, way)."""
        return np.array([[face in holds for holds in self.holds] for face in self.faces])


def plain(root: Instance) -> Course:
    """The course of a fault that only is there or is not."""
    return Course(root, (1.0,), (frozenset((root,)),))


def root_of(face: Instance) -> Instance:
    """The fault at first, whatever face of it is met."""
    if not (face.generation or face.grade or face.look):
        return face
    return replace(face, generation=0, grade="", look=())


def there(face: Instance) -> Instance:
    """The fault after as many cures, of whatever grade, shown or not."""
    return replace(face, grade="", look=()) if face.grade or face.look else face


def courses_of(
    faces: Iterable[Instance], faults: Mapping[str, Fault], births: Mapping[Instance, Birth]
) -> dict[Instance, Course]:
    """The courses of all faults some face of which is met, by their roots."""
    met: dict[Instance, dict[Instance, None]] = {}
    for face in faces:
        met.setdefault(root_of(face), {})[face] = None
    return {
        root: plain(root) if list(some) == [root] else _course(root, faults[root.fault], list(some), births)
        for root, some in met.items()
    }


def _course(root: Instance, fault: Fault, met: Sequence[Instance], births: Mapping[Instance, Birth]) -> Course:
    cures = max(face.generation for face in met)
    left = [1.0 - births[replace(root, generation=number)].works for number in range(1, cures + 1)]
    looks = {face.look: face.generation for face in met if face.look}
    graded = any(face.grade for face in met)
    shares: list[float] = []
    holds: list[frozenset[Instance]] = []
    so_far = 1.0
    for last in range(cures + 1):
        ended = so_far * (1.0 - left[last] if last < cures else 1.0)
        so_far *= left[last] if last < cures else 1.0
        open_to = [look for look, generation in looks.items() if generation <= last]
        for (grade, of_grade), (shown, chance) in itertools.product(
            fault.grades.items() if graded else (("", 1.0),), _patterns(fault, open_to)
        ):
            if ended * of_grade * chance > 0.0:
                shares.append(ended * of_grade * chance)
                stages = {replace(root, generation=number) for number in range(last + 1)}
                holds.append(
                    frozenset(stages).union(
                        face
                        for face in met
                        if face.generation <= last
                        and face.grade in ("", grade)
                        and (not face.look or face.look in shown)
                    )
                )
    return Course(root, tuple(shares), tuple(holds))


def _patterns(fault: Fault, looks: Sequence[Look]) -> Iterator[tuple[frozenset[Look], float]]:
    """In which looks a fault that is there shows, and the chance of it."""
    by_condition: dict[str, int] = {}
    for condition, *_ in looks:
        by_condition[condition] = by_condition.get(condition, 0) + 1
    for bits in itertools.product((False, True), repeat=len(looks)):
        shown = frozenset(itertools.compress(looks, bits))
        chance = 1.0
        for condition, count in by_condition.items():
            times = sum(one[0] == condition for one in shown)
            chance *= pattern_chance(share_shown(fault, condition), times, count)
        yield shown, chance
