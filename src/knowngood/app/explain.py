"""One page on a kind of record: what it is, how it shows, what sees it, what it costs, where each number is from."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Any

import msgspec

from knowngood.app.explain_ladder import done_of, explain_ladder
from knowngood.app.explain_seen import explain_check, explain_code, explain_reading
from knowngood.app.explain_words import limits, sentence, sources_of
from knowngood.app.explain_work import explain_area
from knowngood.errors import Problem, Refused
from knowngood.library.job_records import Gate, Tool
from knowngood.library.reach import reach_of
from knowngood.library.record import Record
from knowngood.library.records import AccessStep, Caution, Fault, Library, Part
from knowngood.library.separation import Separation
from knowngood.library.shape import did_you_mean
from knowngood.library.tables import KINDS, records_of
from knowngood.sheets.words import minutes, money

EXPLAINED = ("fault", "check", "reading", "code", "part", "access", "gate", "area", "tool", "caution", "ladder")
"""Kinds of records that have a page."""


class Section(msgspec.Struct, frozen=True):
    """A heading and its lines; a line is one sentence or one item."""

    title: str
    lines: list[str]


class Explained(msgspec.Struct, frozen=True):
    """A page: kind, id, name, one sentence, sections."""

    kind: str
    id: str
    name: str
    what: str
    sections: list[Section]


def explain(library: Library, kind: str, name: str, separation: Separation | None = None) -> Explained:
    """The page of one record.

    Parameters
    ----------
    separation : Separation, optional
        Worked out once by who explains many.

    Raises
    ------
    Refused
        There is no such record.
    """
    records = records_of(library, kind)
    if name not in records:
        raise Refused(Problem(f"no {kind} is called '{name}'.", did_you_mean(name, records)))
    record = records[name]
    makers: dict[str, Callable[[], tuple[str, list[tuple[str, Iterable[str]]]]]] = {
        "fault": lambda: _fault(library, record, separation or Separation(library)),
        "check": lambda: explain_check(library, record, separation or Separation(library)),
        "reading": lambda: explain_reading(library, record),
        "code": lambda: explain_code(library, record),
        "part": lambda: _part(library, record),
        "access": lambda: _access(library, record),
        "gate": lambda: _gate(library, record),
        "area": lambda: explain_area(library, record),
        "tool": lambda: _tool(library, record),
        "caution": lambda: _caution(library, record),
        "ladder": lambda: explain_ladder(library, record),
    }
    what, sections = makers[kind]()
    sections.append(("Sources", sources_of(library, record)))
    kept = [Section(title, found) for title, lines in sections if (found := list(lines))]
    return Explained(kind, name, _name(record), what, kept)


def found_by(library: Library, words: str) -> list[tuple[str, Any]]:
    """Kind and record of all whose id, name or words hold the words asked for; an exact id or name comes first.

    Kind and id together, as they are listed, name that record alone: ``area brakes`` beside the part ``brakes``.
    """
    wanted = " ".join(words.casefold().split())
    told_kind, _, told_id = wanted.partition(" ")
    if told_kind in EXPLAINED and told_id.replace(" ", "_") in records_of(library, told_kind):
        return [(told_kind, records_of(library, told_kind)[told_id.replace(" ", "_")])]
    exact: list[tuple[str, Any]] = []
    other: list[tuple[str, Any]] = []
    for kind in EXPLAINED:
        for name, record in records_of(library, kind).items():
            said = [name, _name(record), *getattr(record, "words", ()), *getattr(record, "says", ())]
            plain = [text.casefold() for text in said]
            if wanted in (plain[0], plain[1]) or wanted.replace(" ", "_") == plain[0]:
                exact.append((kind, record))
            elif any(wanted in text for text in plain):
                other.append((kind, record))
    return exact + other


def listed(library: Library, place: str) -> list[tuple[str, str]]:
    """Id and name, of a caution its text, of every record of a kind, by the plural of its table (``faults``).

    Raises
    ------
    Refused
        There is no such kind.
    """
    kinds = {kind.place: kind.table for kind in KINDS if kind.table in EXPLAINED}
    if place not in kinds:
        raise Refused(Problem(f"no kind of record is called '{place}'.", did_you_mean(place, kinds, "Kinds")))
    records = records_of(library, kinds[place])
    return [(name, str(getattr(record, "text", "")) or _name(record)) for name, record in records.items()]


def _name(record: Record) -> str:
    return str(getattr(record, "name", "") or getattr(record, "id", ""))


def _fault(library: Library, fault: Fault, separation: Separation) -> tuple[str, list[tuple[str, Iterable[str]]]]:
    chance = fault.chance
    odds = (
        f"{chance.per_1000:g} in 1,000 neglected cars have it now, at each {fault.place} "
        f"({chance.low:g} to {chance.high:g}, {chance.source})."
    )
    raised = [
        f"{by.by}{' on ' + ', '.join(library.areas[area].name for area in by.on) if by.on else ''}: "
        f"odds times {by.times:g}"
        for by in fault.raised
    ]
    reach = reach_of(library)
    complaints = [one.name for one in library.readings.values() if one.complaint and fault.id in reach.readings[one.id]]
    codes = [f"{one.id} {one.name}" for one in library.codes.values() if fault.id in reach.codes[one.id]]
    checks = sorted((library.checks[name] for name in separation.seen_by[fault.id]), key=lambda check: check.minutes)
    return fault.what, [
        ("How often", [odds, *raised, *limits(fault.needs)]),
        ("What it does", _acts(library, fault)),
        ("What is said of it", complaints or ([f"Nothing: {fault.silent}."] if fault.silent else [])),
        ("Codes it can set", codes),
        ("What sees it", [f"{check.name} ({check.id}, {minutes(check.minutes)})" for check in checks]),
        ("Put right by", _cures(library, fault)),
        ("Left alone it leads to", [library.faults[name].name for name in fault.leads_to]),
        ("Can follow from", [one.name for one in library.faults.values() if fault.id in one.leads_to]),
        ("Told apart from its twins by nothing", [library.faults[twin].name for twin in fault.twins]),
        ("Cautions", [library.cautions[name].text for name in fault.cautions]),
    ]


def _acts(library: Library, fault: Fault) -> Iterable[str]:
    for act in fault.acts:
        ladder = library.ladders[act.on]
        when = f", {', '.join(act.when)}" if act.when else ""
        only = f", only {' or '.join(act.only)}" if act.only else ""
        grade = f", only of the grade {act.grade}" if act.grade else ""
        yield f"{ladder.name} ({ladder.id}): {done_of(ladder, act)}{when}{only}{grade}"


def _cures(library: Library, fault: Fault) -> Iterable[str]:
    for cure in fault.cures:
        part = library.parts[cure.part or fault.part]
        price = f", {money(part.price)} for the part" if cure.do == "replaced" and part.price else ""
        access = f"; first off: {', '.join(library.access[step].name for step in cure.access)}" if cure.access else ""
        yield (
            f"{part.name} {cure.do}: {minutes(cure.minutes)} of work{price}{access}; "
            f"works {round(100 * cure.works)} times in 100 ({cure.source})"
        )


def _part(library: Library, part: Part) -> tuple[str, list[tuple[str, Iterable[str]]]]:
    faults = [fault.name for fault in library.faults.values() if fault.part == part.id]
    days = f"{part.wait_days:g} day{'' if part.wait_days == 1 else 's'}"
    return sentence(f"about {money(part.price)}, {days} to come; sits at the {part.place}"), [
        ("What can be wrong with it", faults),
        ("First off", [library.access[step].name for step in part.access]),
        ("What work there gets wrong", [f"see area {part.area}"] if part.area else []),
        ("Facts", [f"new and bad in {part.new_bad_per_1000:g} of 1,000", *_taken_back(part), *limits(part.needs)]),
    ]


def _taken_back(part: Part) -> Iterable[str]:
    back = part.taken_back
    if back is not None:
        yield f"not needed it goes back for {round(100 * back.share)} of 100 of its price ({back.source})"


def _breaks(step: AccessStep) -> Iterable[str]:
    for one in step.breaks:
        paid = f" and {money(one.money)}" if one.money else ""
        yield f"{one.what}: in {one.per_1000:g} of 1,000, {minutes(one.minutes)}{paid} more ({one.source})"


def _access(library: Library, step: AccessStep) -> tuple[str, list[tuple[str, Iterable[str]]]]:
    spans = [
        f"{word} {minutes(value)}" + (f" ({span[0]:g} to {span[1]:g})" if span else "")
        for word, value, span in (
            ("to open", step.open_minutes, step.open_range),
            ("to close", step.close_minutes, step.close_range),
        )
    ]
    layouts = [
        f"{layout.name}: "
        + ", ".join(
            text
            for text in (
                f"{on.open_minutes:g} to open" if on.open_minutes is not None else "",
                f"{on.close_minutes:g} to close" if on.close_minutes is not None else "",
                f"after {', '.join(library.access[name].name for name in on.after)}" if on.after else "",
            )
            if text
        )
        for layout in library.layouts.values()
        if (on := layout.steps.get(step.id)) is not None
    ]
    needed = [f"{one.name}" for one in library.checks.values() if step.id in one.access]
    cured = [f"{one.name}" for one in library.faults.values() if any(step.id in cure.access for cure in one.cures)]
    return sentence(", ".join(spans)), [
        ("Comes after", [library.access[name].name for name in step.after]),
        ("On other engines", [line for line in layouts if not line.endswith(": ")]),
        ("Worth a look before it goes together", [library.checks[name].name for name in step.before_closing]),
        ("Checks that need it open", needed),
        ("Faults put right behind it", cured),
        ("What may break", _breaks(step)),
        ("Facts", limits(step.needs)),
    ]


def _gate(library: Library, gate: Gate) -> tuple[str, list[tuple[str, Iterable[str]]]]:
    looks = [library.readings[name] for name in gate.looks]
    return sentence(gate.limited and f"may be limited: {gate.limited}"), [
        ("Looks", [f"{look.name}{' (stop)' if look.stop else ''}" for look in looks])
    ]


def _tool(library: Library, tool: Tool) -> tuple[str, list[tuple[str, Iterable[str]]]]:
    kit = "in a common bay kit" if tool.common else "not in a common bay kit"
    used = [check.name for check in library.checks.values() if tool.id in check.tools]
    return sentence(f"about {money(tool.price)}, {kit}"), [("Checks that need it", used)]


def _caution(library: Library, caution: Caution) -> tuple[str, list[tuple[str, Iterable[str]]]]:
    shown = [check.name for check in library.checks.values() if caution.id in check.cautions]
    return caution.text, [("Shown with", shown)]
