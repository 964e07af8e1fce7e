"""Ways of values: their steps, what is shown of the truth, where readings are taken."""

from __future__ import annotations

from collections.abc import Iterator

from knowngood.errors import Problem
from knowngood.library.records import Library
from knowngood.library.shape import Keys, did_you_mean
from knowngood.library.way_records import TRUE, Way
from knowngood.library.where import Where


def ways_are_lawful(library: Library, where: Where) -> list[Problem]:
    """Steps have the value from steps of the same way; levels lead to what is shown."""
    return [
        where.problem("way", way.id, keys, fact, fix)
        for way in library.ways.values()
        for keys, fact, fix in [*_steps(way), *_shown(library, way)]
    ]


def _steps(way: Way) -> Iterator[tuple[Keys, str, str]]:
    known = [step.id for step in way.steps]
    for index, step in enumerate(way.steps):
        keys: Keys = ("steps", index, "after")
        if step.after and step.after != TRUE and step.after not in known[:index]:
            fact = f"no step before this one is called '{step.after}'."
            yield keys, fact, did_you_mean(step.after, [TRUE, *known[:index]], "Steps")


def _shown(library: Library, way: Way) -> Iterator[tuple[Keys, str, str]]:
    truth = library.ladders.get(way.truth)
    tables = [("shows", way.shows, way.levels[1:])]
    if truth is not None:
        tables.append(("truth_shows", way.truth_shows, truth.levels[1:]))
    for name, table, levels in tables:
        for level, shown in table.items():
            if level not in levels:
                yield (name, level), f"there is no level '{level}' here.", did_you_mean(level, levels, "Levels")
            elif shown not in way.shown[1:]:
                fact = f"'{shown}' is nothing a reading of this shows beside the usual."
                yield (name, level), fact, did_you_mean(shown, way.shown[1:], "Shown")


def readings_are_taken_on_ways(library: Library, where: Where) -> list[Problem]:
    """What says where it was taken names a way, or a step of one."""
    known = [*library.ways, *(step.id for way in library.ways.values() for step in way.steps)]
    return [
        where.problem(
            "reading",
            kind.id,
            ("taken",),
            f"no way or step of one is called '{kind.taken}'.",
            did_you_mean(kind.taken, known, "Known"),
        )
        for kind in library.readings.values()
        if kind.taken and kind.taken not in known
    ]
