"""A value's way turned into plain ladders: one for each step, the reading's own levels from where it was taken.

What has become of a value behind a step is the worst of what became of it before and of what the step itself does. A
reading that says where it was taken shows the truth as far as that step lets it through. Two readings of one truth
that disagree therefore accuse what lies between them, with no rule of its own.
"""

from __future__ import annotations

from collections.abc import Mapping, MutableMapping
from typing import Any

from msgspec.structs import replace

from knowngood.library.records import Ladder, ReadingKind
from knowngood.library.way_records import Way

Tables = Mapping[str, MutableMapping[str, Any]]


def lay(tables: Tables) -> list[tuple[str, str, str, str]]:
    """Write ways out into the tables of a library: their ladders, and what readings taken on them stand on.

    Names that are not there are passed over: a rule names them.

    Parameters
    ----------
    tables : mapping place in the library -> records by id
        Changed in place.

    Returns
    -------
    list of (table, id of the new record, table, id of what it was written from)
    """
    made: list[tuple[str, str, str, str]] = []
    taken_on: dict[str, Way] = {}
    for way in tables["ways"].values():
        taken_on[way.id] = way
        for step in way.steps:
            taken_on[step.id] = way
            inputs = {name: dict(table) for name, table in step.inputs.items()}
            before = way.before(step)
            if before:
                inputs[before] = {level: level for level in way.levels[1:]}
            tables["ladders"][step.id] = Ladder(
                id=step.id,
                name=f"{way.name} {step.name}",
                place=way.place,
                levels=way.levels,
                unordered=way.unordered,
                inputs=inputs,
            )
            made.append(("ladder", step.id, "way", way.id))
    for name, kind in tables["readings"].items():
        if kind.taken in taken_on:
            tables["readings"][name] = reading_on(taken_on[kind.taken], kind)
    return made


def reading_on(way: Way, kind: ReadingKind) -> ReadingKind:
    """A reading taken somewhere on a way, standing on what it shows there.

    Taken at the way's own id it is of the truth, by other means.
    """
    inputs: dict[str, dict[str, str | int]] = {name: dict(table) for name, table in kind.inputs.items()}
    if way.truth:
        inputs[way.truth] = dict(way.truth_shows)
    if kind.taken != way.id:
        inputs[kind.taken] = dict(way.shows)
    return replace(kind, levels=way.shown, inputs=inputs, unordered=kind.unordered or way.unordered)
