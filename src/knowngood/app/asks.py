"""What would matter and is not known: asked in the order in which it matters, never twice."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from knowngood.app.compression_row import wet_without_dry
from knowngood.app.disagree import disagreements_of
from knowngood.app.old_codes import old_codes
from knowngood.app.recent import trims_about_100
from knowngood.app.state import State
from knowngood.evidence import Reading, named_places
from knowngood.lines.understood import TRIMS_ASKED


def asks_of(state: State, from_lines: Sequence[str]) -> list[str]:
    """Questions to put now; those of lines that do not agree or do not fit, and of doubtful ones, first."""
    car = state.car
    scale = [TRIMS_ASKED] if car.neutral_trim is None and trims_about_100(state.entries) else []
    result = list(dict.fromkeys([*disagreements_of(state), *_of_another_engine(state), *from_lines, *scale]))
    result += [
        f"What did {place} read dry? The wet compression says nothing without it."
        for place in wet_without_dry(state.entries)
    ]
    if again := old_codes(state):
        result.append(again)
    if not car.drive:
        result.append("Petrol only, hybrid, or a gas conversion?")
    if not car.last_done:
        result.append('What was done last, and by whom? ("not known" is an answer)')
    if not car.new_parts:
        result.append('Which parts are new? ("none" and "not known" are answers)')
    if car.cylinders is None or car.cylinders_doubtful:
        result.append(f"How many cylinders? {state.layout.cylinders} are assumed.")
    if not car.ignition:
        result.append("Coil on plug, coil and lead, one coil for a pair, or distributor?")
    if not car.air_meter and any(
        isinstance(entry.body, Reading) and "trim" in entry.body.kind for entry in state.entries
    ):
        result.append("Does a flow meter or a manifold pressure sensor meter the air? It decides what a trim says.")
    if car.mileage_km is None:
        result.append("What does the odometer show?")
    return result


def _of_another_engine(state: State) -> Iterator[str]:
    """Lines about a cylinder that the engine, as told by now, does not have: they may come from another device."""
    for entry in state.entries:
        for place in named_places(entry.body):
            if state.layout.by_number(place) is None:
                there = f"the engine has {state.layout.cylinders}"
                yield f'"{entry.line}" speaks of {place}: {there}. Take it back, or say how many cylinders there are.'
