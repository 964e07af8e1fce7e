"""Numbers whose last digits choose nothing: what differs by less than a machine may err is the same.

Sums of hundreds of products come out a little different on another processor. Where two of them are as good as equal,
that difference must not choose the step (:mod:`knowngood.planner.price_order`).
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.protocol import Array

DIGITS = 9
MONEY_DIGITS = 6  # after the point: a ten-thousandth of a cent


def firm(values: Array) -> Array:
    """Values (..., n) cut to nine digits of the greatest along the last axis: what differs less is the same.

    >>> firm(np.array([1.0, 1.0 + 1e-13, 2.0])).tolist()
    [1.0, 1.0, 2.0]
    """
    top = _top(np.where(np.isfinite(values), values, 0.0))
    cut: Array = np.round(values / top, DIGITS) * top
    return cut


def firm_order(values: Array) -> NDArray[np.intp]:
    """Places of finite values (..., n) along the last axis, the greatest first; the same by :func:`firm` as they stand.

    >>> firm_order(np.array([1.0, 1.0 + 1e-13, 2.0])).tolist()
    [2, 0, 1]
    """
    count = values.shape[-1]
    digits = np.rint(values / _top(values) * 10.0**DIGITS).astype(np.int64)
    # whole numbers, no two the same: the quickest way of sorting need not keep any order
    return np.argsort(np.arange(count) - digits * count, axis=-1)


def _top(values: Array) -> Array:
    """The greatest (..., 1) as a power of two: dividing by it changes no digit."""
    top = np.abs(values).max(axis=-1, keepdims=True, initial=0.0)
    result: Array = np.exp2(np.ceil(np.log2(np.maximum(top, 1e-300))))
    return result


def firm_money(money: float) -> float:
    """Money cut to a ten-thousandth of a cent: what differs less is the same on every machine."""
    return round(money, MONEY_DIGITS)
