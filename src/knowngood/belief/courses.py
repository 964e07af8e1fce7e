"""Everything one fault of one part can have been over the evidence: its course.

A fault that is there is of one grade, was left by the first so many cures, and showed or did not in each look. Each
such way has a chance of its own, given that the fault was there at first, and only one of them is true. So a history
costs no variables: the ways of a fault are folded into its cylinder beside those of the others.

What a reading meets is a *face* of the fault: there after so many cures, of this grade, shown in this look.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from msgspec.structs import replace

from knowngood.belief.looks import Look, pattern_chance, share_shown
from knowngood.belief.protocol import Array, Bools
from knowngood.belief.timeline import Birth, Instance
from knowngood.library.records import Fault


@dataclass(frozen=True)
class Course:
    """A fault with its ways.

    ``shares``: chance of each way, given that the fault was there at first (way,); they sum to 1. ``later``: given that
    it was not; what is left of 1 is the chance that work never brought it about. ``holds``: the faces that are true in
    each.
    """

    root: Instance
    shares: tuple[float, ...]
    holds: tuple[frozenset[Instance], ...]
    later: tuple[float, ...]

    @cached_property
    def faces(self) -> tuple[Instance, ...]:
        """All its faces, the fault as it was at first before the others."""
        return tuple(sorted(frozenset().union(*self.holds)))

    @cached_property
    def table(self) -> Bools:
        """Which faces are true in which way (face, way)."""
        return np.array([[face in holds for holds in self.holds] for face in self.faces])

    def chances(self, base: Array) -> Array:
        """Chance of each way (..., way), from that of the fault at first (...)."""
        result: Array = np.multiply.outer(base, self.shares) + np.multiply.outer(1.0 - base, self.later)
        return result

    def spread(self, base: float) -> tuple[float, ...]:
        """:meth:`chances` of one number."""
        return tuple(base * share + (1.0 - base) * later for share, later in zip(self.shares, self.later, strict=True))


def plain(root: Instance) -> Course:
    """The course of a fault that only is there or is not."""
    return Course(root, (1.0,), (frozenset((root,)),), (0.0,))


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
    stages = [replace(root, generation=number) for number in range(1 + max(face.generation for face in met))]
    steps = [births[stage] for stage in stages[1:]]
    looks = {face.look: face.generation for face in met if face.look}
    graded = any(face.grade for face in met)
    ways: dict[frozenset[Instance], list[float]] = {}
    for there_in in itertools.product((True, False), repeat=len(stages)):
        chance = math.prod(_step(birth, *pair) for birth, pair in zip(steps, itertools.pairwise(there_in), strict=True))
        if not any(there_in) or chance == 0.0:
            continue
        open_to = [look for look, generation in looks.items() if there_in[generation]]
        for (grade, of_grade), (shown, of_pattern) in itertools.product(
            fault.grades.items() if graded else (("", 1.0),), _patterns(fault, open_to)
        ):
            faces = [
                face
                for face in met
                if there_in[face.generation] and face.grade in ("", grade) and (not face.look or face.look in shown)
            ]
            holds = frozenset(itertools.compress(stages, there_in)).union(faces)
            known = ways.setdefault(holds, [0.0, 0.0])
            known[0 if there_in[0] else 1] += chance * of_grade * of_pattern
    return Course(root, tuple(a for a, _ in ways.values()), tuple(ways), tuple(b for _, b in ways.values()))


def _step(birth: Birth, before: bool, after: bool) -> float:
    """Chance that a fault is there after a work, or is not, as it was before."""
    there = 1.0 - birth.works if before else birth.comes
    return there if after else 1.0 - there


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
