"""Chance tables against the order of their levels: the worse the level, the rarer the answer of a good car."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from knowngood.errors import Problem
from knowngood.library.records import Code, Library, ReadingKind
from knowngood.library.where import Where

FIX = 'Correct the chance, put the levels in order, or say why they have none: unordered = "...".'
SLACK = 1e-9


def tables_are_monotone(library: Library, where: Where) -> list[Problem]:
    """From the good level to the worst, the word of a good car gets no likelier and a code no less likely.

    Levels that are different things, not more of the same, say so with ``unordered`` and a reason: on the ladder for
    all that stands on it, or on the one reading or code.
    """
    problems = []
    for reading in library.readings.values():
        levels = _ordered(library, reading)
        if reading.words and levels and all(level in reading.chance for level in levels):
            good = reading.chance[levels[0]]
            word = max(reading.words, key=lambda name: good.get(name, 0.0))
            column = {level: 1.0 - reading.chance[level].get(word, 0.0) for level in levels}
            rise = _fall(levels, column)
            if rise is not None:
                better, worse = rise
                fact = f"'{word}' is likelier at '{worse}' than at '{better}', which is better."
                problems.append(where.problem("reading", reading.id, ("chance", worse, word), fact, FIX))
    for code in library.codes.values():
        levels = _ordered(library, code)
        fall = _fall(levels, code.set) if all(level in code.set for level in levels) else None
        if fall is not None:
            fact = f"this code is rarer at '{fall[1]}' than at '{fall[0]}', which is better."
            problems.append(where.problem("code", code.id, ("set", fall[1]), fact, FIX))
    return problems


def _ordered(library: Library, kind: ReadingKind | Code) -> Sequence[str]:
    """The levels in order, good first; none where they have no order."""
    ladder = library.ladders.get(kind.on)
    if kind.unordered or (ladder is not None and ladder.unordered):
        return ()
    levels = ladder.levels if ladder is not None else kind.levels
    return levels if len(set(levels)) == len(levels) else ()


def _fall(levels: Sequence[str], rising: Mapping[str, float]) -> tuple[str, str] | None:
    """The first two neighbours between which a column that must not fall does."""
    for better, worse in pairwise(levels):
        if rising[worse] < rising[better] - SLACK:
            return better, worse
    return None
