"""The chances equal those of a general-purpose library of Bayesian networks.

Judge: pyAgrum (LGPL-3 or MIT), exact lazy propagation, one thread. The networks are written down in
``tests/naive/agrum_belief.py``, from the nodes of the belief and, independently of them, from the ladders of the
library. The judge itself is checked against published numbers in ``test_belief_examples.py``.

Where the judge would need a table of more than five million cells, or the belief's own tables do not hold everything
that was said, the next smaller engine is taken; the last tests of this file say how many sizes that may cost.
"""

from __future__ import annotations

import math
from functools import cache

import msgspec
import numpy as np
import pytest

from knowngood.belief import ordering
from knowngood.belief.assemble import believe
from knowngood.belief.exact import ExactBelief
from knowngood.car import Car, Place, layout_of
from knowngood.evidence import Finding, Reading, Value, Work
from knowngood.library.load import load
from knowngood.library.records import Library
from tests.in_turn import in_turn
from tests.naive.agrum_belief import JUDGES, Judge
from tests.naive.small_car import small_car, small_entries, small_library

SEEDS = range(44)
MOST_CELLS = 5_000_000
HIGHEST_PER_1000 = 900.0


def with_more_faults(library: Library, times: float) -> Library:
    """The same library with every count of faults multiplied."""
    faults = {
        fault.id: msgspec.structs.replace(
            fault,
            chance=msgspec.structs.replace(fault.chance, per_1000=min(times * fault.chance.per_1000, HIGHEST_PER_1000)),
        )
        for fault in library.faults.values()
    }
    return msgspec.structs.replace(library, faults=faults)


def drawn_belief(seed: int, cylinders: int) -> ExactBelief:
    """An invented car with seven kinds of fault, six to ten readings and up to three works."""
    rng = np.random.default_rng(seed)
    library = with_more_faults(small_library(rng, 3, 4), (1.0, 2.0, 3.0)[seed % 3])
    car, layout = small_car(cylinders)
    entries = small_entries(rng, library, layout, int(rng.integers(6, 11)), int(rng.integers(0, 4)))
    return believe(library, car, layout, entries)


@cache
def fitting(seed: int, form: str) -> tuple[int, ExactBelief, Judge]:
    """The largest engine from 2 + seed mod 11 cylinders down that both can hold, with its belief and its judge."""
    for cylinders in range(2 + seed % 11, 0, -1):
        belief = drawn_belief(seed, cylinders)
        if belief.exact:
            judge = JUDGES[form](belief)
            if judge.largest_table() <= MOST_CELLS:
                return cylinders, belief, judge
    raise AssertionError(f"seed {seed}: not even one cylinder fits")


@pytest.mark.parametrize("seed", SEEDS)
def test_chances_equal_those_of_the_same_nodes(seed: int) -> None:
    """Folding faults into groups and summing out in our order changes nothing, 2 to 12 cylinders."""
    _, belief, judge = fitting(seed, "nodes")
    assert belief.chances() == pytest.approx(judge.chances(belief.faults), abs=1e-9)


@pytest.mark.parametrize("seed", SEEDS)
def test_chances_equal_those_of_the_ladders(seed: int) -> None:
    """Nor does passing ladders through, merging levels and sharing nodes between places and moments."""
    _, belief, judge = fitting(seed, "ladders")
    assert belief.chances() == pytest.approx(judge.chances(belief.faults), abs=1e-9)


def drawn_off(seed: int, cells: int, monkeypatch: pytest.MonkeyPatch) -> tuple[float, float]:
    """Where tables may have so few cells: the largest error of a chance over its bound, and that of the log chance."""
    cylinders, whole, judge = fitting(seed, "nodes")
    truth = judge.chances(whole.faults)
    belief = whole
    with monkeypatch.context() as small:
        while belief.exact:
            small.setattr(ordering, "MOST_CELLS", cells)
            belief = drawn_belief(seed, cylinders)
            cells //= 2
    off = float(np.abs(belief.chances() - truth).max())
    return off / belief.error_bound, belief.log_chance - whole.log_chance


@pytest.mark.parametrize("cells", [100, 1000])
def test_draws_stay_within_their_bound(cells: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """What does not fit the tables weighs draws: of 22 cars all chances are within the bound, but for one at most.

    The bound is three standard errors of the worst fault, as the draws themselves tell it; the chance of the evidence
    is a mean of weights, right within a factor of two.
    """
    off = [drawn_off(seed, cells, monkeypatch) for seed in range(0, 44, 2)]
    by_bound = sorted(times for times, _ in off)
    assert by_bound[-2] <= 1.0
    assert by_bound[-1] <= 1.5
    assert max(abs(log) for _, log in off) <= math.log(2.0)
    assert by_bound[0] > 0.0


@pytest.mark.parametrize(("form", "at_full_size"), [("nodes", 33), ("ladders", 28)])
def test_few_engines_had_to_be_made_smaller(form: str, at_full_size: int) -> None:
    """Most of the 44 engines are compared at the size they were drawn with, large ones among them."""
    sizes = {seed: fitting(seed, form)[0] for seed in SEEDS}
    full = [size for seed, size in sizes.items() if size == 2 + seed % 11]
    assert len(full) >= at_full_size
    assert max(full) == 12


def _cylinder(number: int) -> Place:
    return Place("cylinder", str(number))


_COMPRESSION = tuple(
    Reading(kind="compression", place=_cylinder(number), value=Value(float(kpa), step=10.0))
    for number, kpa in ((1, 1100), (2, 1080), (3, 1150), (4, 1120))
)
_SWAPPED = Work(do="swapped", part="coil", places=(_cylinder(2),), to=_cylinder(3), effect="stayed")
_COMPLAINED = (
    *_COMPRESSION,
    Reading(kind="code", code="P0302"),
    Reading(kind="injector_cut", place=_cylinder(2), word="no change"),
    Reading(kind="spark_test", place=_cylinder(2), word="weak"),
    Reading(kind="shakes", word="yes"),
    Reading(kind="plug_look", place=_cylinder(2), word="worn"),
    Reading(kind="long_trim", place=Place("bank", "1"), value=Value(9.0, step=1.0)),
)
_MEASURED = (
    *_COMPRESSION,
    Reading(kind="spark_test", place=_cylinder(2), word="weak"),
    _SWAPPED,
    Reading(kind="spark_test", place=_cylinder(3), word="good"),
    Reading(kind="plug_look", place=_cylinder(2), word="worn"),
    Finding(fault="plug_worn", place=_cylinder(1)),
    Reading(kind="fuel_pressure", value=Value(300.0, step=10.0)),
)


@pytest.mark.parametrize(
    ("form", "bodies", "at_least"), [("nodes", _COMPLAINED, 6), ("nodes", _MEASURED, 8), ("ladders", _MEASURED, 8)]
)
def test_chances_of_the_real_library(form: str, bodies: tuple[Reading | Work | Finding, ...], at_least: int) -> None:
    """Four cylinders, every fault of the library, a row of an unknown specification, a code, words, a swap, a finding.

    Of ten entries the last are left off until the judge holds the network: fuel pressure or trim ties the faults of the
    whole engine together, and unfolded that is more than any of its orders can hold.
    """
    library = load()
    words = {body.kind: body.word for body in bodies if isinstance(body, Reading) and body.word}
    assert all(word in library.readings[kind].words for kind, word in words.items())
    car = Car(
        cylinders=4, form="inline", ignition="coil on plug", injection="port", air_meter="flow meter", turbo=False
    )
    for count in range(len(bodies), 0, -1):
        belief = believe(library, car, layout_of(car), in_turn(bodies[:count]))
        if belief.exact:
            judge = JUDGES[form](belief)
            if judge.largest_table() <= 2 * MOST_CELLS:
                break
    assert count >= at_least
    assert belief.chances() == pytest.approx(judge.chances(belief.faults), abs=1e-9)
