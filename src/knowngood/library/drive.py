"""The parts of a road test, and what of each shows in it."""

from __future__ import annotations

from dataclasses import dataclass

from knowngood.library.healthy import AS_IT_SHOULD_BE
from knowngood.library.records import Library, ReadingKind

GOOD, NOT_DRIVEN = AS_IT_SHOULD_BE, "not driven"


@dataclass(frozen=True)
class Stretch:
    """A part of the drive: the regime it is read in, and the kinds of complaint that show in it."""

    id: str
    name: str
    regime: str
    kinds: tuple[str, ...]

    def shown_in(self, library: Library) -> tuple[ReadingKind, ...]:
        """The kinds of complaint that show in it, as far as the library has them."""
        return tuple(library.readings[kind] for kind in self.kinds if kind in library.readings)


STRETCHES = (
    Stretch("start", "cold start", "cold start", ("hard_start", "fires_and_dies", "slow_crank")),
    Stretch("idle", "idle", "hot idle", ("shakes", "hunts", "stalls")),
    Stretch("town", "town, stop and go", "cruise", ("hesitates", "jerks", "stalls", "overheats_traffic")),
    Stretch("steady", "steady 60 to 80 km/h", "cruise", ("surges", "vibration", "jerks")),
    Stretch("pull", "hills, hard pull", "pull", ("no_power", "flat_under_load", "misfires_pulling", "pings")),
    Stretch("restart", "hot restart", "hot restart", ("hard_start_hot", "no_start_hot")),
)
