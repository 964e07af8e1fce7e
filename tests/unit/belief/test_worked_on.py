"""What work on a part reaches, by the reach of the part (common practice)."""

from __future__ import annotations

import pytest

from knowngood.app.weigh import weigh_notes
from knowngood.belief.worked_on import reaches
from knowngood.car import ENGINE, Car, Place, layout_of
from knowngood.library.load import load

SIX = layout_of(Car(cylinders=6, form="v"))
FOUR = layout_of(Car(cylinders=4, firing_order=(1, 3, 4, 2)))
C1, C2, C3 = (Place("cylinder", name) for name in "123")


@pytest.mark.parametrize(
    ("part", "places", "wanted", "expected"),
    [
        ("head_gasket", (ENGINE,), Place("pair", "2-3"), True),
        ("distributor_cap", (ENGINE,), C3, True),
        ("coil", (ENGINE,), C3, False),  # a coil, but not said which
        ("coil", (C1,), C2, False),
        ("lead", (C1, C3), Place("leads", "1-3"), True),
        ("lead", (C1,), Place("leads", "1-3"), False),
        ("pair_coil", (Place("companions", "1-4"),), C1, True),
        ("pair_coil", (Place("companions", "1-4"),), C2, False),
        ("coil_connector", (C1,), Place("companions", "1-4"), True),
        ("plug", (C1, C2), ENGINE, False),
    ],
)
def test_work_reaches_what_its_part_serves(part: str, places: tuple[Place, ...], wanted: Place, expected: bool) -> None:
    """The gasket of the engine all its pairs, the coil of two both, two leads what lies between them."""
    assert reaches(load(), FOUR, part, places, wanted) is expected


def test_a_bank_holds_its_own_cylinders() -> None:
    """Of a V, in the usual numbers: the first is in bank 1 alone."""
    banks = [Place("bank", str(number)) for number in (1, 2)]
    assert [reaches(load(), SIX, "coil_feed_wire", (bank,), C1) for bank in banks] == [1 in bank for bank in SIX.banks]


@pytest.mark.parametrize(
    "work", ["replaced head gasket", "replaced leads 2 and 4, cured", "leads 2 and 4 put right, cured"]
)
def test_what_was_put_right_is_not_suspected(work: str) -> None:
    """A gasket between two cylinders goes with the gasket; leads that were crossed with new ones for both."""
    gasket = "petrol, 4 cylinders inline, coil on plug, port injection\ncomp 175 90 92 178 psi\n"
    leads = "petrol, 4 cylinders inline, distributor, port injection\nleads 2 and 4 crossed\nshakes\n"
    notes, kind = (gasket, "gasket_between") if "gasket" in work else (leads, "leads_crossed")
    before, after = (weigh_notes(text, load()) for text in (notes, f"{notes}{work}\n"))

    def chance(suspects: list[object]) -> float:
        return next((float(one.chance) for one in suspects if one.fault == kind), 0.0)  # type: ignore[attr-defined]

    assert chance(list(before.suspects)) > 0.3
    assert chance(list(after.suspects)) < 0.1
