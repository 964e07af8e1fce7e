"""What was found or told, as the looks that would have shown it.

A pipe rusted through needs no second look, and a pedal that goes to the floor is no pedal that was not looked at.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from knowngood.evidence import Finding, Reading
from knowngood.library.records import Fault, Library, ReadingKind
from knowngood.planner.gates import MOVED, Look

MOVES = (MOVED, "road")  # gates from which the car moves
SPEAKS_FOR = 10.0
"""How many times likelier than on a good car a complaint must be with a fault to shut the looks that see the fault."""


def looks_found_bad(library: Library, finding: Finding) -> Iterator[Look]:
    """The looks of gates and stages that a finding has settled: each with the word its fault shows as.

    A look sees a fault of its own, or the level the fault brings about. A finding of nothing settles none.
    """
    fault = library.faults.get(finding.fault)
    if fault is None or not finding.seen:
        return
    of_gates = (look for gate in library.gates.values() for look in gate.looks)
    of_stages = (look for stage in library.stages.values() for look in stage.looks)
    yield from _showing(library, dict.fromkeys((*of_gates, *of_stages)), fault)


def looks_told_bad(library: Library, told: Reading) -> Iterator[Look]:
    """The looks before the car moves that see what a complaint about a stop item speaks for.

    By looks, never by chances: the complaint shuts them as a bad look does, until they are made again and are good.
    """
    kind = library.readings.get(told.kind)
    if kind is None or not (kind.complaint and kind.stop) or told.doubt or not kind.levels:
        return
    good = kind.chance[kind.levels[0]].get(told.word, 0.0)
    before = dict.fromkeys(look for gate in MOVES if gate in library.gates for look in library.gates[gate].looks)
    for name, level in kind.direct.items():
        if kind.chance[level].get(told.word, 0.0) >= SPEAKS_FOR * good:
            yield from _showing(library, before, library.faults[name])


def _showing(library: Library, names: Iterable[str], fault: Fault) -> Iterator[Look]:
    """Of these looks those that see the fault, as they show it."""
    for name in names:
        kind = library.readings.get(name)
        level = level_shown(kind, fault) if kind is not None else ""
        if kind is not None and level in kind.chance:
            yield Look(kind.id, max(kind.words, key=lambda word: kind.chance[level].get(word, 0.0)))


def level_shown(kind: ReadingKind, fault: Fault) -> str:
    """The level a look shows where the fault is there; empty where it does not see it."""
    if fault.id in kind.direct:
        return kind.direct[fault.id]
    levels = (kind.inputs.get(act.on, {}).get(act.level) for act in fault.acts)
    return next((str(level) for level in levels if level is not None), "")
