"""What it costs to go on looking, where there is far more to look at than can be planned through.

Whoever sees the faults pays what knowing costs; whoever repairs blind pays more, and the difference is waste. Looking
takes waste away, and a check that tells halves it, whether it is large or small: so what looking on costs grows with
the waste as its logarithm does, not in step with it. Small waste is not worth a check and is paid whole. Between the
two lies ``a ln(1 + waste / a)``, where ``a`` is the money for which looking takes a factor e off, on average over the
row of checks it would take to leave nothing. Not that of the best check alone: many small quick ones would come before
the long one that makes them needless.

Where all fault sets are known and few checks are left, checks are planned through, and the waste is paid whole.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from knowngood.belief.protocol import Array

DEAREST, CHEAPEST = 1e6, 1e-3
HALVINGS = 60
LEAST_NATS = 1e-6


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
    """The price of looking on with these checks, the best for their money first until no waste would be left.

    Each check is counted by what it takes off now. That is too much where two tell the same, so the price is rather
    too low than too high.

    Parameters
    ----------
    waste : float
        Now.

    Returns
    -------
    Looking
        Where all of them together do not pay for themselves even if all waste is paid: nobody looks on.
    """
    if not looks:
        return Looking()
    own = np.array([look.own for look in looks])
    chance = np.concatenate([look.chance for look in looks])
    after = np.concatenate([look.waste for look in looks])
    begins = np.cumsum([0, *(len(look.waste) for look in looks)])[:-1]

    def price(per_nat: float) -> float:
        """What a nat costs with these checks, if that is what it is taken to cost."""
        now = float(np.log1p(waste / per_nat))
        nats = now - np.add.reduceat(chance * np.log1p(after / per_nat), begins)
        useful = nats > LEAST_NATS * now
        if now <= 0.0 or not useful.any():
            return np.inf
        order = np.argsort(own[useful] / nats[useful], kind="stable")
        taken = np.cumsum(nats[useful][order])
        paid = np.cumsum(own[useful][order])
        last = min(int(np.searchsorted(taken, now)), len(taken) - 1)
        return float(paid[last] / taken[last])

    if price(DEAREST) >= DEAREST:
        return Looking()
    low, high = CHEAPEST, DEAREST
    for _ in range(HALVINGS):
        middle = float(np.sqrt(low * high))
        if price(middle) < middle:
            high = middle
        else:
            low = middle
    return Looking(high)
