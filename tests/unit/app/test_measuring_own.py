"""The window a car is known to want, taken for the verdict where none is entered."""

from __future__ import annotations

import pytest

from knowngood.app.measuring import measure
from knowngood.app.measuring_own import own_window
from knowngood.car import Car, Window
from knowngood.library.load import load

LIBRARY = load()
CAR = Car(
    cylinders=4,
    windows={
        "compression": Window(1034.2136, 1310.0039, "as told"),  # 150 to 190 psi
        "fuel_pressure": Window(300.0, None, "its plate"),
        "drop_clamps": Window(None, 0.1, ""),
        "long_trim": Window(-5.0, 5.0, "as told"),
        "plug_gap": Window(None, None, "as told"),
    },
)


@pytest.mark.parametrize(
    ("name", "named", "units", "low", "high", "unit", "source"),
    [
        ("compression", {}, {}, 150.0, 190.0, "psi", "the car's own figures, as told"),
        ("compression", {}, {"compression": "bar"}, 10.34, 13.1, "bar", "the car's own figures, as told"),
        ("rail", {}, {"fuel_pressure": "kPa"}, 300.0, None, "kPa", "the car's own figures, its plate"),
        ("drop", {"place": ["post to clamp"]}, {}, None, 0.1, "V", "the car's own figures"),
    ],
)
def test_window_is_shown_in_a_unit_of_instruments(
    name: str,
    named: dict[str, list[str]],
    units: dict[str, str],
    low: float | None,
    high: float | None,
    unit: str,
    source: str,
) -> None:
    """The wanted one, else the one mechanics write first; a drop has the window of its place."""
    own = own_window(LIBRARY, CAR, name, named, units)
    assert own is not None
    assert (own.window.amount.low, own.window.amount.high, own.window.unit, own.source) == (low, high, unit, source)


@pytest.mark.parametrize("name", ["trim", "gap", "battery", "drop", "joint", "tyre"])
def test_no_window_where_none_fits(name: str) -> None:
    """Not the total of trims by the window of one, not an endless one, not one of another reading."""
    assert own_window(LIBRARY, CAR, name, {}, {}) is None


def test_window_that_is_entered_comes_first() -> None:
    """The car's own is for when nothing was typed."""
    own = own_window(LIBRARY, CAR, "compression", {}, {})
    alone = measure("compression", ["172", "170"], {}, own=own)
    assert [one.source for one in alone.verdicts][-1] == "the car's own figures, as told"
    typed = measure("compression", ["172", "170"], {"window": ["100-200psi"]}, own=own)
    assert [one.source for one in typed.verdicts][-1] == "the window entered"
