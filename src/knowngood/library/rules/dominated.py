"""Checks that nobody would ever choose, because another one asks less and tells as much."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import numpy as np

from knowngood.errors import Problem
from knowngood.library.reach import can_meet
from knowngood.library.records import Check, Library, ReadingKind
from knowngood.library.rules.names import ALL_CODES
from knowngood.library.where import Where

CLOSE = 1e-6  # of chances: rounding of the least squares


def no_check_is_dominated(library: Library, where: Where) -> list[Problem]:
    """No check is beaten by another in minutes, money, tools, access, cautions, state of the engine and columns.

    A declared poor man's form (``poor_form_of``) may be: it stands for the shop that lacks what the better one needs.
    So may a check that takes what a gate asks for: a gate accepts no other look.
    """
    asked = {name for gate in library.gates.values() for name in gate.looks}
    opened = {check.id: _opened(library, check) for check in library.checks.values()}
    problems = []
    for check in library.checks.values():
        if asked & set(check.reads):
            continue
        for other in library.checks.values():
            if other is check or check.poor_form_of == other.id or other.poor_form_of == check.id:
                continue
            if _asks_no_more(other, check, opened) and _tells_as_much(library, other, check):
                fact = f"'{other.id}' asks no more and tells as much."
                fix = "Correct minutes, tools or access, drop this check, or write poor_form_of."
                problems.append(where.problem("check", check.id, (), fact, fix))
                break
    return problems


def _opened(library: Library, check: Check) -> frozenset[str]:
    found: set[str] = set()
    waiting = list(check.access)
    while waiting:
        name = waiting.pop()
        if name not in found:
            found.add(name)
            step = library.access.get(name)
            waiting += step.after if step is not None else ()
    return frozenset(found)


def _asks_no_more(other: Check, check: Check, opened: dict[str, frozenset[str]]) -> bool:
    return (
        other.minutes <= check.minutes
        and other.each_minutes <= check.each_minutes
        and other.money <= check.money
        and other.engine == check.engine
        and set(other.tools) <= set(check.tools)
        and set(other.cautions) <= set(check.cautions)
        and opened[other.id] <= opened[check.id]
        and all(field in check.needs and set(check.needs[field]) <= set(other.needs[field]) for field in other.needs)
        and can_meet(other.needs, check.needs)
    )


def _tells_as_much(library: Library, other: Check, check: Check) -> bool:
    return all(any(_no_less(library, mine, name) for mine in other.reads) for name in check.reads)


def _no_less(library: Library, mine: str, name: str) -> bool:
    """Whether the reading ``mine`` tells at least as much as ``name`` of the same levels; of numbers never said."""
    if mine == name:
        return True
    if ALL_CODES in (mine, name) or mine not in library.readings or name not in library.readings:
        return False
    better, worse = library.readings[mine], library.readings[name]
    levels = _same_levels(library, better, worse)
    if not levels or not better.words or not worse.words:
        return False
    return is_garbled(_table(worse, levels), _table(better, levels))


def _same_levels(library: Library, one: ReadingKind, other: ReadingKind) -> Sequence[str]:
    """The levels both readings stand on in the same way, place and regime; none when they do not."""
    if (one.place, one.when, one.on, one.inputs) != (other.place, other.when, other.on, other.inputs):
        return ()
    if one.on:
        return library.ladders[one.on].levels if one.on in library.ladders else ()
    return one.levels if (one.levels, one.direct) == (other.levels, other.direct) else ()


def _table(reading: ReadingKind, levels: Iterable[str]) -> np.ndarray:
    return np.array([[reading.chance.get(level, {}).get(word, 0.0) for word in reading.words] for level in levels])


def is_garbled(table: np.ndarray, of: np.ndarray) -> bool:
    """Whether a table of chances is another one with its answers shuffled by dice that do not know the truth.

    Parameters
    ----------
    table : array (levels, answers)
    of : array (levels, its answers)
        Rows of both sum to 1.

    Returns
    -------
    bool
        True when a stochastic T with ``of @ T == table`` exists: then no decision is made better by ``table``.

    References
    ----------
    Blackwell, Equivalent Comparisons of Experiments, Annals of Mathematical Statistics 24 (1953).
    """
    from scipy.optimize import linprog

    answers, shuffled = of.shape[1], table.shape[1]
    rows = [np.kron(row, np.eye(shuffled)) for row in of]
    sums = np.kron(np.eye(answers), np.ones(shuffled))
    equal = np.vstack([*rows, sums])
    wanted = np.concatenate([table.ravel(), np.ones(answers)])
    slack = np.hstack([np.eye(len(wanted)), -np.eye(len(wanted))])
    costs = np.concatenate([np.zeros(answers * shuffled), np.ones(2 * len(wanted))])
    found = linprog(costs, A_eq=np.hstack([equal, slack]), b_eq=wanted, method="highs")
    return bool(found.status == 0 and found.fun < CLOSE)
