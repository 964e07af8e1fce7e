"""Draws that are alike in what is read are reckoned once."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.belief.outer import alike


@pytest.mark.parametrize(("nodes", "most"), [(3, 3), (80, 250)])
def test_one_of_each_kind_and_every_draw_of_its_kind(nodes: int, most: int) -> None:
    """Few nodes, and so many that no whole number holds all their joint states; the second half are copies."""
    rng = np.random.default_rng(nodes)
    some = rng.integers(0, most, (nodes, 40)).astype(np.uint8)
    states = np.concatenate([some, some], axis=1)
    first, kind = alike(states)
    assert np.array_equal(states[:, first[kind]], states)
    assert len(first) == len({tuple(column) for column in some.T.tolist()})
