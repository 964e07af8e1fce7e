"""What a fault does, and who sees it: from faults along ladders to readings, codes and checks.

Reach is that of one fault alone on a car that is otherwise good. A reading sees a
fault when what it shows differs from what it shows on a good car.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from knowngood.car import MOST_CYLINDERS, TWO
from knowngood.library.records import REGIMES, Check, Code, Fault, Ladder, Library, ReadingKind
from knowngood.library.steps import at_level

Level = str | int
Reached = dict[str, dict[str, frozenset[Level]]]
"""Ladder id -> regime -> the levels (or signed steps) a fault can bring it to, the good one left out."""

_SPAN = {"cylinder": (1,), **dict.fromkeys(TWO, (2,))}


@dataclass(frozen=True)
class Reach:
    """All answers for one library; each is worked out once."""

    library: Library

    @cached_property
    def faults(self) -> dict[str, Reached]:
        """What each fault reaches, by fault id."""
        return {name: reached(self.library, fault) for name, fault in self.library.faults.items()}

    @cached_property
    def readings(self) -> dict[str, frozenset[str]]:
        """The faults each kind of reading sees, by its id."""
        return {name: self.of_reading(kind) for name, kind in self.library.readings.items()}

    @cached_property
    def codes(self) -> dict[str, frozenset[str]]:
        """The faults each code can come from, by its id."""
        return {name: self.of_code(code) for name, code in self.library.codes.items()}

    @cached_property
    def _known(self) -> dict[tuple[type, str], frozenset[str]]:
        return {}

    def of_reading(self, kind: ReadingKind) -> frozenset[str]:
        """The faults one kind of reading of the library sees."""
        return self._once(kind, kind.chance or kind.spread or None)

    def of_code(self, code: Code) -> frozenset[str]:
        """The faults one code of the library can come from."""
        return self._once(code, code.set)

    def _once(self, kind: ReadingKind | Code, shows: Mapping[str, object] | None) -> frozenset[str]:
        key = type(kind), kind.id
        if key not in self._known:
            self._known[key] = frozenset(self._seen(kind, shows))
        return self._known[key]

    @cached_property
    def checks(self) -> dict[str, frozenset[str]]:
        """The faults each check sees, by its id; ``code`` among its readings stands for all codes."""
        return {name: frozenset(self._seen_by_check(check)) for name, check in self.library.checks.items()}

    def _seen_by_check(self, check: Check) -> Iterator[str]:
        for name in check.reads:
            seen = [self.readings.get(name, frozenset()), self.codes.get(name, frozenset())]
            for fault in frozenset().union(*seen, *(self.codes.values() if name == "code" else ())):
                if can_meet(check.needs, self.library.faults[fault].needs):
                    yield fault

    def _seen(self, kind: ReadingKind | Code, shows: Mapping[str, object] | None) -> Iterator[str]:
        for name, reached_by in self.faults.items():
            needs = self.library.faults[name].needs
            if can_meet(kind.needs, needs) and tells(self.library, kind, shows, name, reached_by):
                yield name


_KEPT: dict[str, Reach] = {}
_MOST_KEPT = 4


def reach_of(library: Library) -> Reach:
    """The reach of a library, worked out once for each: several rules ask the same."""
    found = _KEPT.get(library.hash)
    if found is None or found.library is not library:
        while len(_KEPT) >= _MOST_KEPT:
            _KEPT.pop(next(iter(_KEPT)))
        found = _KEPT[library.hash] = Reach(library)
    return found


def reached(library: Library, fault: Fault) -> Reached:
    """What a fault alone brings each ladder to, in each regime, its inputs followed to the end.

    Modifiers (``wet``, ``bump``) are taken as present. A fault of a bank or of the engine may reach one to twelve
    cylinders, so that a ladder that counts cylinders gets every count.
    """
    found: dict[str, dict[str, set[Level]]] = {}
    for act in fault.acts:
        ladder = library.ladders.get(act.on)
        if ladder is None:
            continue
        level: Level = clipped(ladder, act.shift) if ladder.combine == "sum" else act.level
        for regime in act.when or REGIMES:
            found.setdefault(act.on, {}).setdefault(regime, set()).add(level)
    waiting = list(found)
    while waiting:
        name = waiting.pop()
        for ladder in library.ladders.values():
            table = ladder.inputs.get(name)
            if table is not None and _pass_on(library.ladders[name], ladder, table, found, fault):
                waiting.append(ladder.id)
    return {
        name: {regime: frozenset(levels) for regime, levels in by_regime.items()} for name, by_regime in found.items()
    }


def _pass_on(
    source: Ladder,
    ladder: Ladder,
    table: dict[str, Level],
    found: dict[str, dict[str, set[Level]]],
    fault: Fault,
) -> bool:
    """Carries the levels of one ladder over to another; tells whether anything was new."""
    grew = False
    for regime, levels in list(found[source.id].items()):
        for level in levels:
            for result in _results(source, ladder, at_level(table, level), fault):
                here = found.setdefault(ladder.id, {}).setdefault(regime, set())
                grew = grew or result not in here
                here.add(result)
    return grew


def _results(source: Ladder, ladder: Ladder, result: Level | None, fault: Fault) -> Iterator[Level]:
    if isinstance(result, int) and source.place == "cylinder" and ladder.place != "cylinder":
        for cylinders in _SPAN.get(fault.place, range(1, MOST_CYLINDERS + 1)):
            yield clipped(ladder, result * cylinders)
    elif isinstance(result, int):
        yield clipped(ladder, result)
    elif result is not None:
        yield result


def clipped(ladder: Ladder, steps: int) -> int:
    """Signed steps held inside the ladder's ends."""
    return max(ladder.low, min(ladder.high, steps))


def can_meet(some: Mapping[str, tuple[str, ...]], others: Mapping[str, tuple[str, ...]]) -> bool:
    """Whether one car can meet both needs. Systems are no hindrance to each other: a car may have several."""
    shared = (set(some) & set(others)) - {"systems"}
    return all(set(some[field]) & set(others[field]) for field in shared)


def tells(
    library: Library,
    kind: ReadingKind | Code,
    shows: Mapping[str, object] | None,
    fault: str,
    reached_by: Reached,
) -> bool:
    """Whether a kind of reading or a code shows something else with this fault than on a good car.

    ``shows`` is what is shown at each level; ``None`` when every step shows something of its own.
    """
    good = good_level(library, kind)
    return any(
        level != good and (shows is None or at_level(shows, level) != at_level(shows, good))
        for level in levels_shown(library, kind, fault, reached_by)
    )


def levels_shown(library: Library, kind: ReadingKind | Code, fault: str, reached_by: Reached) -> Iterator[Level]:
    """The levels of a kind of reading or a code that a fault alone can bring it to, in the regime it is taken in."""
    if fault in kind.direct:
        yield kind.direct[fault]
    if kind.on:
        yield from _at(reached_by, kind.on, kind.when)
    for name, table in kind.inputs.items():
        for level in _at(reached_by, name, kind.when):
            result = at_level(table, level)
            if result is not None:
                yield result


def _at(reached_by: Reached, ladder: str, when: str) -> Iterator[Level]:
    by_regime = reached_by.get(ladder, {})
    for regime, levels in by_regime.items():
        if when in ("any", "", regime):
            yield from levels


def good_level(library: Library, kind: ReadingKind | Code) -> Level:
    """The level of a good car: the first one, or step 0."""
    if kind.on and kind.on in library.ladders:
        ladder = library.ladders[kind.on]
        return 0 if ladder.combine == "sum" else ladder.levels[0] if ladder.levels else ""
    return kind.levels[0] if kind.levels else ""
