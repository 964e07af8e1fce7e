"""When one table of chances is another one garbled."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.library.rules.dominated import is_garbled


def test_shuffled_answers_are_garbled() -> None:
    """Any stochastic shuffle of a table's answers tells no more than the table (Blackwell 1953, theorem 1)."""
    rng = np.random.default_rng(5)
    for _ in range(20):
        table = rng.dirichlet(np.ones(4), size=3)
        shuffle = rng.dirichlet(np.ones(3), size=4)
        assert is_garbled(table @ shuffle, table)


@pytest.mark.parametrize(
    ("table", "of"),
    [
        ([[0.9, 0.1], [0.1, 0.9]], [[0.8, 0.2], [0.2, 0.8]]),
        ([[0.95, 0.05], [0.5, 0.5]], [[0.8, 0.2], [0.1, 0.9]]),
        ([[0.5, 0.5], [0.1, 0.9]], [[0.5, 0.5], [0.5, 0.5]]),
    ],
)
def test_a_sharper_table_is_not_garbled(table: list[list[float]], of: list[list[float]]) -> None:
    """A table with an answer more telling than any of the other's is no shuffle of it."""
    assert not is_garbled(np.array(table), np.array(of))
