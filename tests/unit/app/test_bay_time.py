"""Moments are kept in UTC and said in the bay's own time."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

import pytest

from knowngood.app.bay_time import bay_day, bay_time, today_of
from knowngood.app.journal_view import journal_of
from knowngood.app.workshop import Workshop, moment
from knowngood.library.load import load

EAST, WEST = "BAY-2", "BAY+5"  # POSIX TZ: hours to add for UTC (The Open Group Base Specifications, chapter 8.3)


@pytest.fixture
def zone(monkeypatch: pytest.MonkeyPatch) -> Iterator[Callable[[str], None]]:
    """Puts the machine into a zone, for the time of the test."""

    def put(name: str) -> None:
        monkeypatch.setenv("TZ", name)
        time.tzset()

    yield put
    monkeypatch.undo()
    time.tzset()


@pytest.mark.parametrize(
    ("name", "shown", "day"), [(EAST, "2026-05-02 00:30", "2026-05-02"), (WEST, "2026-05-01 17:30", "2026-05-01")]
)
def test_moment_is_said_in_the_zone_of_the_machine(
    zone: Callable[[str], None], name: str, shown: str, day: str
) -> None:
    """Two hours east of Greenwich it is past midnight already, five hours west it is afternoon."""
    zone(name)
    assert bay_time("2026-05-01T22:30:00.000000Z") == shown
    assert bay_day("2026-05-01T22:30:00.000000Z") == day
    assert today_of("2026-05-01T22:30:00.000000Z") == date.fromisoformat(day)


@pytest.mark.parametrize("name", [EAST, WEST])
def test_what_was_said_of_a_day_stays_on_it(zone: Callable[[str], None], name: str) -> None:
    """It has no time of day, and no zone moves it to another."""
    zone(name)
    assert bay_time(moment("2026-05-01")) == "2026-05-01"


@pytest.mark.parametrize(("name", "kept"), [(EAST, "T07:30"), (WEST, "T14:30")])
def test_time_that_is_typed_is_the_bay_s(zone: Callable[[str], None], name: str, kept: str) -> None:
    """Kept in UTC, shown again as typed; an offset that is typed is counted in."""
    zone(name)
    assert moment("2026-05-01T09:30") == f"2026-05-01{kept}:00.000000Z"
    assert bay_time(moment("2026-05-01T09:30")) == "2026-05-01 09:30"
    assert moment("2026-05-01T09:30+02:00") == "2026-05-01T07:30:00.000000Z"


def test_journal_shows_it_and_keeps_what_it_kept(zone: Callable[[str], None], tmp_path: Path) -> None:
    """An entry of half past ten at night in UTC is one of half past midnight in the bay; "yesterday" is the bay's."""
    zone(EAST)
    with Workshop(tmp_path, load(), now=lambda: "2026-05-01T22:30:00.000000Z") as shop:
        job = shop.new("grey").code
        shop.say(job, "P0302 stored")
        shop.say(job, "yesterday: hesitates")
        entries = shop.entries(job)
        told = {line.text: line.at for line in journal_of(entries, shop.state(job).layout)}
    assert told["P0302 stored"] == "2026-05-02 00:30"
    assert told["yesterday: hesitates"] == "2026-05-01"
    assert next(entry.at for entry in entries if entry.line == "P0302 stored") == "2026-05-01T22:30:00.000000Z"


def test_lines_of_a_notes_file_without_dates_are_no_moments(zone: Callable[[str], None]) -> None:
    """They are counted from the first day of the first year, which no zone may move."""
    zone(WEST)
    assert bay_time("0001-01-01T00:00:02.000000Z") == "0001-01-01 00:00"
