"""What is said of a row of numbers while it is typed."""

from __future__ import annotations

from knowngood.app.row_entry import spread_of
from knowngood.library.load import load

LIBRARY = load()


def row(unit: str, *typed: str) -> str:
    """The words beside a row of lead resistances, cylinder by cylinder."""
    cells = [(f"number|lead_resistance|cylinder {at}", one) for at, one in enumerate(typed, 1)]
    return spread_of(LIBRARY, [("unit|lead_resistance", unit), *cells])


def test_row_is_held_against_the_others() -> None:
    """The one furthest from the middle of the others, in percent: 9.6 is twice 4.8."""
    assert row("kohm", "4.8", "9.6", "4.8") == (
        "From 4.8 kΩ to 9.6 kΩ. Cylinder 2 is 100% over the middle of the others (4.8 kΩ)."
    )


def test_wrong_unit_is_questioned_beside_the_field() -> None:
    """Before it is saved, with the likely slip, and with nothing else: a percentage of a slip says nothing."""
    assert row("kohm", "5100", "4.8", "4.6") == (
        "Cylinder 1: 5100 kΩ is outside the usual 0 to 100 kΩ; Ω meant? Save it if it is really so."
    )


def compression(unit: str, *typed: str) -> str:
    """The words beside a row of compressions, cylinder by cylinder."""
    cells = [(f"number|compression|cylinder {at}", one) for at, one in enumerate(typed, 1)]
    return spread_of(LIBRARY, [("unit|compression", unit), *cells])


def test_a_row_of_another_unit_is_questioned_as_a_whole() -> None:
    """11.8 bar typed where psi stood beside the fields is a sound row, and would be a dead engine."""
    assert compression("psi", "11.8", "11.6", "10.9") == (
        "These are far from sound in psi, as on a sound car in bar; bar meant? Save it if it is really so."
    )
    assert compression("bar", "11.8", "11.6", "10.9").startswith("From 10.9 bar to 11.8 bar.")


def test_a_dead_cylinder_amid_sound_ones_is_no_slip() -> None:
    """12 psi beside 172 and 170 is what a hole in a piston reads."""
    assert compression("psi", "172", "12", "170").startswith("From 12 psi to 172 psi. Cylinder 2 is ")


def test_a_number_that_is_still_being_typed_is_not_questioned() -> None:
    """12 of 120."""
    assert compression("psi", "12") == ""
