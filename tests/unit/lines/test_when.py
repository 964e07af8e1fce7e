"""The day a line begins with."""

from __future__ import annotations

from datetime import date

import pytest

from knowngood.lines.when import day_told

TODAY = date(2026, 5, 6)
"""A Wednesday."""


@pytest.mark.parametrize(
    ("line", "day"),
    [
        ("yesterday: replaced coil 3", "2026-05-05"),
        ("last night died at the lights", "2026-05-05"),
        ("last week new plugs all", "2026-04-29"),
        ("monday: comp 175 170", "2026-05-04"),
        ("on Saturday it would not start", "2026-05-02"),
        ("2026-03-01 P0302", "2026-03-01"),
        ("13/5/2025: P0302", "2025-05-13"),
        ("1.4.2026 shakes", "2026-04-01"),
        ("3 May comp 175", "2026-05-03"),
        ("3rd of June: comp 175", "2025-06-03"),
        ("two weeks ago: battery flat", "2026-04-22"),
        ("today runs well", "2026-05-06"),
    ],
)
def test_head_of_a_line_tells_its_day(line: str, day: str) -> None:
    """Counted from the day of typing; a date without a year is the last such day."""
    told = day_told(line, TODAY)
    assert told is not None
    assert told[0].isoformat() == day


@pytest.mark.parametrize(
    "line", ["scope lent, back friday", "31.2.2026 shakes", "comp 3 may be low", "2 weeks ago it ran"]
)
def test_other_words_tell_no_day(line: str) -> None:
    """A day further on, one there never was, and a count of weeks without a colon."""
    assert day_told(line, TODAY) is None


def test_day_without_a_year_needs_the_day_of_typing() -> None:
    """A notes file is read without a clock: only a full date is a day."""
    assert day_told("3 May comp 175", None) is None
    assert day_told("3 May 2026 comp 175", None) is not None
