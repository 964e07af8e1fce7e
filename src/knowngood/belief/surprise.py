"""How much less likely the rest makes a line, where the tables hold only part of what was said.

What the tables hold of a line is compared in the tables. What is outside is compared in two sets of draws from them,
with all their evidence and with none; where enough of the first are worth something under the rest of what is outside,
that weighs them. Two lines outside that contradict each other beyond that are not seen.
"""

from __future__ import annotations

from functools import cached_property

import numpy as np

from knowngood.belief.drawing import Draws
from knowngood.belief.elimination import Array, Pass

DRAWN = 2000
WORTH = 100.0  # draws that the rest must leave for it to be counted; a few digits of a ratio are enough


class OutsideSurprises:
    """Sizes of the surprises of lines outside the tables.

    Parameters
    ----------
    draws : Draws
    full, before : Pass
        The tables with all their evidence, and with none.
    """

    def __init__(self, draws: Draws, full: Pass, before: Pass) -> None:
        self.draws = draws
        self.full, self.before = full, before

    @cached_property
    def _given_tables(self) -> dict[int, Array]:
        return self.draws.log_chances_outside(self.full, DRAWN, np.random.default_rng(DRAWN))

    @cached_property
    def _on_arrival(self) -> dict[int, Array]:
        return self.draws.log_chances_outside(self.before, DRAWN, np.random.default_rng(DRAWN))

    def of(self, entry: int) -> float:
        """Chance of what is outside of an entry given the tables and the rest, over its chance on an arrival; 1 where
        nothing of it is outside."""
        own = self._given_tables.get(entry)
        if own is None:
            return 1.0
        weight = self._weight_of_the_rest(entry)
        return float(np.exp(own) @ weight / np.exp(self._on_arrival[entry]).mean())

    def _weight_of_the_rest(self, entry: int) -> Array:
        """Weight of each draw by the other lines outside; even where they leave too few (draw,)."""
        even = np.full(DRAWN, 1.0 / DRAWN)
        others = [log_chance for other, log_chance in self._given_tables.items() if other != entry]
        if not others:
            return even
        total = np.sum(others, axis=0)
        weight = np.exp(total - total.max())
        weight /= weight.sum()
        return weight if 1.0 / float(np.square(weight).sum()) >= WORTH else even
