"""What a piece of work reaches: a head gasket is one part, though it may leak between two cylinders."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.car import ENGINE, TWO, Layout, Place
from knowngood.library.records import Library

IN_REPAIRING = ("reseated",)  # who puts a connection right has also seated it


def reaches(library: Library, layout: Layout, part: str, places: Sequence[Place], wanted: Place) -> bool:
    """Whether work on a part at some places reaches a fault of it at another.

    It does at the same place; where the part serves more than the place of the fault, as the gasket of an engine, the
    coil of two companions; and where the fault lies between two cylinders and the work was on both.

    Parameters
    ----------
    library, layout
    part : str
        What was worked on.
    places : sequence of Place
        Where, in present numbers.
    wanted : Place
        Where the fault sits.
    """
    if wanted in places:
        return True
    record = library.parts.get(part)
    if ENGINE in places and record is not None and record.place == "engine":
        return True
    inside = layout.cylinders_at(wanted)
    if not inside:
        return False
    if wanted.kind == "companions":  # one plug and one driver for both
        return any(inside & layout.cylinders_at(place) for place in places)
    if wanted.kind in TWO:
        return inside <= frozenset().union(*(layout.cylinders_at(place) for place in places))
    return any(place.kind in (*TWO, "bank") and inside <= layout.cylinders_at(place) for place in places)


def does(do: str, wanted: str) -> bool:
    """Whether work of one kind does what another would: ``repaired`` leads are seated, too."""
    return do == wanted or (do == "repaired" and wanted in IN_REPAIRING)
