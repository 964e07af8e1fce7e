"""Faults of every branch, written out for each."""

from __future__ import annotations

from knowngood.car import Car
from knowngood.library import load
from knowngood.library.own_branches import library_of


def test_own_branch_renames_what_was_written_for_the_usual_one() -> None:
    """ "Fuse 9 feeds the oxygen heaters": its poor contact is known by that number."""
    library = library_of(load(), Car(branches={"fuse 9": ("oxygen_heaters",)}))
    assert "fuse 9" in library.faults["contact_poor_heater_fuse"].name
    assert any("fuse 9" in words for words in library.faults["contact_poor_heater_fuse"].words)
