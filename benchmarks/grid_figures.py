"""How far off a chance can be because unknown healthy levels are summed out on a grid.

Rows of four numbers on a four-cylinder car with the whole library: all alike, one far off, two and two, at two healthy
levels; against a grid of 720 points. The judge of ``belief.error_c…`` gets the same grid as ours, so this error is not
in those figures.
"""

from __future__ import annotations

from unittest.mock import patch

import numpy as np

from knowngood.belief import clues
from knowngood.belief.assemble import believe
from knowngood.belief.elimination import Array
from knowngood.car import Car, Place, layout_of
from knowngood.evidence import Entry, Reading, Value
from knowngood.library.records import Library
from knowngood.proving.figures import Figure

SHAPES = ((1.0, 1.02, 0.97, 1.01), (1.0, 1.02, 0.6, 1.01), (1.0, 1.0, 0.7, 0.72))
FINE = 720
GOAL = 1e-3


def chances(library: Library, kind: str, values: tuple[float, ...]) -> Array:
    """Chances after a row of four numbers."""
    car = Car(
        cylinders=4, form="inline", ignition="coil on plug", injection="port", air_meter="flow meter", turbo=False
    )
    entries = [
        Entry(
            id=str(number),
            at=f"{number:02}",
            entered=f"{number:02}",
            line=f"{kind} {number}",
            body=Reading(kind=kind, place=Place("cylinder", str(number)), value=Value(value, step=0.01 * max(values))),
        )
        for number, value in enumerate(values, start=1)
    ]
    return believe(library, car, layout_of(car), entries).chances()


def grid_figures(library: Library) -> dict[str, Figure]:
    """Largest error of a chance by the grid, over all kinds read cylinder by cylinder without a specification."""
    worst, rows = 0.0, 0
    for kind in library.readings.values():
        if not kind.relative or kind.healthy is None or kind.place != "cylinder":
            continue
        for middle in np.geomspace(kind.healthy.low, kind.healthy.high, 4)[1:-1]:
            for shape in SHAPES:
                values = tuple(float(middle) * part for part in shape)
                on_grid = chances(library, kind.id, values)
                with patch.object(clues, "grid_points", lambda _: FINE):
                    on_fine = chances(library, kind.id, values)
                worst = max(worst, float(np.abs(on_grid - on_fine).max()))
                rows += 1
    return {"belief.grid_error": Figure(float(f"{worst:.2g}"), rows, goal=GOAL, at_least=False)}
