"""Misfires before and after."""

from collections.abc import Callable

import pytest

from knowngood.errors import NotMeasurable
from knowngood.measure.misfire_change import blocks_needed, clean_revolutions_needed, misfire_change


def test_a_burst_counts_once() -> None:
    """A hundred misfires in one block weigh as much as one."""
    assert misfire_change([100, 0, 0], [0, 0, 0]).test == misfire_change([1, 0, 0], [0, 0, 0]).test


def test_words() -> None:
    """Fewer, more, and nothing shown."""
    bad, good = [4] * 10, [0] * 10
    assert misfire_change(bad, good).verdict == "fewer"
    assert misfire_change(good, bad).verdict == "more"
    assert misfire_change([1, 0], [0, 0]).verdict == "no change shown"
    assert misfire_change(good, bad).says == "Misfires in 10 of 10 blocks after, in 0 of 10 before."


def test_clean_blocks() -> None:
    """At a fifth of bad blocks, 14 clean ones come by luck in under 5 of 100 cases, 13 in over."""
    blocks = blocks_needed(0.2)
    assert 0.8**blocks <= 0.05 < 0.8 ** (blocks - 1)


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (lambda: misfire_change([], [0]), "No block before the repair. Watch at least one block of 200 revolutions."),
        (lambda: misfire_change([-1], [0]), "Misfires in block 1 before is -1. Give a whole number, 0 or more."),
        (
            lambda: clean_revolutions_needed(0, 500),
            "No misfire before in 500 revolutions. There is no old rate: find how to provoke it first.",
        ),
        (lambda: blocks_needed(0.0), "Share of bad blocks is 0. Give a share above 0 and below 1."),
        (lambda: blocks_needed(1.0), "Share of bad blocks is 1. Give a share above 0 and below 1."),
    ],
)
def test_refusals(ask: Callable[[], object], words: str) -> None:
    """Word for word."""
    with pytest.raises(NotMeasurable) as refused:
        ask()
    assert str(refused.value) == words
