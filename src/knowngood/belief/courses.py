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

MOST_PATHS = 128  # of one fault through the works on its part; so all of up to six works
MOST_LOOKS = 8  # that each show a fault or not by themselves; ways double with each


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
    for there_in, chance in _paths(steps).items():
        if not any(there_in):
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


def _paths(steps: Sequence[Birth]) -> dict[tuple[bool, ...], float]:
    """Whether a fault was there at first and after each work -> the chance of it, given how it was at first.

    After many works only the likeliest paths are kept, those from each beginning sharing what the others had: every
    work on a part would else double them, and twenty took for ever.
    """
    paths: dict[tuple[bool, ...], float] = {(True,): 1.0, (False,): 1.0}
    for birth in steps:
        grown = {
            (*path, after): chance * _step(birth, path[-1], after)
            for path, chance in paths.items()
            for after in (True, False)
        }
        paths = {path: chance for path, chance in grown.items() if chance > 0.0}
        if len(paths) > MOST_PATHS:
            paths = {**_likeliest(paths, begun=True), **_likeliest(paths, begun=False)}
    return paths


def _likeliest(paths: Mapping[tuple[bool, ...], float], *, begun: bool) -> dict[tuple[bool, ...], float]:
    """Of the paths with one beginning the likeliest half of what may be kept, in the order they stand in."""
    some = {path: chance for path, chance in paths.items() if path[0] is begun}
    kept = set(sorted(some, key=lambda path: -some[path])[: MOST_PATHS // 2])
    lost = math.fsum(some.values()) / math.fsum(some[path] for path in kept)
    return {path: chance * lost for path, chance in some.items() if path in kept}


def _step(birth: Birth, before: bool, after: bool) -> float:
    """Chance that a fault is there after a work, or is not, as it was before."""
    there = 1.0 - birth.works if before else birth.comes
    return there if after else 1.0 - there


def _patterns(fault: Fault, looks: Sequence[Look]) -> Iterator[tuple[frozenset[Look], float]]:
    """In which looks a fault that is there shows, and the chance of it."""
    trials = _trials(looks)
    by_condition: dict[str, int] = {}
    for condition, *_ in (trial[0] for trial in trials):
        by_condition[condition] = by_condition.get(condition, 0) + 1
    for bits in itertools.product((False, True), repeat=len(trials)):
        shown = list(itertools.compress(trials, bits))
        chance = 1.0
        for condition, count in by_condition.items():
            times = sum(trial[0][0] == condition for trial in shown)
            chance *= pattern_chance(share_shown(fault, condition), times, count)
        yield frozenset(itertools.chain.from_iterable(shown)), chance


def _trials(looks: Sequence[Look]) -> list[tuple[Look, ...]]:
    """Looks that come out each by itself; of very many the earlier ones under one condition are taken to be alike."""
    if len(looks) <= MOST_LOOKS:
        return [(look,) for look in looks]
    late = set(sorted(looks, key=lambda look: look[1:])[-MOST_LOOKS:])
    early: dict[str, list[Look]] = {}
    for look in looks:
        if look not in late:
            early.setdefault(look[0], []).append(look)
    return [*map(tuple, early.values()), *((look,) for look in looks if look in late)]
