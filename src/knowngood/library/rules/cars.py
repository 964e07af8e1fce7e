"""What records say about cars: what they need, what is usually fitted."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from knowngood.errors import Problem
from knowngood.library.fitted_values import CAR_VALUES, field_values
from knowngood.library.records import Library
from knowngood.library.shape import did_you_mean
from knowngood.library.tables import records_of
from knowngood.library.where import Where

TABLES_WITH_NEEDS = ("fault", "reading", "check", "part", "access", "code", "layout", "service")


def needs_are_lawful(library: Library, where: Where) -> list[Problem]:
    """`needs` names fields of a car, each with values it can have."""
    problems = []
    for table in TABLES_WITH_NEEDS:
        for name, record in records_of(library, table).items():
            problems += _needs(where, record.needs, table, name, ())
    return problems


def _needs(
    where: Where, needs: Mapping[str, tuple[str, ...]], table: str, name: str, keys: tuple[str | int, ...]
) -> list[Problem]:
    problems = []
    for field, values in needs.items():
        lawful = CAR_VALUES.get(field)
        if lawful is None:
            fix = did_you_mean(field, CAR_VALUES, "Fields")
            fact = f"a car has no field '{field}' to be needed."
            problems.append(where.problem(table, name, (*keys, "needs", field), fact, fix))
            continue
        for index, value in enumerate(values):
            if value not in lawful:
                fact = f"the field '{field}' of a car is never '{value}'."
                fix = did_you_mean(value, lawful, "Values")
                problems.append(where.problem(table, name, (*keys, "needs", field, index), fact, fix))
    return problems


def shares_are_whole(library: Library, where: Where) -> list[Problem]:
    """What is usually fitted: lawful fields and values, shares that sum to 1, each further case with a condition."""
    problems = []
    for field, fitted in library.fitted.items():
        lawful = field_values(field)
        if lawful is None:
            fix = did_you_mean(field, (*CAR_VALUES, *CAR_VALUES["systems"]), "Fields")
            problems.append(where.problem("fitted", field, ("field",), f"a car has no field '{field}'.", fix))
            continue
        problems += _shares(where, fitted.share, lawful, field, ("share",))
        for index, given in enumerate(fitted.given):
            keys = ("given", index)
            problems += _needs(where, given.needs, "fitted", field, keys)
            problems += _shares(where, given.share, lawful, field, (*keys, "share"))
            if not given.needs and given.before is None and given.since is None:
                fact = "a case that holds for every car."
                fix = "Say `needs`, `before` or `since`, or write its share as that of all."
                problems.append(where.problem("fitted", field, keys, fact, fix))
    return problems


def _shares(
    where: Where, shares: Mapping[str, float], lawful: Sequence[str], field: str, keys: tuple[str | int, ...]
) -> list[Problem]:
    problems = []
    for value, share in shares.items():
        if value not in lawful:
            fact = f"the field '{field}' of a car is never '{value}'."
            fix = did_you_mean(value, lawful, "Values")
            problems.append(where.problem("fitted", field, (*keys, value), fact, fix))
        if not 0 <= share <= 1:
            fact = f"a share of {share:g}."
            problems.append(where.problem("fitted", field, (*keys, value), fact, "Write a number from 0 to 1."))
    total = math.fsum(shares.values())
    if abs(total - 1) > 1e-6:
        problems.append(where.problem("fitted", field, keys, f"the shares sum to {total:.6g}.", "Make them sum to 1."))
    return problems
