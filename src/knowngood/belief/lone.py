"""A fault that is not folded with others, because it was looked for, or stems from another or brings one about."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from knowngood.belief.elimination import Array
from knowngood.belief.fabric import Fabric


def laid_alone(
    fabric: Fabric, cause: int, base: Array, shares: Array, brought: Sequence[tuple[int, int, float]], seat: int
) -> int:
    """A variable of the ways of a fault, 0 where it is not there; its tables are laid into the fabric.

    One that stems from others is a chain of "brought about by this one, or there before".

    Parameters
    ----------
    fabric : Fabric
    cause : int
        Variable of the common causes.
    base : array (cause,)
        Chance of the fault by itself.
    shares : array (way,)
        Chance of each of its ways, given that it is there.
    brought : sequence of (variable, ways, chance)
        Of each fault that may have brought it about.
    seat : int
    """
    variable = -1
    if not brought or base.any():
        ways = np.ones(1) if brought else shares
        variable = fabric.variable(1 + len(ways), seat)
        table = np.concatenate([1.0 - base[:, None], np.outer(base, ways)], axis=1)
        if np.ptp(base) > 0.0:
            fabric.table((cause, variable), table)
        else:
            fabric.table((variable,), table[0])
    for number, (parent, states, share) in enumerate(brought, start=1):
        ways = shares if number == len(brought) else np.ones(1)
        after = fabric.variable(1 + len(ways), seat)
        spared = np.eye(1, 1 + len(ways))[0]
        by_parent = np.stack([spared, *[np.array([1.0 - share, *(share * ways)])] * states])
        if variable < 0:
            fabric.table((parent, after), by_parent)
        else:
            there = np.broadcast_to(np.array([0.0, *ways]), by_parent.shape)
            fabric.table((variable, parent, after), np.stack([by_parent, there]))
        variable = after
    return variable
