"""Checks, access, parts, tools: minutes, money, order of taking apart."""

from __future__ import annotations

from collections.abc import Iterator

from knowngood.car.place import KINDS as PLACE_KINDS
from knowngood.errors import Problem
from knowngood.library.records import Library
from knowngood.library.rules.ladders import circles
from knowngood.library.shape import Keys, did_you_mean
from knowngood.library.where import Where

ENGINE_STATES = ("off", "key on", "cranked", "idle", "held at speed", "driven")
"""What the engine does while a check is made."""


def access_without_circles(library: Library, where: Where) -> list[Problem]:
    """No access step has to come after itself."""
    graph = {name: step.after for name, step in library.access.items()}
    problems = []
    for circle in circles(graph):
        index = graph[circle[0]].index(circle[1])
        fact = f"steps wait for each other in a circle: {' after '.join(circle)}."
        problems.append(where.problem("access", circle[0], ("after", index), fact, "Take one out."))
    return problems


def amounts_are_lawful(library: Library, where: Where) -> list[Problem]:
    """Minutes, prices, waits and counts are not under 0; a check takes some time."""
    return [
        where.problem(table, name, (key,), f"{key} is {value:g}.", f"Write a number {words}.")
        for table, name, key, value, lawful, words in _amounts(library)
        if not lawful
    ]


def _amounts(library: Library) -> Iterator[tuple[str, str, str, float, bool, str]]:
    none_or_more = "from 0 up"
    for check in library.checks.values():
        yield "check", check.id, "minutes", check.minutes, check.minutes > 0, "over 0"
        for key in ("each_minutes", "money"):
            yield "check", check.id, key, getattr(check, key), getattr(check, key) >= 0, none_or_more
    for step in library.access.values():
        for key in ("open_minutes", "close_minutes"):
            yield "access", step.id, key, getattr(step, key), getattr(step, key) >= 0, none_or_more
    for part in library.parts.values():
        for key in ("price", "wait_days", "swap_minutes"):
            yield "part", part.id, key, getattr(part, key), getattr(part, key) >= 0, none_or_more
        bad = part.new_bad_per_1000
        yield "part", part.id, "new_bad_per_1000", bad, 0 <= bad <= 1000, "from 0 to 1000"
    for tool in library.tools.values():
        yield "tool", tool.id, "price", tool.price, tool.price >= 0, none_or_more


def states_are_lawful(library: Library, where: Where) -> list[Problem]:
    """A check says what the engine does meanwhile; a part sits at a kind of place."""
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
    return problems
