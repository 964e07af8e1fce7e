"""Numbers: nan and inf are numbers to TOML, and none to us."""

from __future__ import annotations

import math

from knowngood.errors import Problem
from knowngood.library.records import Library
from knowngood.library.shape import leaves
from knowngood.library.tables import KINDS
from knowngood.library.where import Where


def numbers_are_finite(library: Library, where: Where) -> list[Problem]:
    """No number is nan or without end."""
    return [
        where.problem(kind.table, name, keys, f"{value} is no number to compute with.", "Write a number.")
        for kind in KINDS
        for name, record in getattr(library, kind.place).items()
        for keys, value in leaves(record)
        if isinstance(value, float) and not math.isfinite(value)
    ]
