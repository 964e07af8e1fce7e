"""Numbers whose last digits choose nothing: what differs by less than a machine may err is the same.

Sums of hundreds of products come out a little different on another processor. Where two of them are as good as equal,
that difference must not choose the step (:mod:`knowngood.planner.price_order`).
"""

from __future__ import annotations

import numpy as np

from knowngood.belief.protocol import Array

DIGITS = 9
MONEY_DIGITS = 6  # after the point: a ten-thousandth of a cent


def firm(values: Array) -> Array:
    """Values (..., n) cut to nine digits of the greatest along the last axis: what differs less is the same.

    >>> firm(np.array([1.0, 1.0 + 1e-13, 2.0])).tolist()
    [1.0, 1.0, 2.0]
    """
    top = np.abs(np.where(np.isfinite(values), values, 0.0)).max(axis=-1, keepdims=True, initial=0.0)
    top = np.exp2(np.ceil(np.log2(np.maximum(top, 1e-300))))  # a power of two: dividing by it changes no digit
    cut: Array = np.round(values / top, DIGITS) * top
    return cut


def firm_money(money: float) -> float:
    """Money cut to a ten-thousandth of a cent: what differs less is the same on every machine."""
    return round(money, MONEY_DIGITS)
