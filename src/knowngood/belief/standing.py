"""What is complained of and what codes stand at each moment: what "no change" leaves as it was, and "cured" ends.

Work that is told as a cure without saying of what ends the complaints that a fault of its part can be behind: a ground
strap that cures ends the slow cranking, not the misfire told beside it. What was ended is not brought back by later
work that changes nothing.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from knowngood.belief.acting import Regime
from knowngood.belief.clues import regime_of
from knowngood.car import Place
from knowngood.evidence import Reading
from knowngood.library.reach import Reach
from knowngood.library.records import Code

Complaint = tuple[Reading, Place]
CodeTold = tuple[Code, Place, float]


@dataclass
class Standing:
    """Complaints and codes told, and which of them still stand.

    ``told``: every complaint with the moment it was told at. ``complaints``, ``codes``: those that stand.
    """

    reach: Reach
    told: list[tuple[int, Reading, Place]] = field(default_factory=list)
    complaints: list[Complaint] = field(default_factory=list)
    codes: list[CodeTold] = field(default_factory=list)

    def tell(self, moment: int, reading: Reading, place: Place) -> None:
        """A complaint is told."""
        self.told.append((moment, reading, place))
        self.complaints = [
            (one, where)
            for one, where in self.complaints
            if (one.kind, where) != (reading.kind, place) or self.regime(one) != self.regime(reading)
        ]
        self.complaints.append((reading, place))

    def gone(self, reading: Reading, place: Place) -> None:
        """A complaint is told to be gone: under the conditions said, or under all where none are."""
        self.complaints = [
            (one, where)
            for one, where in self.complaints
            if (one.kind, where) != (reading.kind, place)
            or (reading.conditions and self.regime(one) != self.regime(reading))
        ]

    def was_noticed(self, moment: int, reading: Reading, place: Place) -> bool:
        """Whether it was told before the last work, by the same hand, of the same conditions; what is said of one
        moment says the same in any order."""
        now = self.regime(reading)
        return any(
            (told.kind, told.who, where) == (reading.kind, reading.who, place)
            and self.regime(told) == now
            and when < moment
            for when, told, where in self.told
        )

    def cured(self, part: str, *, said: bool) -> list[Complaint]:
        """Complaints that a cure by work on a part ends; all that stand, where none of them can come from the part.

        Parameters
        ----------
        said : bool
            Whether the line says itself what is gone: then nothing else is.
        """
        ended = self._of_part(part)
        self.codes = [told for told in self.codes if not ended & self.reach.of_code(told[0])]
        if said:
            return []
        readings = self.reach.library.readings
        theirs = [one for one in self.complaints if ended & self.reach.of_reading(readings[one[0].kind])]
        gone = theirs or self.complaints
        self.complaints = [one for one in self.complaints if one not in gone]
        return gone

    def _of_part(self, part: str) -> frozenset[str]:
        """Faults of a part, and those that work on it puts right."""
        return frozenset(
            fault.id
            for fault in self.reach.library.faults.values()
            if fault.part == part or any(cure.part == part for cure in fault.cures)
        )

    def regime(self, reading: Reading) -> Regime:
        """The regime of the conditions a reading was told under."""
        kind = self.reach.library.readings.get(reading.kind)
        return regime_of(reading.conditions, kind.when if kind is not None else "")
