"""A surprise told from joint chances against the tables filled anew without the line, and with it alone."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.belief.elimination import Pass
from knowngood.belief.network import Network
from knowngood.belief.surprise import surprise_in_tables
from tests.told import state_after

CARS = (
    "4 cylinders inline, coil on plug, port injection\ncomp 175 172 60 174 psi\nP0303 stored\nshakes at idle\n",
    "V6, coil on plug, port injection, flow meter\nP0171 stored\nlt b1 +14 idle\nlt b2 +1 idle\nfuel 43 psi\n",
    "4 cylinders inline, coil on plug\nP0302\nnew plugs all, no change\ncoil 2>3, now P0303\nplug 3 wet with fuel\n",
)


def filled_anew(network: Network, entry: int, full: Pass, before: Pass) -> float:
    """The ratio of the chances of the evidence with and without the line, over that of the line alone."""
    if all(clue.entry != entry for clue in network.clues):
        return 1.0
    others = network.run(frozenset((entry,))).log_chance
    rest = frozenset(clue.entry for clue in network.clues) - {entry}
    return float(np.exp(full.log_chance - others - network.run(rest).log_chance + before.log_chance))


@pytest.mark.parametrize("notes", CARS)
def test_dividing_a_table_out_is_leaving_it_out(notes: str) -> None:
    """To 10 digits, for every line."""
    belief = state_after(notes).belief
    network, full = belief.network, belief.network.run()
    before = network.run(frozenset(clue.entry for clue in network.clues))
    told = [surprise_in_tables(network, entry, full, before) for entry in sorted(belief.entries_in())]
    anew = [filled_anew(network, entry, full, before) for entry in sorted(belief.entries_in())]
    assert told == pytest.approx(anew, rel=1e-10)
    assert np.ptp(told) > 0.1
