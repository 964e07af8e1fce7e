"""What was found beyond doubt, as the looks that would have shown it: a pipe rusted through needs no second look."""

from __future__ import annotations

from collections.abc import Iterator

from knowngood.evidence import Finding
from knowngood.library.records import Fault, Library, ReadingKind
from knowngood.planner.gates import Look


def looks_found_bad(library: Library, finding: Finding) -> Iterator[Look]:
    """The looks of gates and stages that a finding has settled: each with the word its fault shows as.

    A look sees a fault of its own, or the level the fault brings about. A finding of nothing settles none.
    """
    fault = library.faults.get(finding.fault)
    if fault is None or not finding.seen:
        return
    of_gates = (look for gate in library.gates.values() for look in gate.looks)
    of_stages = (look for stage in library.stages.values() for look in stage.looks)
    for name in dict.fromkeys((*of_gates, *of_stages)):
        kind = library.readings.get(name)
        level = level_shown(kind, fault) if kind is not None else ""
        if kind is not None and level in kind.chance:
            yield Look(kind.id, max(kind.words, key=lambda word: kind.chance[level].get(word, 0.0)))


def shown_by(library: Library, kind: ReadingKind, fault: Fault) -> bool:
    """Whether a look shows a fault, by itself or by a reading that settles it."""
    return any(level_shown(one, fault) for one in (kind, *(library.readings[name] for name in kind.bad_by)))


def level_shown(kind: ReadingKind, fault: Fault) -> str:
    """The level a look shows where the fault is there; empty where it does not see it."""
    if fault.id in kind.direct:
        return kind.direct[fault.id]
    levels = (kind.inputs.get(act.on, {}).get(act.level) for act in fault.acts)
    return next((str(level) for level in levels if level is not None), "")
