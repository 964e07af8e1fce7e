"""Checks, access, parts, tools: minutes, money, order of taking apart."""

from __future__ import annotations

from collections.abc import Iterator

from knowngood.car import PLACE_KINDS
from knowngood.errors import Problem
from knowngood.evidence.bodies import WORKS
from knowngood.library.access_on import laid_over
from knowngood.library.records import AccessStep, Library, StepOn
from knowngood.library.rules.ladders import circles
from knowngood.library.shape import Keys, did_you_mean
from knowngood.library.where import Where

ENGINE_STATES = ("off", "key on", "key at start", "cranked", "idle", "held at speed", "driven")
"""What the engine does while a check is made; ``key at start``: it need not turn, ``cranked``: it must."""


def access_without_circles(library: Library, where: Where) -> list[Problem]:
    """No access step has to come after itself, on an ordinary engine or on a layout."""
    graph = {name: step.after for name, step in library.access.items()}
    problems = []
    known = circles(graph)
    for circle in known:
        index = graph[circle[0]].index(circle[1])
        problems.append(where.problem("access", circle[0], ("after", index), _in_a_circle(circle), "Take one out."))
    for layout in library.layouts.values():
        on = {name: step.after for name, step in laid_over(library.access, layout).items()}
        for circle in circles(on):
            if circle not in known:
                keys: Keys = ("steps", next(name for name in circle if name in layout.steps), "after")
                problems.append(where.problem("layout", layout.id, keys, _in_a_circle(circle), "Take one out."))
    return problems


def _in_a_circle(circle: tuple[str, ...]) -> str:
    return f"steps wait for each other in a circle: {' after '.join(circle)}."


def access_minutes_are_ranges(library: Library, where: Where) -> list[Problem]:
    """Minutes of access from memory are ranges, and every range holds its minutes."""
    problems = []
    steps: list[tuple[str, str, Keys, AccessStep | StepOn, str]] = [
        ("access", name, (), step, step.source) for name, step in library.access.items()
    ]
    for layout in library.layouts.values():
        steps += [("layout", layout.id, ("steps", name), on, layout.source) for name, on in layout.steps.items()]
    for table, record, at, step, source in steps:
        for keys, fact, fix in _ranges(step, source):
            problems.append(where.problem(table, record, (*at, *keys), fact, fix))
    return problems


def _ranges(step: AccessStep | StepOn, source: str) -> Iterator[tuple[Keys, str, str]]:
    for word in ("open", "close"):
        minutes: float | None = getattr(step, f"{word}_minutes")
        span: tuple[float, ...] = getattr(step, f"{word}_range")
        if minutes is None and span:
            fact = f"a range of {word}_minutes that are not told."
            yield (f"{word}_range",), fact, f"Write {word}_minutes, or drop the range."
        elif minutes is not None and source == "memory" and not span:
            fact = f"{word}_minutes from memory without a range."
            yield (f"{word}_minutes",), fact, f"Write {word}_range = [low, high]."
        elif minutes is not None and span and not (len(span) == 2 and 0 <= span[0] <= minutes <= span[1]):
            said = ", ".join(f"{end:g}" for end in span)
            fact = f"{minutes:g} minutes with a range of [{said}]."
            yield (f"{word}_range",), fact, "Write [low, high] around the minutes."


def amounts_are_lawful(library: Library, where: Where) -> list[Problem]:
    """Minutes, prices, waits and counts are not under 0; a check takes some time."""
    problems = []
    for table, name, keys, value, lawful, words in _amounts(library):
        if not lawful:
            problems.append(where.problem(table, name, keys, f"{keys[-1]} is {value:g}.", f"Write a number {words}."))
    return problems


def _amounts(library: Library) -> Iterator[tuple[str, str, Keys, float, bool, str]]:
    none_or_more = "from 0 up"
    for check in library.checks.values():
        yield "check", check.id, ("minutes",), check.minutes, check.minutes > 0, "over 0"
        for key in ("each_minutes", "money"):
            yield "check", check.id, (key,), getattr(check, key), getattr(check, key) >= 0, none_or_more
    for step in library.access.values():
        for key in ("open_minutes", "close_minutes"):
            yield "access", step.id, (key,), getattr(step, key), getattr(step, key) >= 0, none_or_more
        for number, broken in enumerate(step.breaks):
            at: Keys = ("breaks", number)
            often = broken.per_1000
            yield "access", step.id, (*at, "per_1000"), often, 0 < often <= 1000, "over 0, up to 1000"
            for key in ("minutes", "money"):
                yield "access", step.id, (*at, key), getattr(broken, key), getattr(broken, key) >= 0, none_or_more
    for layout in library.layouts.values():
        for step_name, on in layout.steps.items():
            for key in ("open_minutes", "close_minutes"):
                told = getattr(on, key)
                if told is not None:
                    yield "layout", layout.id, ("steps", step_name, key), told, told >= 0, none_or_more
    for service in library.services.values():
        yield "service", service.id, ("minutes",), service.minutes, service.minutes > 0, "over 0"
        for key in ("months", "km", "after_years_stood"):
            yield "service", service.id, (key,), getattr(service, key), getattr(service, key) >= 0, none_or_more
    for part in library.parts.values():
        for key in ("price", "wait_days", "swap_minutes"):
            yield "part", part.id, (key,), getattr(part, key), getattr(part, key) >= 0, none_or_more
        bad = part.new_bad_per_1000
        yield "part", part.id, ("new_bad_per_1000",), bad, 0 <= bad <= 1000, "from 0 to 1000"
        back = part.taken_back
        if back is not None:
            yield "part", part.id, ("taken_back", "share"), back.share, 0 <= back.share <= 1, "from 0 to 1"
            yield "part", part.id, ("taken_back", "minutes"), back.minutes, back.minutes >= 0, none_or_more
    for tool in library.tools.values():
        yield "tool", tool.id, ("price",), tool.price, tool.price >= 0, none_or_more


def states_are_lawful(library: Library, where: Where) -> list[Problem]:
    """A check says what the engine does meanwhile; a part sits at a kind of place, and names kinds of work."""
    problems = []
    for check in library.checks.values():
        if check.engine not in ENGINE_STATES:
            keys: Keys = ("engine",)
            fix = did_you_mean(check.engine, ENGINE_STATES, "States")
            problems.append(where.problem("check", check.id, keys, f"an engine is never '{check.engine}'.", fix))
    for part in library.parts.values():
        if part.place not in PLACE_KINDS:
            fix = did_you_mean(part.place, PLACE_KINDS)
            problems.append(where.problem("part", part.id, ("place",), f"no part sits at '{part.place}'.", fix))
        for key, said in (("asked_as", part.asked_as), ("done_as", part.done_as)):
            for work in said.keys() - set(WORKS):
                fix = did_you_mean(work, WORKS, "Kinds of work")
                problems.append(where.problem("part", part.id, (key, work), f"'{work}' is no kind of work.", fix))
    return problems
