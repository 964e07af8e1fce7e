"""Faults that come and go and faults of grades, over days with works between: as every set counted out."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.belief.assemble import believe
from knowngood.belief.exact import ExactBelief
from tests.naive.brute_belief import BruteBelief
from tests.naive.small_car import (
    in_sessions,
    small_car,
    small_entries,
    small_library,
    with_disturbance,
    with_hidden,
)

AFTER_WORKS = (*range(20, 31), 33, 37)


def drawn(seed: int, *, come_and_go: int, graded: int, works: int = 1) -> ExactBelief:
    """A small car with a short history over three days."""
    rng = np.random.default_rng(seed)
    records = with_hidden(small_library(rng, 2, 2), rng, come_and_go=come_and_go, graded=graded)
    car, layout = small_car(int(rng.integers(1, 3)))
    entries = in_sessions(small_entries(rng, records, layout, readings=6, works=works), rng, 3)
    return believe(records, car, layout, entries)


@pytest.mark.parametrize("seed", range(8))
@pytest.mark.parametrize("come_and_go, graded", [(1, 0), (0, 2), (1, 1)])
def test_chances_are_those_of_every_set_counted_out(seed: int, come_and_go: int, graded: int) -> None:
    """To rounding, with every pattern of shows and every grade a set of its own in the judge."""
    belief = drawn(seed, come_and_go=come_and_go, graded=graded)
    assert belief.exact
    brute = BruteBelief(belief)
    assert belief.chances() == pytest.approx(brute.chances(belief.faults), abs=1e-12)
    assert np.exp(belief.log_chance) == pytest.approx(brute.total, rel=1e-9)


def after_works(seed: int, *, come_and_go: int, graded: int) -> ExactBelief:
    """A small car on which work on one part may have disturbed another."""
    rng = np.random.default_rng(seed)
    records = with_disturbance(small_library(rng, 2, 2))
    records = with_hidden(records, rng, come_and_go=come_and_go, graded=graded)
    car, layout = small_car(int(rng.integers(1, 3)))
    return believe(records, car, layout, in_sessions(small_entries(rng, records, layout, 6, 2), rng, 2))


@pytest.mark.parametrize("seed", AFTER_WORKS)
@pytest.mark.parametrize("graded", [0, 1])
def test_what_work_may_have_brought_about(seed: int, graded: int) -> None:
    """A fault may have come with a work, and another work may have cured it: as every set counted out."""
    belief = after_works(seed, come_and_go=0, graded=graded)
    brute = BruteBelief(belief)
    assert belief.chances() == pytest.approx(brute.chances(belief.faults), abs=1e-12)
    assert np.exp(belief.log_chance) == pytest.approx(brute.total, rel=1e-9)


def test_some_works_disturbed_something() -> None:
    """On half of these cars at least, and readings met what may have come."""
    beliefs = [after_works(seed, come_and_go=0, graded=0) for seed in AFTER_WORKS]
    came = [
        any(later > 0.0 for course in belief.built.courses.values() for later in course.later) for belief in beliefs
    ]
    assert sum(came) >= len(AFTER_WORKS) / 2
