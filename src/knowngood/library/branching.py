"""The table of branches turned into plain ladders, faults, readings and checks.

The belief knows ladders only. What hangs on a fuse is therefore no special case of it: a branch becomes two ladders,
its consumers get an input from the second, and the faults, readings and checks that every branch of a kind can have
are written out for each. A fault on a main relay so reaches, by worst wins, every coil and sensor behind it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, MutableMapping
from hashlib import sha256
from typing import Any, TypeVar

import msgspec
from msgspec.structs import replace

from knowngood.library.branch_records import BRANCH_LEVELS, Branch, Consumer
from knowngood.library.record import Record
from knowngood.library.records import (
    BranchCheck,
    BranchFault,
    BranchReading,
    Check,
    Fault,
    Ladder,
    Library,
    ReadingKind,
)
from knowngood.library.tables import KINDS

HERE, CARRIES = "branch", "branch_carries"
"""Ladders a record of every branch names: of the branch itself, and of what is left behind it."""

Tables = Mapping[str, MutableMapping[str, Any]]
R = TypeVar("R", bound=Record)


def spread(tables: Tables, branches: Iterable[Branch]) -> list[tuple[str, str, str, str]]:
    """Write branches out into the tables of a library.

    A fault of every branch is left out where a fault that does the same at that branch is written down, of whatever
    part: the wet fuse box stands for the poor contact of the two fuses it acts on.

    Parameters
    ----------
    tables : mapping place in the library -> records by id
        Changed in place. Names of consumers, branches and ladders that are not there are passed over: a rule names
        them.
    branches : iterable of Branch

    Returns
    -------
    list of (table, id of the new record, table, id of what it was written from)
    """
    made: list[tuple[str, str, str, str]] = []
    branches = list(branches)
    for branch in branches:
        for ladder in _ladders(branch, tables["branches"]):
            tables["ladders"][ladder.id] = ladder
            made.append(("ladder", ladder.id, "branch", branch.id))
        _hang(branch, tables)
    written = list(tables["faults"].values())
    for branch in branches:
        for fault in tables["branch_faults"].values():
            if branch.kind not in fault.branches:
                continue
            clone = fault_on(branch, fault)
            if not any(_does_the_same(one, clone) for one in written):
                tables["faults"][clone.id] = clone
                made.append(("fault", clone.id, "branch_fault", fault.id))
        for reading in tables["branch_readings"].values():
            if branch.kind in reading.branches:
                kind = reading_on(branch, reading)
                tables["readings"][kind.id] = kind
                made.append(("reading", kind.id, "branch_reading", reading.id))
        for check in tables["branch_checks"].values():
            if branch.kind in check.branches:
                look = check_on(branch, check)
                tables["checks"][look.id] = look
                made.append(("check", look.id, "branch_check", check.id))
    return made


def _does_the_same(fault: Fault, clone: Fault) -> bool:
    """Whether a fault that is written down does at that branch what the clone does; one of an earlier pass is anew."""
    done = {(act.on, act.level) for act in fault.acts}
    return fault.id != clone.id and any((act.on, act.level) in done for act in clone.acts)


def with_branches(library: Library, branches: Iterable[Branch]) -> Library:
    """The library of a car that has further branches, or others under the same id."""
    branches = tuple(branches)
    if not branches:
        return library
    tables = {kind.place: dict(getattr(library, kind.place)) for kind in KINDS}
    tables["branches"].update((branch.id, branch) for branch in branches)
    changed = {branch.carries for branch in branches}
    behind = {branch.carries for branch in library.branches.values()}
    for ladder in library.ladders.values():
        if changed & set(ladder.inputs) and ladder.id not in behind:  # what hung on them before is told anew
            kept = {name: table for name, table in ladder.inputs.items() if name not in changed}
            tables["ladders"][ladder.id] = replace(ladder, inputs=kept)
    spread(tables, branches)
    digest = sha256(library.hash.encode() + msgspec.json.encode(branches))
    return replace(library, hash=digest.hexdigest(), **tables)


def _ladders(branch: Branch, known: Mapping[str, Branch]) -> tuple[Ladder, Ladder]:
    same = {level: level for level in BRANCH_LEVELS[1:]}
    above = [branch.id, *(known[name].carries for name in branch.after if name in known)]
    own = Ladder(id=branch.id, name=branch.name, place=branch.place, levels=BRANCH_LEVELS)
    what = "what it carries to ground" if branch.kind == "ground" else "what arrives behind it"
    return own, replace(own, id=branch.carries, name=f"{branch.name}: {what}", inputs=dict.fromkeys(above, same))


def _hang(branch: Branch, tables: Tables) -> None:
    """Give the ladders of what hangs on a branch an input from it."""
    for name in branch.feeds:
        consumer: Consumer | None = tables["consumers"].get(name)
        for on, table in consumer.lost.items() if consumer is not None else ():
            ladder: Ladder | None = tables["ladders"].get(on)
            if ladder is not None:
                worse = _worse(ladder, ladder.inputs.get(branch.carries, {}), table)
                tables["ladders"][on] = replace(ladder, inputs={**ladder.inputs, branch.carries: worse})


def _worse(ladder: Ladder, one: Mapping[str, str | int], other: Mapping[str, str]) -> dict[str, str | int]:
    """Two tables into a ladder as one: the worse of both."""
    rank = {level: index for index, level in enumerate(ladder.levels)}
    worst = {**one, **other}
    for level in one.keys() & other.keys():
        worst[level] = max(one[level], other[level], key=lambda result: rank.get(str(result), 0))
    return worst


def _on(branch: Branch, name: str) -> str:
    return {HERE: branch.id, CARRIES: branch.carries}.get(name, name)


def _plain(form: type[R], record: Record) -> R:
    """A record of every branch as one of the plain kind."""
    return form(**{name: getattr(record, name) for name in form.__struct_fields__})


def _words(branch: Branch, words: tuple[str, ...]) -> tuple[str, ...]:
    """Words with the branch in them, in each way it is called; by its name alone only where that has a number.

    A name without one is the name of a part, too.
    """
    called = branch.says or (branch.name,)
    numbered = [said for said in called if any(sign.isdigit() for sign in said)]
    return tuple(word.replace("BRANCH", said) for word in words for said in (numbered if word == "BRANCH" else called))


def fault_on(branch: Branch, fault: BranchFault) -> Fault:
    """A fault of every branch, on one."""
    return replace(
        _plain(Fault, fault),
        id=f"{fault.id}_{branch.id}",
        name=fault.name.replace("BRANCH", branch.name),
        part=branch.part or fault.part,
        place=branch.place,
        needs={**fault.needs, **branch.needs},
        acts=tuple(replace(act, on=_on(branch, act.on)) for act in fault.acts),
        cures=tuple(replace(cure, part=cure.part and (branch.part or cure.part)) for cure in fault.cures),
        words=_words(branch, fault.words),
    )


def reading_on(branch: Branch, reading: BranchReading) -> ReadingKind:
    """A reading at every branch, at one."""
    return replace(
        _plain(ReadingKind, reading),
        id=f"{reading.id}_{branch.id}",
        name=reading.name.replace("BRANCH", branch.name),
        place=branch.place,
        on=_on(branch, reading.on),
        inputs={_on(branch, name): table for name, table in reading.inputs.items()},
        needs={**reading.needs, **branch.needs},
        says=_words(branch, reading.says),
    )


def check_on(branch: Branch, check: BranchCheck) -> Check:
    """A check of every branch, of one."""
    return replace(
        _plain(Check, check),
        id=f"{check.id}_{branch.id}",
        name=check.name.replace("BRANCH", branch.name),
        reads=tuple(f"{name}_{branch.id}" for name in check.reads),
        needs={**check.needs, **branch.needs},
        says=_words(branch, check.says),
    )
