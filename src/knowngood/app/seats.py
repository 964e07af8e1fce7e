"""Where a part is worked on: a head gasket is one wherever it leaks, and a set of plugs ends what is wrong at each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from knowngood.car import ENGINE, Layout, Place
from knowngood.library.records import Library


@dataclass(frozen=True)
class Seats:
    """The places at which parts of one engine are replaced, cleaned, mended.

    Parameters
    ----------
    library : Library
    layout : Layout
    """

    library: Library
    layout: Layout

    def of(self, part: str, place: Place) -> Place:
        """Where a part is worked on for a fault at a place: a part the engine has one of is worked on whole."""
        record = self.library.parts.get(part)
        return ENGINE if record is not None and record.place == "engine" else place

    def covering(self, part: str, place: Place) -> Iterator[Place]:
        """Each place at which work on a part puts right a fault at a place: there, and where all of them are done."""
        seat = self.of(part, place)
        yield seat
        if seat != ENGINE and self._is_each(part):
            yield ENGINE

    def all_of(self, part: str, seat: Place) -> tuple[Place, ...]:
        """The places of all of a part that every cylinder has, where work at the engine is work on the whole set."""
        return tuple(self.layout.places("cylinder")) if seat == ENGINE and self._is_each(part) else ()

    def _is_each(self, part: str) -> bool:
        record = self.library.parts.get(part)
        return record is not None and record.place == "cylinder"
