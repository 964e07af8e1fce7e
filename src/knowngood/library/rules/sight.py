"""Who sees what: no fault that nothing sees, no check that sees nothing, no reading nobody takes."""

from __future__ import annotations

from knowngood.errors import Problem
from knowngood.library.reach import reach_of
from knowngood.library.records import Library
from knowngood.library.rules.names import ALL_CODES
from knowngood.library.where import Where


def faults_are_seen(library: Library, where: Where) -> list[Problem]:
    """At least one check shows something else with the fault than without it."""
    seen = frozenset[str]().union(*reach_of(library).checks.values())
    fix = "Let it act on a ladder a reading stands on, or let a reading of a check name it."
    return [
        where.problem("fault", name, (), "no check sees this fault.", fix)
        for name in library.faults
        if name not in seen
    ]


def checks_see(library: Library, where: Where) -> list[Problem]:
    """A check sees at least one fault."""
    fix = "Let its readings stand on a ladder that a fault acts on, or name a fault."
    return [
        where.problem("check", name, (), "this check sees no fault.", fix)
        for name, seen in reach_of(library).checks.items()
        if not seen
    ]


def readings_are_taken(library: Library, where: Where) -> list[Problem]:
    """A kind of reading is got by a check, or a driver says it."""
    taken = {name for check in library.checks.values() for name in check.reads}
    fix = "Add it to a check, or mark it a complaint."
    return [
        where.problem("reading", reading.id, (), "no check takes this reading.", fix)
        for reading in library.readings.values()
        if reading.id not in taken and not reading.complaint and reading.id != ALL_CODES
    ]


def faults_come_up(library: Library, where: Where) -> list[Problem]:
    """A complaint or a code can come from every fault; one that only a look finds says so, and a look names it."""
    reach = reach_of(library)
    complaints = (reach.readings[name] for name, reading in library.readings.items() if reading.complaint)
    up = frozenset[str]().union(*complaints, *reach.codes.values())
    named = {fault for reading in library.readings.values() for fault in reading.direct}
    problems = []
    for name, fault in library.faults.items():
        if name in up and fault.silent:
            fact = "this fault is called silent, and a complaint or a code leads to it."
            problems.append(where.problem("fault", name, ("silent",), fact, "Drop `silent`."))
        elif name not in up and not fault.silent:
            fact = "no complaint or code leads to this fault."
            fix = "Let it act on a ladder that a complaint stands on, or say why it is silent."
            problems.append(where.problem("fault", name, (), fact, fix))
        elif name not in up and name not in named:
            fact = "no complaint, code or look leads to this fault."
            problems.append(where.problem("fault", name, ("silent",), fact, "Let a reading name it in `direct`."))
    return problems
