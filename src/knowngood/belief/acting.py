"""Which faults act on which ladder, how strongly, under which conditions.

A pure view of the library and the layout, remembered per library: the belief,
the evaluation of fault sets and the tests all read it.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable
from functools import cached_property
from typing import NamedTuple

import msgspec
from msgspec.structs import replace

from knowngood.car import ENGINE, ONE_OR_TWO, Layout, Place
from knowngood.library.records import Act, Fault, Ladder, Library
from knowngood.library.steps import steps_of

USUAL_REGIME = "cruise"


class Regime(msgspec.Struct, frozen=True, cache_hash=True):
    """Conditions of a reading: one regime (``any``: whichever shows it) and modifiers."""

    name: str = "any"
    modifiers: frozenset[str] = frozenset()

    def admits(self, act: Act) -> bool:
        """Whether a fault acts this way under these conditions."""
        if self.name != "any" and act.when and self.name not in act.when:
            return False
        return not act.only or bool(self.modifiers.intersection(act.only))


class Strength(NamedTuple):
    """What a fault does to a ladder: ``size`` is its level by index (worst wins), or steps (sum).

    ``grade``: empty where the fault has none, or where all of them do the same. ``goes``: it comes and goes, and does
    this only in looks in which it shows.
    """

    fault: str
    grade: str
    goes: bool
    size: int


class Inflow(NamedTuple):
    """What a ladder is fed by, from which places, and what each hands on by its state; whether that rises from the
    worst of some faults, so that these can be taken for faults of the ladder itself."""

    source: Ladder
    through: tuple[int, ...]
    rising: bool
    places: tuple[Place, ...]


def level_map(source: Ladder, target: Ladder, table: dict[str, str | int]) -> tuple[int, ...]:
    """State of ``source`` (by index) -> level index (worst) or steps (sum) of ``target``; 0 where not named."""

    def read(value: str | int) -> int:
        return value if isinstance(value, int) else target.levels.index(value)

    if source.combine == "sum":
        result = [0] * (source.high - source.low + 1)
        for text, value in table.items():
            for step in steps_of(text) or ():
                result[step - source.low] = read(value)
        return tuple(result)
    return tuple(read(table[level]) if level in table else 0 for level in source.levels)


class Acting:
    """Acts of faults and feeds of ladders, by ladder.

    Parameters
    ----------
    library : Library
    layout : Layout
    extra : iterable of Ladder
        Ladders of single readings (their own levels), besides those of the library.
    """

    def __init__(self, library: Library, layout: Layout, extra: Iterable[Ladder] = ()) -> None:
        self.library = library
        self.layout = layout
        self.ladders: dict[str, Ladder] = {
            name: ladder if self._has(ladder) else replace(ladder, inputs={})
            for name, ladder in library.ladders.items()
        }
        for ladder in extra:
            self.ladders[ladder.id] = ladder
        self._acts: dict[str, list[tuple[Fault, Act]]] = {}
        for fault in library.faults.values():
            for act in fault.acts:
                if self._has(self.ladders[act.on]):
                    self._acts.setdefault(act.on, []).append((fault, act))
        self._strengths: dict[tuple[str, Regime], tuple[Strength, ...]] = {}
        self._through: dict[tuple[str, str], tuple[int, ...]] = {}
        self._sources: dict[tuple[str, Place], tuple[Place, ...]] = {}
        self._inflows: dict[tuple[str, Place, tuple[int, ...]], list[Inflow]] = {}

    def _has(self, ladder: Ladder) -> bool:
        """Whether an engine of so many cylinders has this ladder."""
        return not ladder.cylinders or self.layout.cylinders in ladder.cylinders

    def add_direct(self, ladder: Ladder, direct: dict[str, str]) -> None:
        """Let faults act directly on the own ladder of one reading, whatever the conditions."""
        if ladder.id in self.ladders:
            return
        self.ladders[ladder.id] = ladder
        self._acts[ladder.id] = [
            (self.library.faults[fault], Act(on=ladder.id, level=level, steady=True)) for fault, level in direct.items()
        ]

    def strengths(self, ladder_id: str, regime: Regime) -> tuple[Strength, ...]:
        """What each fault does to a ladder under a regime; who does nothing is left out."""
        key = (ladder_id, regime)
        known = self._strengths.get(key)
        if known is not None:
            return known
        ladder = self.ladders[ladder_id]
        if ladder.combine == "sum" and regime.name == "any":
            # levels of several regimes do not add; what a look shows is what the engine does most of the time
            regime = Regime(USUAL_REGIME, regime.modifiers)
        best: dict[tuple[str, str, bool], int] = {}
        for fault, act in self._acts.get(ladder_id, ()):
            if not regime.admits(act):
                continue
            size = ladder.levels.index(act.level) if act.level else act.shift
            for grade in fault.grades or ("",):
                which = (fault.id, grade, bool(fault.shows) and not act.steady)
                if act.grade in ("", grade) and abs(size) > abs(best.get(which, 0)):
                    best[which] = size
        result = tuple(Strength(*which, size) for which, size in self._as_one(best).items())
        self._strengths[key] = result
        return result

    def _as_one(self, best: dict[tuple[str, str, bool], int]) -> dict[tuple[str, str, bool], int]:
        """The same, grades of a fault that all do the same written as one."""
        result: dict[tuple[str, str, bool], int] = {}
        for (name, grade, goes), size in best.items():
            every = {best.get((name, one, goes), 0) for one in self.library.faults[name].grades}
            result[name, "" if len(every) < 2 else grade, goes] = size
        return result

    def feeds(self, source_place: Place, place: Place) -> bool:
        """Whether something at ``source_place`` reaches a ladder at ``place``."""
        if source_place.kind == "engine" or place.kind == "engine" or source_place == place:
            return True
        reached = self._cylinders[source_place] & self._cylinders[place]
        return bool(reached)

    @cached_property
    def _cylinders(self) -> dict[Place, frozenset[int]]:
        parts = (place for kind in (*ONE_OR_TWO, "bank") for place in self.layout.places(kind))
        return {ENGINE: frozenset(self.layout.numbers()), **{place: self.layout.cylinders_at(place) for place in parts}}

    def through(self, source: str, target: str) -> tuple[int, ...]:
        """What one ladder hands on to another by its state: see :func:`level_map`."""
        key = (source, target)
        if key not in self._through:
            ladder = self.ladders[target]
            self._through[key] = level_map(self.ladders[source], ladder, ladder.inputs[source])
        return self._through[key]

    def sources(self, kind: str, place: Place) -> tuple[Place, ...]:
        """Where ladders at places of a kind feed one at a place; of the same kind only the place itself."""
        key = (kind, place)
        if key not in self._sources:
            every = (place,) if kind == place.kind else self.ladder_places(kind)
            self._sources[key] = tuple(other for other in every if self.feeds(other, place))
        return self._sources[key]

    def inflows(self, target: str, place: Place, mapping: tuple[int, ...]) -> list[Inflow]:
        """What the inputs of a ladder at a place hand on, its levels taken as ``mapping`` has them, if anything."""
        key = (target, place, mapping)
        if key not in self._inflows:
            self._inflows[key] = []
            for source in map(self.ladders.__getitem__, self.ladders[target].inputs):
                through = tuple(mapping[level] for level in self.through(source.id, target))
                rising = source.combine == "worst" and all(a <= b for a, b in itertools.pairwise(through))
                if any(through):
                    self._inflows[key].append(Inflow(source, through, rising, self.sources(source.place, place)))
        return self._inflows[key]

    def ladder_places(self, kind: str) -> list[Place]:
        """Every place of a kind: cylinders, banks, two cylinders, or the engine."""
        return [place for place in self._cylinders if place.kind == kind]

    def cylinders_of(self, place: Place) -> frozenset[int]:
        """Cylinder numbers a place touches."""
        return self._cylinders.get(place, frozenset(self.layout.numbers()))
