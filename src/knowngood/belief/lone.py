"""A fault that is not folded with others, because it was looked for, or stems from another or brings one about."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from knowngood.belief.courses import Course
from knowngood.belief.elimination import Array
from knowngood.belief.fabric import Fabric


def laid_alone(
    fabric: Fabric, cause: int, base: Array, course: Course, brought: Sequence[tuple[int, Course, float]], seat: int
) -> int:
    """A variable of the ways of a fault, 0 where it is never there; its tables are laid into the fabric.

    One that stems from others is a chain of "brought about by this one, or there before".

    Parameters
    ----------
    fabric : Fabric
    cause : int
        Variable of the common causes.
    base : array (cause,)
        Chance of the fault by itself.
    course : Course
    brought : sequence of (variable, course, chance)
        Of each fault that may have brought it about, and was there at first.
    seat : int
    """
    ends = _ways(np.array([0.0, 1.0]), course)  # by whether it was there at first: (2, 1 + way)
    variable = -1
    if not brought or base.any():
        table = np.stack([1.0 - base, base], axis=1) if brought else _ways(base, course)
        variable = fabric.variable(table.shape[1], seat)
        if np.ptp(base) > 0.0:
            fabric.table((cause, variable), table)
        else:
            fabric.table((variable,), table[0])
    for number, (parent, of_parent, share) in enumerate(brought, start=1):
        absent, there = ends if number == len(brought) else np.eye(2)
        after = fabric.variable(len(there), seat)
        at_first = np.array([0.0, *(of_parent.root in holds for holds in of_parent.holds)])
        by_parent = absent + share * np.outer(at_first, there - absent)
        if variable < 0:
            fabric.table((parent, after), by_parent)
        else:
            fabric.table((variable, parent, after), np.stack([by_parent, np.broadcast_to(there, by_parent.shape)]))
        variable = after
    return variable


def _ways(base: Array, course: Course) -> Array:
    """Chance that it is never there, and of each way: (..., 1 + way)."""
    chances = course.chances(base)
    return np.concatenate([1.0 - chances.sum(axis=-1, keepdims=True), chances], axis=-1)
