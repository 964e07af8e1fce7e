"""What the library sees and what it does not: which checks can see a fault, and faults only one can.

A reading tells a fault from a good car when one of its answers is at least
:data:`TOLD_APART` times as likely under one as under the other. Each fault stands alone
on a car that is otherwise good; of the levels it can bring a reading to, in whatever
regime, the mean is taken.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from knowngood.library.columns import Array, rows
from knowngood.library.reach import Level, can_meet, good_level, levels_shown, reached
from knowngood.library.records import Code, Library, ReadingKind

TOLD_APART = 3.0
"""Odds; common practice: under 3 to 1 nobody would put money on it."""
LEAST_LIKELY = 0.05
"""An answer rarer than this under both faults is not waited for."""

Bools = NDArray[np.bool_]


@dataclass(frozen=True)
class Separation:
    """All answers for one library; worked out when asked for, then kept."""

    library: Library

    @cached_property
    def faults(self) -> tuple[str, ...]:
        """The order of the faults in every table here."""
        return tuple(self.library.faults)

    @cached_property
    def told(self) -> dict[str, Bools]:
        """For each reading of a check and each code: (faults + 1, faults + 1), the last one the good car."""
        ways = [reached(self.library, fault) for fault in self.library.faults.values()]
        taken = {name for check in self.library.checks.values() for name in check.reads}
        kinds: list[ReadingKind | Code] = [*self.library.readings.values(), *self.library.codes.values()]
        found = {}
        for kind in kinds:
            if isinstance(kind, Code) or kind.id in taken or kind.complaint:
                shown = [
                    frozenset(levels_shown(self.library, kind, name, way))
                    if can_meet(kind.needs, self.library.faults[name].needs)
                    else frozenset()
                    for name, way in zip(self.faults, ways, strict=True)
                ]
                found[kind.id] = self._told_by(kind, [*shown, frozenset()])
        return found

    def _told_by(self, kind: ReadingKind | Code, shown: list[frozenset[Level]]) -> Bools:
        good = good_level(self.library, kind)
        classes = sorted(set(shown), key=lambda levels: sorted(map(str, levels)))
        levels = sorted({level for some in classes for level in some} | {good}, key=str)
        table = rows(self.library, kind, levels)
        at = {level: row for row, level in enumerate(levels)}
        mean = np.array([table[[at[level] for level in some] or [at[good]]].mean(axis=0) for some in classes])
        number = {some: index for index, some in enumerate(classes)}
        which = np.array([number[some] for some in shown])
        return told_apart(mean)[np.ix_(which, which)]

    @cached_property
    def by_check(self) -> dict[str, Bools]:
        """For each check: which faults (and the good car, last) it tells apart; codes count where it reads them."""
        size = len(self.faults) + 1
        codes = [self.told[name] for name in self.library.codes if name in self.told]
        found = {}
        for check in self.library.checks.values():
            whole = np.zeros((size, size), dtype=bool)
            for name in check.reads:
                for table in codes if name == "code" else [self.told[name]] if name in self.told else []:
                    whole |= table
            found[check.id] = whole
        return found

    @cached_property
    def seen_by(self) -> dict[str, tuple[str, ...]]:
        """For each fault the checks one of whose answers speaks for it against a good car."""
        return {
            name: tuple(check for check, table in self.by_check.items() if table[row, -1])
            for row, name in enumerate(self.faults)
        }

    def unseen(self) -> tuple[str, ...]:
        """Faults that no check tells from a good car."""
        return tuple(name for name, checks in self.seen_by.items() if not checks)

    def seen_by_one(self) -> dict[str, str]:
        """Faults that one check only can see, with that check."""
        return {name: checks[0] for name, checks in self.seen_by.items() if len(checks) == 1}


def told_apart(table: Array) -> Bools:
    """Pairs of rows of a table of chances with an answer :data:`TOLD_APART` times likelier in one than in the other.

    Parameters
    ----------
    table : array (rows, answers)

    Returns
    -------
    array of bool (rows, rows)

    Examples
    --------
    >>> told_apart(np.array([[0.9, 0.1], [0.4, 0.6], [0.5, 0.5]])).tolist()
    [[False, True, True], [True, False, False], [True, False, False]]
    """
    some, others = table[:, None, :], table[None, :, :]
    high, low = np.maximum(some, others), np.minimum(some, others)
    result: Bools = np.any((high >= LEAST_LIKELY) & (high >= TOLD_APART * low), axis=2)
    return result
