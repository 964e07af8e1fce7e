"""Faults: what they act on, how they are put right, how likely they are."""

from __future__ import annotations

from collections.abc import Iterator

from knowngood.car import ON_ENGINE
from knowngood.errors import Problem
from knowngood.evidence.bodies import WORKS
from knowngood.library.records import CONDITIONS, MODIFIERS, REGIMES, Act, Code, Fault, Library, ReadingKind
from knowngood.library.rules.ladders import circles
from knowngood.library.shape import Keys, did_you_mean
from knowngood.library.where import Where

LEFT_BY = ("animals",)
RAISED_BY = ("animals", "standing", "flood", "high mileage", "low mileage", "after work", "new part")


def acts_are_lawful(library: Library, where: Where) -> list[Problem]:
    """An act names a level below the good one, or a shift inside the ends of a sum, at lawful times."""
    return [
        where.problem("fault", fault.id, ("acts", index, *keys), fact, fix)
        for fault in library.faults.values()
        for index, act in enumerate(fault.acts)
        for keys, fact, fix in _act(library, act)
    ]


def _act(library: Library, act: Act) -> Iterator[tuple[Keys, str, str]]:
    ladder = library.ladders.get(act.on)
    if ladder is not None and ladder.combine == "sum":
        if act.level:
            yield ("level",), f"'{ladder.id}' is a sum and has no level '{act.level}'.", "Write shift = whole steps."
        if not act.shift or not ladder.low <= act.shift <= ladder.high:
            fact = f"a shift of {act.shift} on '{ladder.id}', which goes from {ladder.low} to {ladder.high}."
            yield ("shift",), fact, "Write steps inside that span, not 0."
    elif ladder is not None:
        if act.shift:
            yield ("shift",), f"'{ladder.id}' has levels, and no shift.", 'Write level = "...".'
        if act.level not in ladder.levels:
            fact = f"the ladder '{ladder.id}' has no level '{act.level}'."
            yield ("level",), fact, did_you_mean(act.level, ladder.levels[1:], "Levels")
        elif act.level == ladder.levels[0]:
            fact = f"'{act.level}' is the good level of '{ladder.id}'."
            yield ("level",), fact, f"A fault makes it worse: {', '.join(ladder.levels[1:])}."
    for index, word in enumerate(act.when):
        if word not in REGIMES:
            yield ("when", index), f"'{word}' is no regime.", did_you_mean(word, REGIMES, "Regimes")
    for index, word in enumerate(act.only):
        if word not in MODIFIERS:
            yield ("only", index), f"'{word}' is no modifier.", did_you_mean(word, MODIFIERS, "Modifiers")


def hidden_is_lawful(library: Library, where: Where) -> list[Problem]:
    """Grades share out all cars with the fault and each does something; shares of looks are of known conditions."""
    return [
        where.problem("fault", fault.id, keys, fact, fix)
        for fault in library.faults.values()
        for keys, fact, fix in [*_grades(fault), *_shows(fault)]
    ]


def _grades(fault: Fault) -> Iterator[tuple[Keys, str, str]]:
    total = sum(fault.grades.values())
    if fault.grades and (abs(total - 1.0) > 1e-9 or min(fault.grades.values()) <= 0.0 or len(fault.grades) < 2):
        yield ("grades",), f"the shares of the grades sum to {total:g}.", "Write two or more over 0 that sum to 1."
    for index, act in enumerate(fault.acts):
        if act.grade and act.grade not in fault.grades:
            fact = f"'{act.grade}' is no grade of '{fault.id}'."
            yield ("acts", index, "grade"), fact, did_you_mean(act.grade, fault.grades, "Grades")
        if act.steady and not fault.shows:
            yield ("acts", index, "steady"), "every act of a fault without shows is steady.", "Leave it out."


def _shows(fault: Fault) -> Iterator[tuple[Keys, str, str]]:
    if fault.shows and "any" not in fault.shows:
        yield ("shows",), "the share of looks under any other condition is missing.", "Write any = ..."
    for condition, share in fault.shows.items():
        if condition not in CONDITIONS:
            yield ("shows", condition), f"'{condition}' is no condition.", did_you_mean(condition, CONDITIONS, "Known")
        if not 0.0 < share < 1.0:
            yield ("shows", condition), f"{share:g} is no share of looks.", "Write a number over 0 and under 1."


def faults_have_places(library: Library, where: Where) -> list[Problem]:
    """A fault sits at a kind of place the program computes with."""
    return [
        where.problem(
            "fault", fault.id, ("place",), f"no fault can sit at '{fault.place}'.", did_you_mean(fault.place, ON_ENGINE)
        )
        for fault in library.faults.values()
        if fault.place not in ON_ENGINE
    ]


def chances_are_ranges(library: Library, where: Where) -> list[Problem]:
    """Chances are over 0 and at most 1,000 per 1,000, with low <= middle <= high."""
    problems = []
    for fault in library.faults.values():
        chance = fault.chance
        if not 0 < chance.low <= chance.per_1000 <= chance.high <= 1000:
            fact = f"{chance.low:g} <= {chance.per_1000:g} <= {chance.high:g} does not hold inside 0 to 1000."
            fix = "Write low <= per_1000 <= high, over 0 and up to 1000."
            problems.append(where.problem("fault", fault.id, ("chance",), fact, fix))
    return problems


def traces_are_lawful(library: Library, where: Where) -> list[Problem]:
    """What leaves a fault behind, and nothing else does, is a circumstance the car's story knows."""
    return [
        where.problem(
            "fault",
            fault.id,
            ("left_by",),
            f"'{fault.left_by}' leaves nothing here.",
            did_you_mean(fault.left_by, LEFT_BY),
        )
        for fault in library.faults.values()
        if fault.left_by and fault.left_by not in LEFT_BY
    ]


def raised_is_lawful(library: Library, where: Where) -> list[Problem]:
    """What raises a fault is a known circumstance, with odds times more than 0; work and new parts may name areas."""
    return [
        where.problem("fault", fault.id, ("raised", index, *keys), fact, fix)
        for fault in library.faults.values()
        for index in range(len(fault.raised))
        for keys, fact, fix in _raised(fault, index)
    ]


def _raised(fault: Fault, index: int) -> Iterator[tuple[Keys, str, str]]:
    raised = fault.raised[index]
    if raised.by not in RAISED_BY:
        yield ("by",), f"'{raised.by}' raises nothing here.", did_you_mean(raised.by, RAISED_BY)
    if not 0 < raised.times <= 1000:
        yield ("times",), f"odds times {raised.times:g}.", "Write a number over 0, at most 1000."
    if raised.by == "after work" and not raised.on:
        yield (), "'after work' names no area.", "Write on = [areas of work]."
    if raised.by not in ("after work", "new part") and raised.on:
        yield ("on",), f"'{raised.by}' has no areas.", "Drop `on`."


def faults_have_cures(library: Library, where: Where) -> list[Problem]:
    """Every fault can be put right: at least one cure, of a known kind of work, that takes minutes and mostly works."""
    problems = []
    for fault in library.faults.values():
        if not fault.cures:
            fact = "this fault has no cure."
            problems.append(where.problem("fault", fault.id, (), fact, "Add a [[fault.cures]]."))
        for index, cure in enumerate(fault.cures):
            at: Keys = ("cures", index)
            if cure.do not in WORKS:
                fix = did_you_mean(cure.do, WORKS, "Kinds of work")
                problems.append(where.problem("fault", fault.id, (*at, "do"), f"'{cure.do}' is no kind of work.", fix))
            if not cure.minutes > 0:
                fact = f"a cure takes {cure.minutes:g} minutes."
                problems.append(where.problem("fault", fault.id, (*at, "minutes"), fact, "Write minutes over 0."))
            if not 0 < cure.works <= 1:
                fact = f"a cure works with a chance of {cure.works:g}."
                fix = "Write a chance over 0, up to 1."
                problems.append(where.problem("fault", fault.id, (*at, "works"), fact, fix))
    return problems


def follow_ons_without_circles(library: Library, where: Where) -> list[Problem]:
    """No fault brings itself about in the end."""
    graph = {name: fault.leads_to for name, fault in library.faults.items()}
    problems = []
    for circle in circles(graph):
        index = graph[circle[0]].index(circle[1])
        fact = f"faults bring each other about in a circle: {', then '.join(circle)}."
        problems.append(where.problem("fault", circle[0], ("leads_to", index), fact, "Take one out."))
    return problems


def signatures_differ(library: Library, where: Where) -> list[Problem]:
    """No two faults have the same place, acts and direct readings unless each names the other as its twin."""
    seen: dict[object, list[Fault]] = {}
    for fault in library.faults.values():
        seen.setdefault(_signature(library, fault), []).append(fault)
    problems = []
    for same in seen.values():
        for index, fault in enumerate(same):
            for other in same[:index]:
                if other.id in fault.twins and fault.id in other.twins:
                    continue
                fact = f"no reading can tell '{fault.id}' from '{other.id}': same place, acts and direct readings."
                fix = "Let a reading name one of them, or let each name the other in `twins`."
                problems.append(where.problem("fault", fault.id, (), fact, fix))
    return problems


def _signature(library: Library, fault: Fault) -> object:
    acts = frozenset((act.on, act.level, act.shift, frozenset(act.when), frozenset(act.only)) for act in fault.acts)
    kinds: list[ReadingKind | Code] = [*library.readings.values(), *library.codes.values()]
    direct = frozenset((kind.id, kind.direct[fault.id]) for kind in kinds if fault.id in kind.direct)
    return fault.place, acts, direct
