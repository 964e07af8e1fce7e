"""Every kind of repair lies in an area of work, and every area says what goes wrong more often after it."""

from __future__ import annotations

from knowngood.library.load import load

NOTHING_IS_DONE_TO = {"engine_bay", "second_drive", "car_papers"}
"""Parts that stand for a place, for what is left to licensed hands, and for paper."""


def test_every_part_a_repair_works_on_lies_in_an_area() -> None:
    """A repair of any fault is known to have touched an area of work, so that what it disturbs can be looked at."""
    library = load()
    worked_on = {cure.part or fault.part for fault in library.faults.values() for cure in fault.cures}
    outside = [part for part in sorted(worked_on) if not library.parts[part].area]
    assert [part for part in outside if part not in NOTHING_IS_DONE_TO] == []


def test_every_area_says_what_goes_wrong_after_it() -> None:
    """After work in any area at least two faults are likelier."""
    library = load()
    after: dict[str, set[str]] = {area: set() for area in library.areas}
    for fault in library.faults.values():
        for raised in fault.raised:
            if raised.by == "after work" and raised.times > 1.0:
                for area in raised.on:
                    after[area].add(fault.id)
    assert {area: faults for area, faults in after.items() if len(faults) < 2} == {}


def test_what_is_left_behind_is_named_by_a_look() -> None:
    """Brakes, wheels and a turbo leave their own mistakes behind, each with a look that names it."""
    library = load()
    for area, fault, look in (
        ("brakes", "brakes_air", "pedal_pumped_check"),
        ("brakes", "brake_hose_twisted", "brake_hoses_looked"),
        ("wheels", "wheel_fit_wrong", "wheel_fit_looked"),
        ("turbo", "turbo_feed_blocked", "turbo_feed_cranked"),
    ):
        assert any(area in raised.on for raised in library.faults[fault].raised)
        assert any(fault in library.readings[read].direct for read in library.checks[look].reads)
