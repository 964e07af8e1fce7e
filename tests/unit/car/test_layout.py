"""The plan of an engine: banks, sides, numbers, firing order, and what was assumed."""

from __future__ import annotations

import itertools

import pytest

from knowngood.car import ENGINE, ON_ENGINE, ONE_OR_TWO, PLACE_KINDS, WITH_LEVELS, Car, Layout, Place, layout_of
from knowngood.car.layout import USUAL_FIRING_ORDERS
from knowngood.errors import Refused

BY_NAME = "Name it by its number, or by where it sits, such as L2."


def changes_of_bank(layout: Layout) -> int:
    """How often the next firing lies in the other bank, once round."""
    order = layout.firing_order
    banks = [layout.bank_of(number) for number in order]
    return sum(a != b for a, b in itertools.pairwise([*banks, banks[0]]))


@pytest.mark.parametrize(("form", "numbering", "count"), USUAL_FIRING_ORDERS)
def test_usual_order_names_each_cylinder_once(form: str, numbering: str, count: int) -> None:
    """It is an order of this engine at all."""
    assert sorted(USUAL_FIRING_ORDERS[form, numbering, count]) == list(range(1, count + 1))


@pytest.mark.parametrize(
    ("form", "numbering", "count"), [key for key in USUAL_FIRING_ORDERS if key[0] != "inline" and key[2] in (6, 10, 12)]
)
def test_usual_order_goes_from_bank_to_bank(form: str, numbering: str, count: int) -> None:
    """An engine of two banks that fires evenly, and is no four or eight, never fires one bank twice running."""
    layout = layout_of(Car(form=form, numbering=numbering, cylinders=count))
    assert layout.firing_order
    assert changes_of_bank(layout) == count


@pytest.mark.parametrize("count", range(1, 13))
@pytest.mark.parametrize("form", ["", "inline", "V", "flat"])
def test_assumed_order_fits_the_assumed_banks(form: str, count: int) -> None:
    """What is assumed of one engine belongs together: half of the firings at least change the bank."""
    layout = layout_of(Car(form=form, cylinders=count))
    if len(layout.banks) == 2 and layout.firing_order:
        assert changes_of_bank(layout) >= count / 2


@pytest.mark.parametrize(
    ("form", "order", "banks"),
    [
        ("V", (1, 2, 3, 4, 5, 6), ((1, 3, 5), (2, 4, 6))),
        ("V", (1, 4, 3, 6, 2, 5), ((1, 2, 3), (4, 5, 6))),
        ("V", (1, 8, 4, 3, 6, 5, 7, 2), ((1, 3, 5, 7), (2, 4, 6, 8))),
        ("V", (1, 3, 7, 2, 6, 5, 4, 8), ((1, 2, 3, 4), (5, 6, 7, 8))),
        ("flat", (1, 6, 2, 4, 3, 5), ((1, 2, 3), (4, 5, 6))),
        ("flat", (1, 3, 2, 4), ((1, 3), (2, 4))),
    ],
)
def test_order_that_was_told_tells_the_banks(
    form: str, order: tuple[int, ...], banks: tuple[tuple[int, ...], ...]
) -> None:
    """Orders in wide use, each with the banks it goes with (common practice, from memory)."""
    layout = layout_of(Car(form=form, cylinders=len(order), firing_order=order))
    assert layout.banks == banks


def test_numbering_that_was_told_stands() -> None:
    """The car's own data win over what its order would suggest."""
    layout = layout_of(Car(form="V", cylinders=6, firing_order=(1, 2, 3, 4, 5, 6), numbering="by bank"))
    assert layout.banks == ((1, 2, 3), (4, 5, 6))
    assert layout.assumed == ("cylinder 1 in the left bank",)


@pytest.mark.parametrize(
    ("form", "numbering", "count", "pairs"),
    [
        ("inline", "", 4, ((1, 4), (2, 3))),
        ("inline", "", 6, ((1, 6), (2, 5), (3, 4))),
        ("V", "by bank", 6, ((1, 5), (2, 6), (3, 4))),
        ("V", "alternating", 6, ((1, 4), (2, 5), (3, 6))),
        ("V", "alternating", 8, ((1, 6), (2, 3), (4, 7), (5, 8))),
        ("inline", "", 5, ()),
    ],
)
def test_companions_share_a_coil(form: str, numbering: str, count: int, pairs: tuple[tuple[int, int], ...]) -> None:
    """One turn of the crank apart (common practice, from memory)."""
    assert layout_of(Car(form=form, numbering=numbering, cylinders=count)).companions() == pairs


@pytest.mark.parametrize("form", ["inline", "V", "flat"])
@pytest.mark.parametrize("count", range(1, 13))
def test_position_and_number_undo_each_other(form: str, count: int) -> None:
    """Every number has a place and is found there again."""
    layout = layout_of(Car(form=form, cylinders=count))
    for number in layout.numbers():
        assert layout.number(layout.position(number)) == number
        assert layout.number(Place("cylinder", str(number))) == number


def test_positions_are_counted_from_the_pulley_end() -> None:
    """Left and right as seen standing at the flywheel end."""
    layout = layout_of(Car(form="V", cylinders=6, numbering="by bank", first_bank="right"))
    assert [layout.position(number).name for number in layout.numbers()] == ["R1", "R2", "R3", "L1", "L2", "L3"]
    assert layout.pairs() == ((1, 2), (2, 3), (4, 5), (5, 6))


@pytest.mark.parametrize(
    ("car", "told"),
    [
        (Car(cylinders=13), "13 cylinders is outside 1 to 12. Type the count again."),
        (
            Car(cylinders=4, firing_order=(1, 2, 3)),
            "Firing order 1-2-3 does not name each of the 4 cylinders once. Type it again, or leave it out.",
        ),
    ],
)
def test_plan_that_is_none_is_refused(car: Car, told: str) -> None:
    """Word for word."""
    with pytest.raises(Refused) as refused:
        layout_of(car)
    assert str(refused.value) == told


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("5", "There is no cylinder 5: the engine has 4. Check the number or the count."),
        ("L1", "There is no cylinder at L1: the engine has 4 in 1 bank(s). Check the layout of the car."),
        ("", f"There is no cylinder '': the engine has 4. {BY_NAME}"),
        ("2-3", f"There is no cylinder '2-3': the engine has 4. {BY_NAME}"),
        ("9" * 5000, f"There is no cylinder '99999999...': the engine has 4. {BY_NAME}"),
    ],
)
def test_cylinder_that_is_not_there_is_refused(name: str, told: str) -> None:
    """By number and by position, and where a name is neither: an import may hold any."""
    with pytest.raises(Refused) as refused:
        layout_of(Car(form="inline", cylinders=4)).number(Place("cylinder", name))
    assert str(refused.value) == told


def test_cylinders_at_a_place_are_those_it_names() -> None:
    """A V6 numbered bank by bank: bank 2 holds 4, 5 and 6; the engine as a whole and a wheel name none."""
    layout = layout_of(Car(form="V", cylinders=6, numbering="by bank"))
    at = {
        Place("cylinder", "5"): {5},
        Place("pair", "2-3"): {2, 3},
        Place("companions", "1-6"): {1, 6},
        Place("leads", "4-5"): {4, 5},
        Place("bank", "2"): {4, 5, 6},
        ENGINE: set(),
        Place("wheel", "left front"): set(),
    }
    assert {place: set(layout.cylinders_at(place)) for place in at} == at


def test_kinds_of_place_hold_each_other() -> None:
    """What a plan tells of is a kind of place, and so is what has levels; of each of them an eight has some."""
    layout = layout_of(Car(form="V", cylinders=8))
    assert set(WITH_LEVELS) | set(ONE_OR_TWO) == set(ON_ENGINE) < set(PLACE_KINDS)
    assert all(place.kind == kind for kind in ON_ENGINE for place in layout.places(kind))
    assert all(layout.places(kind) for kind in ON_ENGINE)
