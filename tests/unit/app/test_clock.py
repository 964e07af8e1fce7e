"""Minutes by the clock or typed; distance by the odometer."""

from __future__ import annotations

from pathlib import Path

import pytest

from knowngood.app.bench import work_of
from knowngood.app.clock import clock_words
from knowngood.app.next_visit import next_visit
from knowngood.app.service import base_service
from knowngood.app.sheets import sheet_of
from knowngood.app.state import State
from knowngood.app.workshop import Workshop
from knowngood.library.load import load
from knowngood.sheets.as_text import as_text

CAR = "petrol, 4 cylinders inline, coil on plug, 150000 km"


def told(folder: Path, *lines: tuple[str, str]) -> State:
    """A car told line by line, each at its moment."""
    with Workshop(folder, load()) as shop:
        job = shop.new("four").code
        for at, line in (("2026-05-01T08:00", CAR), *lines):
            assert shop.say(job, line, at=f"{at}:00.000000Z").counts, line
        return shop.state(job)


def test_clock_holds_the_work_done_while_it_ran(tmp_path: Path) -> None:
    """Minutes typed with work inside a run of the clock are in it, those outside are added."""
    state = told(
        tmp_path,
        ("2026-05-01T09:00", "clock on"),
        ("2026-05-01T09:30", "replaced vacuum hose, 20 min"),
        ("2026-05-01T10:15", "clock off"),
        ("2026-05-01T11:00", "cleaned engine ground, 10 min"),
    )
    sheet = work_of(state)
    assert [clock_words(one) for one in sheet.sessions] == ["2026-05-01 09:00 to 10:15: 75 min"]
    assert sheet.minutes == pytest.approx(75.0 + 10.0)


def test_clock_left_running_counts_for_nothing(tmp_path: Path) -> None:
    """A night on the clock is no night of work; the minutes typed count instead."""
    state = told(
        tmp_path,
        ("2026-05-01T09:00", "clock on"),
        ("2026-05-01T09:30", "replaced vacuum hose, 20 min"),
        ("2026-05-02T09:00", "clock off"),
        ("2026-05-02T10:00", "clock on"),
    )
    sheet = work_of(state)
    assert [clock_words(one) for one in sheet.sessions] == [
        "2026-05-01 09:00: left running, not counted",
        "2026-05-02 10:00: running",
    ]
    assert sheet.minutes == pytest.approx(20.0)


def test_distance_counts_from_the_odometer_at_the_work(tmp_path: Path) -> None:
    """What was told last before the work, and how far the car has gone since."""
    lines = (
        ("2026-05-01T09:00", "base service done"),
        ("2026-05-03T09:00", "odo now 150080"),
    )
    soon = told(tmp_path / "soon", *lines)
    assert next_visit(soon)[0].startswith("now (at 150050 km, 30 km ago): wheel bolts tight again")
    assert "by 2027-05-01 (at 165000 km): oil and filter" in next_visit(soon)
    assert not any(due.name == "oil and filter" for due in base_service(soon).due)
    later = told(tmp_path / "later", *lines, ("2026-11-01T09:00", "166 200 km"))
    (oil,) = [due for due in base_service(later).due if due.name == "oil and filter"]
    assert oil.why == "done 16200 km ago"
    with Workshop(tmp_path / "later", load()) as shop:
        text = as_text(sheet_of("record", later, shop.answer(shop.jobs()[0].code), "2026-11-01"))
    assert "150000 km when it came, 166200 km now" in " ".join(text.split())


def test_tightening_values_are_those_that_were_told(tmp_path: Path) -> None:
    """On the sheet before closing, with their origin; without one it says that none stands there."""
    with Workshop(tmp_path, load()) as shop:
        job = shop.new("four").code
        for line in (CAR, "replaced plugs"):
            shop.say(job, line)
        without = as_text(sheet_of("closing", shop.state(job), shop.answer(job), "2026-05-01"))
        assert "N·m" not in without
        assert "none stands here" in " ".join(without.split())
        shop.say(job, "plugs 25 Nm")
        told = as_text(sheet_of("closing", shop.state(job), shop.answer(job), "2026-05-01"))
    assert "[ ] plugs: 25 N·m (as told)" in told
