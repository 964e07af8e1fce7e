"""Ladders: their own form, their inputs, and no circles."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from knowngood.car import WITH_LEVELS
from knowngood.errors import Problem
from knowngood.library.records import Ladder, Library
from knowngood.library.shape import Keys, did_you_mean
from knowngood.library.steps import steps_of
from knowngood.library.where import Where

COMBINES = ("worst", "sum")


def ladders_are_whole(library: Library, where: Where) -> list[Problem]:
    """A worst ladder has two levels or more and no ends; a sum has ends with 0 between them and no levels."""
    problems = []
    for ladder in library.ladders.values():
        for keys, fact, fix in _form(ladder):
            problems.append(where.problem("ladder", ladder.id, keys, fact, fix))
    return problems


def _form(ladder: Ladder) -> Iterator[tuple[Keys, str, str]]:
    if ladder.place not in WITH_LEVELS:
        yield ("place",), f"no ladder can sit at '{ladder.place}'.", did_you_mean(ladder.place, WITH_LEVELS)
    if ladder.combine not in COMBINES:
        yield ("combine",), f"'{ladder.combine}' is no way to combine.", did_you_mean(ladder.combine, COMBINES)
    elif any(count < 1 for count in ladder.cylinders):
        yield ("cylinders",), "an engine has no cylinder.", "Write whole numbers from 1."
    elif ladder.combine == "worst":
        if len(set(ladder.levels)) < max(2, len(ladder.levels)):
            fact = f"{len(set(ladder.levels))} different levels in {len(ladder.levels)}."
            yield ("levels",), fact, "Name two or more, each once, good first."
        if ladder.low or ladder.high:
            yield ("low",), "a ladder of levels has no low and high.", 'Drop them, or write combine = "sum".'
    else:
        if ladder.levels:
            yield ("levels",), "a sum has no levels.", 'Drop them, or write combine = "worst".'
        if not ladder.low <= 0 <= ladder.high or ladder.low == ladder.high:
            fix = "Write low <= 0 <= high, not both 0."
            yield ("low",), f"steps go from {ladder.low} to {ladder.high}.", fix


def inputs_are_levels(library: Library, where: Where) -> list[Problem]:
    """Inputs of ladders, readings and codes lead from levels (or step ranges) to levels (or steps) that are there."""
    problems = []
    for ladder in library.ladders.values():
        for keys, fact, fix in input_mistakes(library, ladder.inputs, ladder):
            problems.append(where.problem("ladder", ladder.id, keys, fact, fix))
    for table, records in (("reading", library.readings), ("code", library.codes)):
        for record in records.values():
            for keys, fact, fix in input_mistakes(library, record.inputs, record.levels):
                problems.append(where.problem(table, record.id, keys, fact, fix))
    return problems


def input_mistakes(
    library: Library, inputs: Mapping[str, Mapping[str, str | int]], target: Ladder | tuple[str, ...]
) -> Iterator[tuple[Keys, str, str]]:
    """What is wrong with an inputs table that leads to ``target``, a ladder or plain levels."""
    for name, table in inputs.items():
        source = library.ladders.get(name)
        if source is None:
            continue
        yield from key_mistakes(source, table, ("inputs", name))
        for key, result in table.items():
            yield from _result(target, result, ("inputs", name, key))


def key_mistakes(ladder: Ladder, keys: Iterable[str], at: Keys) -> Iterator[tuple[Keys, str, str]]:
    """Keys of a table that are no levels of the ladder, or no step ranges inside its ends; ranges that overlap."""
    taken: set[int] = set()
    for key in keys:
        if ladder.combine != "sum":
            if key not in ladder.levels:
                fact = f"the ladder '{ladder.id}' has no level '{key}'."
                yield (*at, key), fact, did_you_mean(key, ladder.levels, "Levels")
            continue
        steps = steps_of(key)
        if steps is None:
            fact = f"'{key}' is no range of steps of the ladder '{ladder.id}'."
            yield (*at, key), fact, f'Write it as "{ladder.low}..-1", low end first; one step is "2..2".'
        elif steps[0] < ladder.low or steps[-1] > ladder.high:
            fact = f"the steps {key} are outside {ladder.low}..{ladder.high} of the ladder '{ladder.id}'."
            yield (*at, key), fact, "Keep them inside."
        elif taken & set(steps):
            yield (*at, key), f"the steps {key} overlap another range.", "Give each step once."
        taken |= set(steps or ())


def _result(target: Ladder | tuple[str, ...], result: str | int, at: Keys) -> Iterator[tuple[Keys, str, str]]:
    if isinstance(target, Ladder) and target.combine == "sum":
        if not isinstance(result, int):
            yield at, f"'{result}' is no number of steps, and '{target.id}' is a sum.", "Write a whole number."
        elif not target.low <= result <= target.high or result == 0:
            fact = f"{result} steps on '{target.id}', which goes from {target.low} to {target.high}."
            yield at, fact, "Write steps inside that span, not 0."
        return
    levels = target.levels if isinstance(target, Ladder) else target
    if result not in levels:
        yield at, f"there is no level '{result}' here.", did_you_mean(str(result), levels, "Levels")


def ladders_without_circles(library: Library, where: Where) -> list[Problem]:
    """No ladder reaches itself through inputs."""
    graph = {name: tuple(ladder.inputs) for name, ladder in library.ladders.items()}
    problems = []
    for circle in circles(graph):
        fact = f"inputs go in a circle: {' <- '.join(circle)}."
        problems.append(where.problem("ladder", circle[0], ("inputs", circle[1]), fact, "Take one out."))
    return problems


def circles(graph: Mapping[str, tuple[str, ...]]) -> list[tuple[str, ...]]:
    """One path for each circle met, from a name back to itself."""
    found: list[tuple[str, ...]] = []
    done: set[str] = set()
    for start in graph:
        _walk(graph, start, (), done, found)
    return found


def _walk(
    graph: Mapping[str, tuple[str, ...]],
    name: str,
    path: tuple[str, ...],
    done: set[str],
    found: list[tuple[str, ...]],
) -> None:
    if name in path:
        found.append((*path[path.index(name) :], name))
    elif name not in done:
        for following in graph.get(name, ()):
            _walk(graph, following, (*path, name), done, found)
        done.add(name)
