"""How much less likely the rest makes a line, where the tables hold only part of what was said.

What the tables hold of a line is compared in the tables. What is outside is compared in two sets of draws from them,
with all their evidence and with none; where enough of the first are worth something under the rest of what is outside,
that weighs them. Two lines outside that contradict each other beyond that are not seen.
"""

from __future__ import annotations

from functools import cached_property

import numpy as np

from knowngood.belief.drawing import DRAWS, Draws
from knowngood.belief.elimination import Array, Pass
from knowngood.belief.network import Network

WORTH = 100.0  # draws that the rest must leave for it to be counted; a few digits of a ratio are enough


def surprise_in_tables(network: Network, entry: int, full: Pass, before: Pass) -> float:
    """Chance of what the tables hold of an entry given the rest of them, over its chance on an arrival; 1 for nothing.

    What one table says of variables that share a table is told by their joint chances: with it in, dividing by it
    takes it out. Else the tables are filled anew without it, and with nothing else.

    Parameters
    ----------
    network : Network
    entry : int
        Number of the entry, as its clues carry it.
    full, before : Pass
        The tables with all their evidence, and with none.

    Returns
    -------
    ratio : float
        Above 0; 1 where the tables hold nothing of the entry.
    """
    own = [index for clue, index in zip(network.clues, network.clue_index, strict=True) if clue.entry == entry]
    if not own:
        return 1.0
    scopes = {network.fabric.scopes[index] for index in own}
    if len(scopes) == 1 and not network.below:
        table = np.prod([table for index in own if (table := network.fabric.tables[index]) is not None], axis=0)
        if table.min() > 0.0:
            scope = scopes.pop()
            others = 1.0 / float((full.joint(scope) / table).sum())
            return others / float((before.joint(scope) * table).sum())
    others = network.log_chance(frozenset((entry,)), full)
    rest = frozenset(clue.entry for clue in network.clues) - {entry}
    alone = network.log_chance(rest, full) - before.log_chance
    return float(np.exp(full.log_chance - others - alone))


class OutsideSurprises:
    """Sizes of the surprises of lines outside the tables.

    Parameters
    ----------
    draws : Draws
    before : Pass
        The tables with no evidence; not held on to.
    """

    def __init__(self, draws: Draws, before: Pass) -> None:
        self.draws = draws
        self._on_arrival = draws.log_chances_outside(draws.first(before, DRAWS, np.random.default_rng(DRAWS)))

    @cached_property
    def _given_tables(self) -> dict[int, Array]:
        return self.draws.log_chances_outside(self.draws.begun)

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
        even = np.full(DRAWS, 1.0 / DRAWS)
        others = [log_chance for other, log_chance in self._given_tables.items() if other != entry]
        if not others:
            return even
        total = np.sum(others, axis=0)
        weight = np.exp(total - total.max())
        weight /= weight.sum()
        return weight if 1.0 / float(np.square(weight).sum()) >= WORTH else even
