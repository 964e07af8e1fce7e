"""Ids, aliases and words: what a record is called by."""

from __future__ import annotations

import re

from knowngood.errors import Problem
from knowngood.library.records import Library
from knowngood.library.tables import KINDS, records_of
from knowngood.library.where import Where

_SNAKE = re.compile(r"[a-z][a-z0-9]*(_[a-z0-9]+)*")
_LETTER = re.compile(r"[^\W_]")
_TABLES = tuple(kind.table for kind in KINDS if kind.key == "id" and kind.table != "code")
"""Kinds whose records have an id of our form: a code has that of its standard, what is fitted that of a field."""


def ids_are_plain(library: Library, where: Where) -> list[Problem]:
    """Ids are lower case words joined by underscores, so that they can be typed and linked."""
    return [
        where.problem(table, name, ("id",), f"'{name}' is not an id.", "Use lower case words joined by underscores.")
        for table in _TABLES
        for name in records_of(library, table)
        if not _SNAKE.fullmatch(name)
    ]


def aliases_are_free(library: Library, where: Where) -> list[Problem]:
    """An alias is neither an id nor another record's alias of the same kind: it leads to one record."""
    problems = []
    for table, records in (("fault", library.faults), ("reading", library.readings)):
        taken = {name: name for name in records}
        for record in records.values():
            for index, alias in enumerate(record.aliases):
                if alias in taken:
                    fact = f"the alias '{alias}' leads to '{taken[alias]}' already."
                    problems.append(where.problem(table, record.id, ("aliases", index), fact, "Drop one of them."))
                taken.setdefault(alias, record.id)
    return problems


def words_say_something(library: Library, where: Where) -> list[Problem]:
    """Every phrase a record is known by has a letter or a number in it: nothing can be found by an empty one."""
    problems = []
    for kind in KINDS:
        for name, record in records_of(library, kind.table).items():
            for key in ("words", "says"):
                for index, phrase in enumerate(getattr(record, key, ())):
                    if not _LETTER.search(phrase):
                        fact = f"'{phrase}' is no word."
                        problems.append(where.problem(kind.table, name, (key, index), fact, "Write one, or drop it."))
    return problems
