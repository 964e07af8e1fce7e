"""An order that does not hang on the last digits: steps of one price are told apart by something firm.

Sums of hundreds of products come out a little different on another processor.
Where two prices are as good as equal, that difference must not choose the step:
then the quicker one comes first, then the cheaper, then the one for which less
comes off, then the one that needs no other check after it, then its name.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

import numpy as np

from knowngood.belief.protocol import Array

if TYPE_CHECKING:
    from knowngood.planner.candidates import Candidate
    from knowngood.planner.steps import Step

ALIKE_SHARE = 1e-4  # prices within 0.01 % are one price
DIGITS = 9


def firm(values: Array) -> Array:
    """Values (..., n) cut to nine digits of the greatest along the last axis: what differs less is the same.

    >>> firm(np.array([1.0, 1.0 + 1e-13, 2.0])).tolist()
    [1.0, 1.0, 2.0]
    """
    top = np.abs(np.where(np.isfinite(values), values, 0.0)).max(axis=-1, keepdims=True, initial=0.0)
    top = np.exp2(np.ceil(np.log2(np.maximum(top, 1e-300))))  # a power of two: dividing by it changes no digit
    cut: Array = np.round(values / top, DIGITS) * top
    return cut


def firmly(step: Step) -> tuple[float, float, int, float, str, str]:
    """What tells steps of one price apart: minutes, money, things that come off, how often one looks on, names."""
    return (
        round(float(step.minutes), 3),
        round(float(step.money), 3),
        len(step.opens),
        round(sum(after.chance for after in step.after if after.check is not None), 3),
        step.action.id,
        str(step.action.place),
    )


def in_firm_order(candidates: Iterable[Candidate]) -> list[Candidate]:
    """By price; those of one price by :func:`firmly`."""
    waiting = sorted(candidates, key=lambda one: (one.step.cost, firmly(one.step)))
    result: list[Candidate] = []
    while waiting:
        least = waiting[0].step.cost
        count = sum(one.step.cost <= least + ALIKE_SHARE * abs(least) for one in waiting)
        result += sorted(waiting[:count], key=lambda one: firmly(one.step))
        waiting = waiting[count:]
    return result
