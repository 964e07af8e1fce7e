"""Faults of every branch, written out for each."""

from __future__ import annotations

from knowngood.car import Car
from knowngood.library import load
from knowngood.library.own_branches import library_of


def test_fault_of_another_part_takes_no_branch_its_own() -> None:
    """A wet fuse box makes two fuses poor; each of them can have a poor contact of its own beside it."""
    faults = load().faults
    assert {"contact_poor_pump_fuse", "contact_poor_ecu_fuse", "contact_poor_heater_fuse"} <= set(faults)


def test_own_branch_renames_what_was_written_for_the_usual_one() -> None:
    """ "Fuse 9 feeds the oxygen heaters": its poor contact is known by that number."""
    library = library_of(load(), Car(branches={"fuse 9": ("oxygen_heaters",)}))
    assert "fuse 9" in library.faults["contact_poor_heater_fuse"].name
    assert any("fuse 9" in words for words in library.faults["contact_poor_heater_fuse"].words)
