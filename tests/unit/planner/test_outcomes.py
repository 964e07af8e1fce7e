"""Outcomes of checks: every pattern has its chance, and what is put together stays a real event."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from knowngood.belief.protocol import Ask
from knowngood.car import Place
from knowngood.planner.outcomes import MOST_OUTCOMES, Shown, likelihoods, shown_by
from tests.naive.toy_belief import Toy, independent
from tests.unit.planner.small import check, shows

CYLINDERS = tuple(Place("cylinder", str(number)) for number in range(1, 7))
NAMES = tuple(f"f{number}" for number in range(1, 7))


@pytest.fixture(scope="module")
def row() -> Toy:
    """Six faults with a noisy reading each; and one kind of reading for all of them, a lamp at each cylinder."""
    chances = dict(zip(NAMES, (0.3, 0.1, 0.2, 0.05, 0.15, 0.25), strict=True))
    return independent(chances, {name: shows(name, 0.9, 0.05) for name in NAMES})


def shown(belief: Toy, count: int, most: int = MOST_OUTCOMES, seed: int = 1) -> tuple[Shown, np.ndarray]:
    """A row of readings put together by drawn costs."""
    whole = check("row", 1.0, *NAMES[:count])
    costs = np.random.default_rng(seed).uniform(1.0, 100.0, (len(belief.weight), 4)) * belief.weight[:, None]
    like = likelihoods(belief, whole.asks, belief.sets)
    return shown_by(belief, whole, like, costs, most=most), costs


@pytest.mark.parametrize("count", [1, 2, 3, 4, 6])
@pytest.mark.parametrize("seed", [1, 2])
def test_patterns_of_a_row_sum_to_one(row: Toy, count: int, seed: int) -> None:
    """In every set of faults, whatever was put together, with no chance below nothing."""
    result, _ = shown(row, count, seed=seed)
    assert result.like.sum(axis=0) == pytest.approx(np.ones(len(row.weight)))
    assert (result.like >= 0.0).all()
    assert len(result.names) == len(result.like) == min(2**count, MOST_OUTCOMES)


def test_few_patterns_are_the_plain_products(row: Toy) -> None:
    """Two readings: four patterns, each the product of its two chances."""
    result, _ = shown(row, 2)
    one, two = (row.likelihood(each, row.sets) for each in check("row", 1.0, *NAMES[:2]).asks)
    expected = [one[i] * two[j] for i in range(2) for j in range(2)]
    assert result.like == pytest.approx(np.array(expected))
    assert result.names == ("f1 yes, f2 yes", "f1 yes, f2 no", "f1 no, f2 yes", "f1 no, f2 no")


def test_putting_together_never_makes_a_check_worth_more(row: Toy) -> None:
    """The money left with fewer groups is no less than with all; and no more than with none told apart."""
    plain, costs = shown(row, 6, most=64)
    least = float((plain.like @ costs).min(axis=1).sum())
    nothing_told = float(costs.sum(axis=0).min())
    for most in (32, 12, 6, 3):
        fewer, _ = shown(row, 6, most=most)
        left = float((fewer.like @ costs).min(axis=1).sum())
        assert least - 1e-9 <= left <= nothing_told + 1e-9
    assert len(plain.names) == 64


def test_groups_are_named_for_their_likeliest_and_say_so(row: Toy) -> None:
    """What stands for several patterns ends in "or the like"; the names differ."""
    result, _ = shown(row, 6)
    assert len(set(result.names)) == len(result.names)
    assert any(name.endswith(", or the like") for name in result.names)
    assert not any(name.endswith("or the like") for name in shown(row, 3)[0].names)


def test_row_of_cylinders_names_what_differs() -> None:
    """Said place by place; all alike in one word."""

    def lamps(there: frozenset[str]) -> tuple[float, float]:
        return (1.0, 0.0) if there else (0.0, 1.0)

    belief = independent({"f": 0.5}, {"lamp": (("dark", "lit"), lamps)}, bad=False)
    three = replace(check("row", 1.0), asks=tuple(Ask("lamp", place) for place in CYLINDERS[:3]))
    like = likelihoods(belief, three.asks, belief.sets)
    result = shown_by(belief, three, like, belief.weight[:, None])
    assert "all dark" in result.names and "all lit" in result.names
    assert any(name.startswith("cylinder 2 dark, the others lit") for name in result.names)


def test_shared_work_is_used_where_a_belief_offers_it(row: Toy) -> None:
    """One pass for all readings, with the same numbers."""

    class Together(Toy):
        passes = 0

        def likelihoods(self, asks, present):
            Together.passes += 1
            return [self.likelihood(each, present) for each in asks]

    asks = check("row", 1.0, *NAMES).asks
    together = Together(row.faults, row.sets, row.weight, row.readings)
    plain = likelihoods(row, asks, row.sets)
    shared = likelihoods(together, asks, row.sets)
    assert Together.passes == 1
    assert list(shared) == list(asks)
    assert all((shared[each] == plain[each]).all() for each in asks)


def test_every_outcome_has_one_row_of_chances(row: Toy) -> None:
    """As many names as rows, whatever was put together."""
    for count, most in ((1, 12), (3, 12), (3, 2), (6, 5)):
        result, _ = shown(row, count, most)
        assert len(result.names) == len(result.like) == min(2**count, most)


def test_what_was_put_together_says_so_once(row: Toy) -> None:
    """Of eight patterns seven groups are left: one of them stands for two."""
    result, _ = shown(row, 3, most=7)
    assert [name.endswith(", or the like") for name in result.names].count(True) == 1


def test_of_several_kinds_only_what_is_not_usual_is_named(row: Toy) -> None:
    """All usual in one phrase; also of a check of which a reading was taken already, and is left out."""
    whole = replace(check("row", 1.0, *NAMES[:3]), usual=dict.fromkeys(NAMES[:3], "no"))
    like = likelihoods(row, whole.asks, row.sets)
    left = replace(whole, asks=whole.asks[1:])
    named = set(shown_by(row, left, like, row.weight[:, None]).names)
    assert named == {"all as it should be", "f2 yes", "f3 yes", "f2 yes, f3 yes"}
