"""What looks, grades and common causes cost on the reference cars, beside the same car without them.

``belief.growth_...``: time of all chances over that of the plain car, processor time in one run. ``belief.error_...``:
the largest difference to the judge of :mod:`benchmarks.belief_figures`, where its tables fit.
"""

from __future__ import annotations

from collections.abc import Sequence

import msgspec
import numpy as np

from benchmarks.belief_figures import posterior, rounded, timed_ms
from benchmarks.reference_cars import ReferenceCar
from knowngood.belief.assemble import believe
from knowngood.belief.exact import ExactBelief
from knowngood.car import ENGINE
from knowngood.evidence import Entry, Finding
from knowngood.library.records import Fault, Library, Raised
from knowngood.proving.figures import Figure
from tests.naive.agrum_belief import by_nodes

SIZES = (2, 4, 8)
DAYS = 3
COME_AND_GO = ("spark_2", "fuel_1")
GRADED = {"spark_1": "none", "seal_1": "none", "breathing_1": "none"}  # and the level of the severe form
CHEWED, SEEN = ("spark", "crank_signal", "fuel_pressure"), "crank_signal_1"
MOST_JUDGE_CELLS = 20_000_000


def with_looks(fault: Fault) -> Fault:
    """Two faults a cylinder come and go."""
    return msgspec.structs.replace(fault, shows={"any": 0.5}) if fault.id in COME_AND_GO else fault


def with_grades(fault: Fault) -> Fault:
    """Three faults a cylinder are mild or severe."""
    if fault.id not in GRADED:
        return fault
    (act,) = fault.acts
    severe = msgspec.structs.replace(act, level=GRADED[fault.id], grade="severe")
    return msgspec.structs.replace(fault, acts=(act, severe), grades={"mild": 0.7, "severe": 0.3})


def with_causes(fault: Fault) -> Fault:
    """Animals raise the faults of three ladders."""
    chewed = fault.id.rsplit("_", 1)[0] in CHEWED
    return msgspec.structs.replace(fault, raised=(Raised(by="animals", times=6.0),)) if chewed else fault


def over_days(entries: Sequence[Entry]) -> list[Entry]:
    """The readings over three days, in turn."""
    days = np.arange(len(entries)) * DAYS // len(entries) + 1
    return [
        msgspec.structs.replace(entry, at=f"2026-01-{day:02}T10:{number:02}:00+00:00")
        for number, (entry, day) in enumerate(zip(entries, days, strict=True))
    ]


def belief_of(car: ReferenceCar, library: Library, entries: Sequence[Entry]) -> ExactBelief:
    """The chances of a reference car by another library."""
    return believe(library, car.car, car.layout, entries)


def growth_figures() -> dict[str, Figure]:
    """Ratios and errors, by what is added and number of cylinders."""
    found: dict[str, Figure] = {}
    for cylinders in SIZES:
        car = ReferenceCar(cylinders)
        seen = Entry(id="seen", at="999", entered="999", line="seen", body=Finding(fault=SEEN, place=ENGINE))
        for name, changed, entries in (
            ("looks", with_looks, over_days(car.entries)),
            ("grades", with_grades, car.entries),
            ("causes", with_causes, [*car.entries, seen]),
        ):
            faults = {fault.id: changed(fault) for fault in car.library.faults.values()}
            plain = belief_of(car, car.library, entries)
            other = belief_of(car, msgspec.structs.replace(car.library, faults=faults), entries)
            before = timed_ms(lambda plain=plain: posterior(plain))
            after = timed_ms(lambda other=other: posterior(other))
            found[f"belief.growth_{name}_c{cylinders}"] = Figure(rounded(after[0] / before[0], 2), len(other.faults))
            judge = by_nodes(other)
            if judge.largest_table() <= MOST_JUDGE_CELLS:
                off = float(np.abs(judge.chances(other.faults) - other.chances()).max())
                found[f"belief.error_{name}_c{cylinders}"] = Figure(
                    rounded(off), len(other.faults), goal=1e-9, at_least=False
                )
    return found
