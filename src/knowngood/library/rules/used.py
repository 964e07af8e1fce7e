"""What nobody needs: tools, access steps and cautions that no record names."""

from __future__ import annotations

from knowngood.errors import Problem
from knowngood.library.records import Library
from knowngood.library.rules.names import mentions
from knowngood.library.tables import records_of
from knowngood.library.where import Where

NEEDED = ("tool", "access", "caution")
"""Kinds of records that are there for others only; sources also serve the measurements."""


def nothing_lies_unused(library: Library, where: Where) -> list[Problem]:
    """Every tool, access step and caution is named by a record that needs it."""
    named = {
        (kinds[0], name)
        for table, record, keys, kinds, name in mentions(library)
        if (table, record) != (kinds[0], name) and (table != "layout" or "after" in keys)
    }
    return [
        where.problem(table, name, (), f"no record needs this {table}.", "Name it where it is needed, or drop it.")
        for table in NEEDED
        for name in records_of(library, table)
        if (table, name) not in named
    ]
