"""States of nodes in many draws at once, against one draw after the other."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.belief.node_states import NodeStates, packed
from knowngood.belief.nodes import Node
from knowngood.belief.timeline import Instance
from knowngood.car import ENGINE

FAULTS = [Instance(f"f{number}", ENGINE) for number in range(12)]
DRAWS = 100


@pytest.mark.parametrize(("largest", "size"), [(3, 6), (3, 250), (60, 256)])
def test_what_faults_do_to_nodes_is_as_draw_by_draw(largest: int, size: int) -> None:
    """The worst, sums that stay small, and sums that go beyond what one byte holds."""
    rng = np.random.default_rng(largest)
    levels = [dict(zip(FAULTS, map(int, rng.integers(1, largest + 1, 12)), strict=True)) for _ in range(2)]
    nodes = [Node("max", size, levels[0]), Node("add", size, levels[0]), Node("add", size, levels[1])]
    there = rng.random((12, DRAWS)) < 0.7
    states = NodeStates(nodes, FAULTS).of(packed(there), DRAWS)
    for draw in range(DRAWS):
        here = [[one[fault] for fault, true in zip(FAULTS, there[:, draw], strict=True) if true] for one in levels]
        expected = [max(here[0], default=0), min(sum(here[0]), size - 1), min(sum(here[1]), size - 1)]
        assert states[:, draw].tolist() == expected


@pytest.mark.parametrize("step", [1, 60])
def test_what_nodes_hand_on_is_as_draw_by_draw(step: int) -> None:
    """Through tables and plainly, into a worst, a count that may go beyond one byte, and a difference below zero."""
    rng = np.random.default_rng(step)
    first, second = ({fault: int(rng.integers(1, 4)) for fault in some} for some in (FAULTS[:6], FAULTS[6:]))
    plain, steps, size = (0, 1, 2, 3), tuple(step * state for state in range(4)), min(5 * step + 4, 256)
    nodes = [
        Node("max", 4, first),
        Node("max", 4, second, [(0, (0, 0, 1, 2))]),
        Node("add", size, {FAULTS[0]: 3}, [(0, steps), (1, steps)]),
        Node("net", 7, {}, [(0, plain), (1, plain)], shift=3),
    ]
    there = rng.random((12, DRAWS)) < 0.3
    states = NodeStates(nodes, FAULTS).of(packed(there), DRAWS)
    for draw in range(DRAWS):
        true = {fault for fault, here in zip(FAULTS, there[:, draw], strict=True) if here}
        one = max((first[fault] for fault in first if fault in true), default=0)
        other = max([(0, 0, 1, 2)[one], *(second[fault] for fault in second if fault in true)])
        count = min(3 * (FAULTS[0] in true) + steps[one] + steps[other], size - 1)
        assert states[:, draw].tolist() == [one, other, count, one - other + 3]
    assert np.ptp(states, axis=1).all()
