"""Libraries of a few records, so that every number of a test can be worked by hand."""

from __future__ import annotations

from collections.abc import Iterable

from knowngood.belief.assemble import believe
from knowngood.belief.exact import ExactBelief
from knowngood.belief.protocol import FaultAt
from knowngood.car import ENGINE, Car, Place, layout_of
from knowngood.evidence import Entry, Finding, Reading, Work
from knowngood.library.fitted_records import Fitted
from knowngood.library.records import Act, Area, Chance, Cure, Fault, Ladder, Library, Part, Raised, ReadingKind

ONE = Place("cylinder", "1")
TWO = Place("cylinder", "2")


def fault(
    id: str,
    per_1000: float,
    *,
    part: str = "",
    place: str = "engine",
    acts: Iterable[Act] = (),
    cures: Iterable[Cure] = (),
    raised: Iterable[Raised] = (),
    needs: dict[str, tuple[str, ...]] | None = None,
    shows: dict[str, float] | None = None,
    grades: dict[str, float] | None = None,
) -> Fault:
    """A fault with the middle of its chance; the range is not what these tests are about."""
    return Fault(
        id=id,
        name=id,
        part=part or f"part of {id}",
        place=place,
        chance=Chance(per_1000=per_1000, low=per_1000 / 2, high=per_1000 * 2, source="memory"),
        acts=tuple(acts),
        cures=tuple(cures),
        raised=tuple(raised),
        needs=needs or {},
        shows=shows or {},
        grades=grades or {},
    )


def word(id: str, on: str, yes: dict[str, float], *, place: str = "engine", complaint: bool = False) -> ReadingKind:
    """A reading of yes or no with the chance of yes at each level."""
    chance = {level: {"yes": p, "no": 1.0 - p} for level, p in yes.items()}
    return ReadingKind(
        id=id,
        name=id,
        place=place,
        source="memory",
        on=on,
        words=("yes", "no"),
        chance=chance,
        complaint=complaint,
    )


def library(
    ladders: Iterable[Ladder] = (),
    faults: Iterable[Fault] = (),
    readings: Iterable[ReadingKind] = (),
    *,
    parts: Iterable[Part] = (),
    areas: Iterable[Area] = (),
    fitted: Iterable[Fitted] = (),
) -> Library:
    """A library of these records and nothing else."""
    return Library(
        hash="tiny",
        sources={},
        ladders={one.id: one for one in ladders},
        faults={one.id: one for one in faults},
        readings={one.id: one for one in readings},
        checks={},
        parts={one.id: one for one in parts},
        access={},
        codes={},
        cautions={},
        gates={},
        tools={},
        areas={one.id: one for one in areas},
        fitted={one.field: one for one in fitted},
    )


Body = Reading | Work | Finding


def after(records: Library, *bodies: Body, car: Car | None = None) -> ExactBelief:
    """The belief after these bodies, one an entry, in turn."""
    return over_days(records, bodies, car=car)


def over_days(records: Library, *days: Iterable[Body], car: Car | None = None) -> ExactBelief:
    """The belief after the bodies of each day, day after day."""
    car = car or Car(cylinders=1)
    entries = []
    for day, bodies in enumerate(days, start=1):
        for body in bodies:
            at = f"2026-05-{day:02}T10:00:{len(entries):02}+00:00"
            entries.append(Entry(id=at, at=at, entered=at, line=f"line {len(entries)}", body=body))
    return believe(records, car, layout_of(car), entries)


def chance(belief: ExactBelief, fault: str, place: Place = ENGINE) -> float:
    """Chance of a fault at a place now."""
    return float(belief.chances()[belief.model.column[FaultAt(fault, place)]])
