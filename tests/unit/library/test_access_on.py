"""Access as one engine has it."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from knowngood.car import Car
from knowngood.library import load
from knowngood.library.access_on import access_on, layout_of
from knowngood.library.load import Draft

LAYOUTS = """
[[layout]]
id = "six"
name = "six"
needs = { cylinders = ["6"] }
source = "memory"
[layout.steps]
coil_out = { open_minutes = 5, open_range = [2, 9], after = [] }

[[layout]]
id = "six_across"
name = "six across"
needs = { cylinders = ["6"], systems = ["transverse"] }
source = "memory"
[layout.steps]
coil_out = { close_minutes = 8, close_range = [2, 9] }
"""


def test_what_a_layout_leaves_out_stays(lay_over: Callable[..., Draft]) -> None:
    """A layout changes the minutes and the order it writes, and nothing else."""
    library = lay_over(LAYOUTS).library()
    step = access_on(library, Car(cylinders=6))["coil_out"]
    assert (step.open_minutes, step.close_minutes, step.after) == (5, 3, ())
    assert access_on(library, Car(cylinders=6))["cover_off"] == library.access["cover_off"]


def test_the_layout_that_needs_most_counts(lay_over: Callable[..., Draft]) -> None:
    """Of two layouts that fit, the one that says more of the car wins; a car not told of keeps the ordinary minutes."""
    library = lay_over(LAYOUTS).library()
    step = access_on(library, Car(cylinders=6, systems=("transverse",)))["coil_out"]
    assert (step.open_minutes, step.close_minutes, step.after) == (3, 8, ("cover_off",))
    assert access_on(library, Car()) == library.access


def test_of_two_that_say_as_much_the_later_counts(lay_over: Callable[..., Draft]) -> None:
    """A shop's own layout, read after ours, wins over ours that needs the same."""
    own = LAYOUTS.replace('needs = { cylinders = ["6"], systems = ["transverse"] }', 'needs = { cylinders = ["6"] }')
    found = layout_of(lay_over(own).library(), Car(cylinders=6))
    assert found is not None and found.id == "six_across"


@pytest.mark.parametrize(
    ("car", "layout"),
    [
        (Car(form="V", cylinders=6, systems=("transverse",)), "v6_across"),
        (Car(form="V", cylinders=8), "v8_along"),
        (Car(form="inline", cylinders=6), "inline_six"),
        (Car(form="flat", cylinders=4), "flat_four"),
        (Car(form="inline", cylinders=4, systems=("longitudinal",)), "inline_four_along"),
    ],
)
def test_layouts_of_ours(car: Car, layout: str) -> None:
    """Each engine form the files speak of finds its own file; plugs take longer behind a plenum than in the open."""
    library = load()
    found = layout_of(library, car)
    assert found is not None
    assert found.id == layout
    assert layout_of(library, Car(form="inline", cylinders=4)) is None


def test_rear_bank_under_a_plenum() -> None:
    """On a V6 set across the car the plenum comes off before the plugs, on an inline four not (common practice)."""
    library = load()

    def before_plugs(car: Car) -> set[str]:
        steps, waiting = access_on(library, car), ["plugs_out"]
        found: set[str] = set()
        while waiting:
            new = [name for name in steps[waiting.pop()].after if name not in found]
            found.update(new)
            waiting += new
        return found

    assert "plenum_off" in before_plugs(Car(form="V", cylinders=6, systems=("transverse",)))
    assert "plenum_off" not in before_plugs(Car(form="inline", cylinders=4))
