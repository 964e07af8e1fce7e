"""Names of records that other records mention: each of them has to be there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from knowngood.errors import Problem
from knowngood.library.records import Library
from knowngood.library.shape import Keys, did_you_mean
from knowngood.library.tables import records_of
from knowngood.library.where import Where

Mention = tuple[str, str, Keys, tuple[str, ...], str]
"""Kind and id of the record that mentions, the keys, the kinds it may be of, the name mentioned."""

ALL_CODES = "code"
"""In ``check.reads``: every code that is stored."""


def names_exist(library: Library, where: Where) -> list[Problem]:
    """Every id that is mentioned is the id of a record of the kind meant there."""
    problems = []
    for table, record, keys, kinds, name in mentions(library):
        tables = [records_of(library, kind) for kind in kinds]
        if any(name in known for known in tables) or any((kind, name) in where.unread for kind in kinds):
            continue
        if table == "check" and keys[0] == "reads" and name == ALL_CODES:
            continue
        fact = f"no {' or '.join(kinds)} is called '{name}'."
        fix = did_you_mean(name, [other for known in tables for other in known])
        problems.append(where.problem(table, record, keys, fact, fix))
    return problems


def mentions(library: Library) -> Iterator[Mention]:
    """Every mention of a record by another."""
    yield from _by_faults(library)
    yield from _by_readings_and_checks(library)
    yield from _by_parts_and_access(library)
    yield from _by_gates_and_rules(library)
    yield from _by_supply(library)


def _by_faults(library: Library) -> Iterator[Mention]:
    for fault in library.faults.values():
        yield "fault", fault.id, ("part",), ("part",), fault.part
        for index, act in enumerate(fault.acts):
            yield "fault", fault.id, ("acts", index, "on"), ("ladder",), act.on
        for index, cure in enumerate(fault.cures):
            keys: Keys = ("cures", index)
            if cure.part:
                yield "fault", fault.id, (*keys, "part"), ("part",), cure.part
            yield from _each("fault", fault.id, (*keys, "access"), ("access",), cure.access)
            yield from _each("fault", fault.id, (*keys, "tools"), ("tool",), cure.tools)
            yield from _each("fault", fault.id, (*keys, "disturbs"), ("part", "area"), cure.disturbs)
        for index, raised in enumerate(fault.raised):
            yield from _each("fault", fault.id, ("raised", index, "on"), ("area",), raised.on)
        yield from _each("fault", fault.id, ("cautions",), ("caution",), fault.cautions)
        yield from _each("fault", fault.id, ("twins",), ("fault",), fault.twins)
        yield from _each("fault", fault.id, ("leads_to",), ("fault",), fault.leads_to)


def _by_readings_and_checks(library: Library) -> Iterator[Mention]:
    for ladder in library.ladders.values():
        for name in ladder.inputs:
            yield "ladder", ladder.id, ("inputs", name), ("ladder",), name
    for reading in library.readings.values():
        yield from _stand("reading", reading.id, reading.on, reading.inputs, reading.direct)
        for name in reading.bad_by:
            yield "reading", reading.id, ("bad_by", name), ("reading",), name
    for code in library.codes.values():
        yield from _stand("code", code.id, code.on, code.inputs, code.direct)
    for check in library.checks.values():
        yield from _each("check", check.id, ("reads",), ("reading", "code"), check.reads)
        yield from _each("check", check.id, ("tools",), ("tool",), check.tools)
        yield from _each("check", check.id, ("access",), ("access",), check.access)
        yield from _each("check", check.id, ("cautions",), ("caution",), check.cautions)
        if check.poor_form_of:
            yield "check", check.id, ("poor_form_of",), ("check",), check.poor_form_of


def _by_parts_and_access(library: Library) -> Iterator[Mention]:
    for part in library.parts.values():
        yield from _each("part", part.id, ("access",), ("access",), part.access)
        if part.area:
            yield "part", part.id, ("area",), ("area",), part.area
    for step in library.access.values():
        yield from _each("access", step.id, ("after",), ("access",), step.after)
        yield from _each("access", step.id, ("before_closing",), ("check",), step.before_closing)
    for layout in library.layouts.values():
        for name, step_on in layout.steps.items():
            yield "layout", layout.id, ("steps", name), ("access",), name
            yield from _each("layout", layout.id, ("steps", name, "after"), ("access",), step_on.after or ())
    for area in library.areas.values():
        yield from _each("area", area.id, ("disturbs",), ("part", "area"), area.disturbs)


def _by_gates_and_rules(library: Library) -> Iterator[Mention]:
    for gate in library.gates.values():
        yield from _each("gate", gate.id, ("looks",), ("reading",), gate.looks)
    for stage in library.stages.values():
        if stage.gate:
            yield "stage", stage.id, ("gate",), ("gate",), stage.gate
        yield from _each("stage", stage.id, ("looks",), ("reading",), stage.looks)
        for name in stage.walk_away:
            yield "stage", stage.id, ("walk_away", name), ("reading",), name
    for until in library.until_then.values():
        yield from _each("until_then", until.id, ("faults",), ("fault",), until.faults)
    for after in library.after_work.values():
        yield from _each("after_work", after.id, ("parts",), ("part",), after.parts)
        yield from _each("after_work", after.id, ("settled_at",), ("part",), after.settled_at)
    for killed in library.killed.values():
        yield from _each("killed", killed.id, ("faults",), ("fault",), killed.faults)
        yield from _each("killed", killed.id, ("by",), ("fault",), killed.by)
    for service in library.services.values():
        yield from _each("service", service.id, ("parts",), ("part",), service.parts)
        yield from _each("service", service.id, ("access",), ("access",), service.access)
        yield from _each("service", service.id, ("destroys",), ("reading",), service.destroys)
        yield from _each("service", service.id, ("cautions",), ("caution",), service.cautions)


def _by_supply(library: Library) -> Iterator[Mention]:
    for way in library.ways.values():
        if way.truth:
            yield "way", way.id, ("truth",), ("ladder",), way.truth
        for index, on_way in enumerate(way.steps):
            for name in on_way.inputs:
                yield "way", way.id, ("steps", index, "inputs", name), ("ladder",), name
    for branch in library.branches.values():
        yield from _each("branch", branch.id, ("after",), ("branch",), branch.after)
        yield from _each("branch", branch.id, ("feeds",), ("consumer",), branch.feeds)
        if branch.part:
            yield "branch", branch.id, ("part",), ("part",), branch.part
    for consumer in library.consumers.values():
        for name in consumer.lost:
            yield "consumer", consumer.id, ("lost", name), ("ladder",), name
    for check in library.branch_checks.values():
        yield from _each("branch_check", check.id, ("reads",), ("branch_reading",), check.reads)


def _each(table: str, record: str, keys: Keys, kinds: tuple[str, ...], names: Iterable[str]) -> Iterator[Mention]:
    for index, name in enumerate(names):
        yield table, record, (*keys, index), kinds, name


def _stand(
    table: str, record: str, on: str, inputs: Mapping[str, object], direct: Mapping[str, str]
) -> Iterator[Mention]:
    if on:
        yield table, record, ("on",), ("ladder",), on
    for name in inputs:
        yield table, record, ("inputs", name), ("ladder",), name
    for name in direct:
        yield table, record, ("direct", name), ("fault",), name
