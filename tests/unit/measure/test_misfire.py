"""Misfire counts."""

from collections.abc import Callable

import pytest

from knowngood.errors import NotMeasurable
from knowngood.measure.misfire import clustering, cylinder_shares, misfire_rate


def test_no_misfire_has_an_upper_end() -> None:
    """None in 1000 revolutions of four cylinders is under 0.19 %, not zero."""
    rate = misfire_rate(0, 1000, 4)
    assert rate.percent.value == rate.percent.low == 0.0
    assert 0.18 < rate.percent.high < 0.19
    assert rate.per_1000_rev == 0.0


def test_counter_of_one_cylinder() -> None:
    """A dead cylinder fails at every firing of its own."""
    assert misfire_rate(100, 200, 1).percent.value == 100.0


def test_even_counts_are_no_clusters() -> None:
    """Equal blocks: the index is zero and luck explains it."""
    index, luck = clustering([3, 3, 3, 3, 3])
    assert index == 0.0
    assert luck == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (
            lambda: misfire_rate(500, 200, 4),
            "500 misfires are more than the 400 firings in 200 revolutions. "
            "Check the revolutions watched, or whether the counter ran over several drives.",
        ),
        (lambda: misfire_rate(1, 0, 4), "Revolutions is 0. Give a number above 0."),
        (lambda: cylinder_shares({3: 12}), "Counts of 1 cylinder given. Shares need the counts of all cylinders."),
        (
            lambda: cylinder_shares({1: 0, 2: 0}),
            "No misfire in any cylinder. Use the limit for none seen in the revolutions watched.",
        ),
        (lambda: clustering([1, 2]), "2 blocks given. Clustering needs 5 or more."),
        (lambda: clustering([0] * 6), "No misfire in any block. Use the limit for none seen."),
    ],
)
def test_refusals(ask: Callable[[], object], words: str) -> None:
    """Word for word."""
    with pytest.raises(NotMeasurable) as refused:
        ask()
    assert str(refused.value) == words
