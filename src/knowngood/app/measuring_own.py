"""The window a car is known to want for what a topic measures: told before, not asked again."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from knowngood.app.measuring import topic_named
from knowngood.app.measuring_shown import plain
from knowngood.app.measuring_topic import OwnWindow
from knowngood.app.measuring_written import DROPS, KEPT
from knowngood.app.step_form import first_unit
from knowngood.car import Car, Window
from knowngood.library.records import Library
from knowngood.units import kind_named, read_quantity

OTHERWISE = ("trim", "airflow")
"""What these come to is another thing than what the car's own figures are told of: the total; any speed."""


def own_window(
    library: Library, car: Car, name: str, named: Mapping[str, Sequence[str]], units: Mapping[str, str]
) -> OwnWindow | None:
    """What a car is known to want of a topic; None where nothing was told, or not of this.

    Parameters
    ----------
    library : Library
    car : Car
    name : str
        Topic.
    named : mapping of str to sequence of str
        What was entered: a drop has the window of its place.
    units : mapping of str to str
        Units wanted by kind of measurement; the window is shown in one.
    """
    quantity = topic_named(name).window
    place = " ".join(named.get("place", ()))
    written = (DROPS[place],) if name == "drop" and place in DROPS else () if name in OTHERWISE else KEPT.get(name, ())
    for one in written:
        kind = library.readings.get(one.kind)
        if kind is not None and kind.quantity == quantity and one.kind in car.windows:
            return _shown(car.windows[one.kind], quantity, units.get(quantity) or first_unit(quantity))
    return None


def _shown(window: Window, quantity: str, unit: str) -> OwnWindow | None:
    """A window of a car in a unit that is read on instruments."""
    own = kind_named(quantity).unit(unit)
    low, high = (None if end is None else plain(own.from_base(end)) for end in (window.low, window.high))
    if low is None and high is None:
        return None
    ends = f"over {low}" if high is None else f"under {high}" if low is None else f"{low} to {high}"
    source = f"the car's own figures, {window.source}" if window.source else "the car's own figures"
    return OwnWindow(read_quantity(f"{ends} {unit}", quantity), source)
