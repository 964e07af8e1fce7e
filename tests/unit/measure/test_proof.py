"""Clean drives."""

from collections.abc import Callable

import pytest

from knowngood.errors import NotMeasurable
from knowngood.measure.proof import (
    chance_left,
    clean_drives_from_history,
    clean_drives_needed,
    clean_run_needed,
)


def test_the_fewest_drives_are_found() -> None:
    """One fewer would not do, whatever the plan is made from."""
    for plan in (clean_drives_needed(0.3, 0.2, 0.02), clean_drives_from_history(0.3, 2, 10, 0.02)):
        assert plan.chance_left <= 0.02 < plan.chance_one_short


def test_no_drive_is_needed_when_the_chance_is_low_enough() -> None:
    """A fault at one in a hundred is under two in a hundred already."""
    assert clean_drives_needed(0.01, 0.2, 0.02).drives == 0
    assert clean_run_needed(0.01, 3, 100.0, 0.02).distance_km == 0.0
    assert clean_run_needed(0.01, 3, 100.0, 0.02).chance_left == 0.01


def test_one_drive_is_a_history() -> None:
    """It showed on the only drive before: a few clean ones do."""
    assert clean_drives_from_history(0.3, 1, 1, 0.02).drives > clean_drives_needed(0.3, 0.99, 0.02).drives


def test_thin_history_asks_for_more_than_a_sure_share() -> None:
    """Two in ten is less sure than one in five for ever; a long history comes near to it."""
    sure = clean_drives_needed(0.3, 0.2, 0.02).drives
    assert clean_drives_from_history(0.3, 2, 10, 0.02).drives > sure
    assert clean_drives_from_history(0.3, 400, 2000, 0.02).drives in (sure, sure + 1)


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (
            lambda: clean_drives_needed(0.3, 1e-5, 0.02),
            "More than 10000 clean drives would be needed to come under 0.02. "
            "Find how to provoke the fault, or test the part itself.",
        ),
        (
            lambda: clean_drives_from_history(0.3, 0, 6, 0.02),
            "It never showed on 6 drives. Clean drives prove nothing yet: find how to provoke it first.",
        ),
        (
            lambda: clean_drives_from_history(0.3, 7, 6, 0.02),
            "It showed 7 times on 6 drives. Count drives on which it showed, once each.",
        ),
        (
            lambda: clean_run_needed(0.3, 0, 50.0, 0.02),
            "It never showed over 50 km. A clean run proves nothing yet: find how to provoke it first.",
        ),
        (
            lambda: chance_left(1.0, 0.2, 3),
            "Chance that the fault is left is 1. Give a chance above 0 and below 1.",
        ),
        (
            lambda: chance_left(0.3, 20, 3),
            "Chance that it shows on one drive is 20. Give a chance above 0 and below 1.",
        ),
    ],
)
def test_refusals(ask: Callable[[], object], words: str) -> None:
    """Word for word."""
    with pytest.raises(NotMeasurable) as refused:
        ask()
    assert str(refused.value) == words
