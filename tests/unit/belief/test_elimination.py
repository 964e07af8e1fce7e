"""Sums and products over small tables, against sums done cell by cell."""

from __future__ import annotations

import math

import numpy as np
import pytest

from knowngood.belief import ordering
from knowngood.belief.elimination import Pass, Tree
from knowngood.belief.ordering import TooTangled, elimination_order

SCOPES = [(0,), (0, 1), (1, 2), (2, 3), (0, 3), (4,)]
SIZES = [2, 3, 2, 4, 2]


def tables(seed: int = 1) -> list[np.ndarray]:
    """A ring of four variables and one by itself."""
    rng = np.random.default_rng(seed)
    return [rng.random([SIZES[variable] for variable in scope]) for scope in SCOPES]


def whole(filled: list[np.ndarray]) -> np.ndarray:
    """The product of all tables as one."""
    letters = "abcde"
    terms = ",".join("".join(letters[variable] for variable in scope) for scope in SCOPES)
    return np.einsum(f"{terms}->abcde", *filled)


def run(filled: list[np.ndarray]) -> Pass:
    """The same, summed out."""
    tree = Tree(SCOPES, SIZES)
    return Pass(tree, [tree.arrange(index, table) for index, table in enumerate(filled)])


def test_a_coin_and_its_witness() -> None:
    """Chance 0.3, seen by a witness right nine times in ten: 0.27 / (0.27 + 0.07)."""
    tree = Tree([(0,), (0,)], [2])
    both = Pass(tree, [np.array([0.7, 0.3]), np.array([0.1, 0.9])])
    assert math.exp(both.log_chance) == pytest.approx(0.34)
    assert both.marginal(0) == pytest.approx([0.07 / 0.34, 0.27 / 0.34])


def test_total_and_marginals_of_a_ring() -> None:
    """A ring cannot be summed out without joining: total and every marginal as cell by cell."""
    filled = tables()
    joint, summed = whole(filled), run(filled)
    assert math.exp(summed.log_chance) == pytest.approx(joint.sum())
    for variable in range(5):
        marginal = summed.marginal(variable)
        axes = tuple(axis for axis in range(5) if axis != variable)
        assert marginal == pytest.approx(joint.sum(axis=axes) / joint.sum())


def test_draws_follow_the_joint() -> None:
    """Pairs of states come as often as the product says."""
    filled = tables(2)
    joint = whole(filled)
    drawn = run(filled).draw(40_000, np.random.default_rng(4))
    counts = np.zeros((SIZES[0], SIZES[2]))
    np.add.at(counts, (drawn[0], drawn[2]), 1.0)
    assert counts / 40_000 == pytest.approx(joint.sum(axis=(1, 3, 4)) / joint.sum(), abs=0.01)


def test_nothing_possible() -> None:
    """No state with any chance: minus infinity, and no marginal is made up."""
    tree = Tree([(0,), (0,)], [2])
    assert Pass(tree, [np.array([1.0, 0.0]), np.array([0.0, 1.0])]).log_chance == -math.inf


def test_tiny_chances_keep_their_digits() -> None:
    """A thousand readings of a millionth each: the logarithm is exact, the ratio of two states too."""
    tree = Tree([(0,)] * 1000, [2])
    summed = Pass(tree, [np.array([1e-6, 2e-6])] * 3 + [np.array([1e-6, 1e-6])] * 40 + [np.ones(2)] * 957)
    assert summed.log_chance == pytest.approx(43 * math.log(1e-6) + math.log(9.0))
    assert summed.marginal(0) == pytest.approx([1 / 9, 8 / 9], rel=1e-12)


def test_order_takes_the_ends_first() -> None:
    """A star is summed from its points inward: no table larger than one pair."""
    scopes = [(0, point) for point in range(1, 6)]
    order = elimination_order(scopes, [30] * 6)
    assert order.index(0) >= 4
    tree = Tree(scopes, [30] * 6)
    assert max(len(bucket.scope) for bucket in tree.buckets) == 2


def test_too_tangled_says_how_many_cells(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the tables would not fit, that is an error with the number."""
    monkeypatch.setattr(ordering, "MOST_CELLS", 100)
    scopes = [(a, b) for a in range(6) for b in range(a)]
    with pytest.raises(TooTangled, match="a table of ") as caught:
        Tree(scopes, [3] * 6)
    assert caught.value.cells > 100


def test_what_another_filling_worked_out_is_taken_from_it() -> None:
    """Only what hangs on the changed table is summed again; the total is that of a filling summed from nothing."""
    filled = tables()
    tree = Tree(SCOPES, SIZES)
    laid = [tree.arrange(index, table) for index, table in enumerate(filled)]
    first = Pass(tree, laid)
    changed = [*laid[:5], 2.0 * laid[5]]
    again, anew = Pass(tree, changed, first), Pass(tree, changed)
    assert again.log_chance == pytest.approx(anew.log_chance, abs=1e-12)
    same = [now is before for now, before in zip(again.bucket_tables, first.bucket_tables, strict=True)]
    assert sum(same) == len(same) - 1
    assert not any(now is before for now, before in zip(anew.bucket_tables, first.bucket_tables, strict=True))


def test_impossible_filling_lends_nothing() -> None:
    """One that no state fits stopped half way: what is like it is summed from nothing."""
    filled = tables()
    tree = Tree(SCOPES, SIZES)
    laid = [tree.arrange(index, table) for index, table in enumerate(filled)]
    impossible = Pass(tree, [*laid[:3], 0.0 * laid[3], *laid[4:]])
    assert impossible.log_chance == float("-inf")
    assert Pass(tree, laid, impossible).log_chance == pytest.approx(Pass(tree, laid).log_chance)
