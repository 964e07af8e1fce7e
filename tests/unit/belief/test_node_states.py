"""States of nodes in many draws at once, against one draw after the other."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.belief.node_states import NodeStates, packed
from knowngood.belief.nodes import Node
from knowngood.belief.timeline import Instance
from knowngood.car import ENGINE

FAULTS = [Instance(f"f{number}", ENGINE) for number in range(12)]


@pytest.mark.parametrize(("largest", "size"), [(3, 6), (3, 250), (60, 256)])
def test_what_faults_do_to_nodes_is_as_draw_by_draw(largest: int, size: int) -> None:
    """The worst, sums that stay small, and sums that go beyond what one byte holds."""
    rng = np.random.default_rng(largest)
    levels = [dict(zip(FAULTS, map(int, rng.integers(1, largest + 1, 12)), strict=True)) for _ in range(2)]
    nodes = [Node("max", size, levels[0]), Node("add", size, levels[0]), Node("add", size, levels[1])]
    there = rng.random((12, 100)) < 0.7
    states = NodeStates(nodes, FAULTS).of(packed(there), 100)
    for draw in range(100):
        here = [[one[fault] for fault, true in zip(FAULTS, there[:, draw], strict=True) if true] for one in levels]
        expected = [max(here[0], default=0), min(sum(here[0]), size - 1), min(sum(here[1]), size - 1)]
        assert states[:, draw].tolist() == expected
