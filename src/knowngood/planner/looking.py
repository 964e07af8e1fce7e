"""What it costs to go on looking, where there is far more to look at than can be planned through.

Whoever sees the faults pays what knowing costs; whoever repairs blind pays more, and the difference is waste. Looking
takes waste away, and a check that tells halves it, whether it is large or small: so what looking on costs grows with
the waste as its logarithm does, not in step with it. Small waste is not worth a check and is paid whole. Between the
two lies ``a ln(1 + waste / a)``, where ``a`` is the money for which the best check at hand takes a factor e off: with
that price this check just pays for itself, which is what the cost of going on must say of the best thing to do.

Where all fault sets are known and few checks are left, checks are planned through, and the waste is paid whole.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from knowngood.belief.protocol import Array

DEAREST, CHEAPEST = 1e6, 1e-3
HALVINGS = 60


@dataclass(frozen=True)
class Looking:
    """The price of looking on.

    Parameters
    ----------
    per_nat : float [currency]
        Money for which looking takes a factor e off the waste. Infinite: nobody looks on, all waste is paid.
    """

    per_nat: float = np.inf

    def paid(self, waste: Array) -> Array:
        """What of each waste is still paid, by looking or by repairing in vain.

        Examples
        --------
        >>> Looking(10.0).paid(np.array([0.0, 1.0, 1000.0])).round(2).tolist()
        [0.0, 0.95, 46.15]
        """
        if np.isinf(self.per_nat):
            return waste
        some: Array = np.minimum(waste, 0.0) + self.per_nat * np.log1p(np.maximum(waste, 0.0) / self.per_nat)
        return some

    def share(self, waste: Array) -> Array:
        """What a little more waste adds to what is paid."""
        if np.isinf(self.per_nat):
            return np.ones_like(waste)
        result: Array = 1.0 / (1.0 + np.maximum(waste, 0.0) / self.per_nat)
        return result


@dataclass(frozen=True)
class Look:
    """A check by what it does to the waste.

    Parameters
    ----------
    own : float
        Money of the check itself.
    chance : array (outcome,)
    waste : array (outcome,)
        After each outcome.
    """

    own: float
    chance: Array
    waste: Array


def looking_with(waste: float, looks: Sequence[Look]) -> Looking:
    """The price of looking on with the best of these checks, that at which it just pays for itself.

    Parameters
    ----------
    waste : float
        Now.

    Returns
    -------
    Looking
        Where no check pays for itself even if all waste is paid: nobody looks on.
    """

    def gain(looking: Looking) -> float:
        """What the best check saves beyond its own price."""
        now = float(looking.paid(np.array([waste]))[0])
        return max((now - look.own - float(look.chance @ looking.paid(look.waste)) for look in looks), default=-1.0)

    if gain(Looking()) <= 0.0:
        return Looking()
    low, high = CHEAPEST, DEAREST
    for _ in range(HALVINGS):
        middle = float(np.sqrt(low * high))
        if gain(Looking(middle)) > 0.0:
            high = middle
        else:
            low = middle
    return Looking(high)
