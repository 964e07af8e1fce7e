"""Faults that come and go, and faults of grades: chances equal those of a general-purpose library.

Judge: pyAgrum, as in ``test_belief_against_pyagrum.py``; how often a fault shows is a variable of three points there
(``scipy.special.roots_jacobi``), whether it shows in a look another, its grade a third.
"""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from knowngood.belief.assemble import believe
from knowngood.belief.exact import ExactBelief
from tests.naive.agrum_belief import JUDGES, Judge
from tests.naive.small_car import in_sessions, small_car, small_entries, small_library, with_hidden

SEEDS = range(12)
MOST_CELLS = 3_000_000


@cache
def fitting(seed: int, form: str) -> tuple[int, ExactBelief, Judge]:
    """The largest engine from 1 + seed mod 8 cylinders down that both can hold, with its belief and its judge."""
    for cylinders in range(1 + seed % 8, 0, -1):
        rng = np.random.default_rng(seed)
        library = with_hidden(small_library(rng, 3, 2), rng, come_and_go=2, graded=2)
        car, layout = small_car(cylinders)
        entries = in_sessions(small_entries(rng, library, layout, 8, int(rng.integers(0, 3))), rng, 3)
        belief = believe(library, car, layout, entries)
        if belief.exact:
            judge = JUDGES[form](belief)
            if judge.largest_table() <= MOST_CELLS:
                return cylinders, belief, judge
    raise AssertionError(f"seed {seed}: not even one cylinder fits")


@pytest.mark.parametrize("form", ["nodes", "ladders"])
@pytest.mark.parametrize("seed", SEEDS)
def test_chances_with_looks_and_grades(seed: int, form: str) -> None:
    """To 1e-9, on engines of 1 to 8 cylinders, with works and days between the readings."""
    _, belief, judge = fitting(seed, form)
    assert belief.chances() == pytest.approx(judge.chances(belief.faults), abs=1e-9)


def test_what_the_cars_hold() -> None:
    """The cars are not too small, and most have a face of either kind in their nodes."""
    beliefs = [fitting(seed, "ladders")[:2] for seed in SEEDS]
    assert sum(cylinders >= 2 for cylinders, _ in beliefs) >= 8
    faces = [{face for node in belief.network.nodes for face in node.faults} for _, belief in beliefs]
    assert sum(any(face.grade for face in some) for some in faces) >= 9
    assert sum(len({face.look for face in some if face.look}) > 1 for some in faces) >= 9
