"""Chances judged over many cars of every world, for ``make prove``."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from knowngood.library.records import Library
from knowngood.proving.calibration import Judged, figures_of_world, judged, reliability
from knowngood.proving.figures import Figure
from knowngood.proving.simulated_evidence import EARLY, MEASURED
from knowngood.proving.simulated_pool import spread
from knowngood.proving.simulated_worlds import DISTURBED_HALF, DISTURBED_ONE, OWN, STRUCTURE, World

SHORT_CARS, FULL_CARS = 80, 500
SETS: dict[str, tuple[tuple[World, int], ...]] = {
    "": ((OWN, MEASURED),),
    "early": ((OWN, EARLY),),
    "disturbed": ((DISTURBED_HALF, MEASURED), (DISTURBED_ONE, MEASURED)),
    "disturbed_05": ((DISTURBED_HALF, MEASURED),),
    "disturbed_10": ((DISTURBED_ONE, MEASURED),),
    "structure": ((STRUCTURE, MEASURED),),
}
Table = dict[str, list[float]]


def judge(library: Library, seed: int, world: World, checks: int) -> Judged:
    """One car in a process of its own."""
    return judged(seed, world, library, checks)


def calibrate(seeds: Sequence[int]) -> tuple[dict[str, Figure], dict[str, Table]]:
    """The figures of every world, and the table behind each plot: chance said, share there, suspects in each bin."""
    kinds = sorted({kind for kinds in SETS.values() for kind in kinds}, key=str)
    jobs = [(seed, *kind) for seed in seeds for kind in kinds]
    found: dict[tuple[World, int], list[Judged]] = {kind: [] for kind in kinds}
    for job, car in zip(jobs, spread(judge, jobs, "chances judged"), strict=True):
        found[job[1], job[2]].append(car)
    figures: dict[str, Figure] = {}
    tables: dict[str, Table] = {}
    for suffix, wanted in SETS.items():
        some = [car for kind in wanted for car in found[kind]]
        figures.update(figures_of_world(some, suffix))
        tables[suffix or "own"] = table_of(some)
    return figures, tables


def table_of(cars: Sequence[Judged]) -> Table:
    """The ten bins of a world as lists of numbers."""
    bins = reliability(np.concatenate([car.chance for car in cars]), np.concatenate([car.there for car in cars]))
    names = ("said", "there", "suspects")
    return {name: [round(float(value), 5) for value in column] for name, column in zip(names, bins, strict=True)}
