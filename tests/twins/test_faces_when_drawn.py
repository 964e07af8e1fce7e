"""Faults that were tried to be put right, met by readings outside the tables: their faces are drawn as they stand."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.belief import exact
from knowngood.belief.assemble import believe
from knowngood.belief.fitting import levels_set
from tests.naive.small_car import small_car, small_entries, small_library

SEEDS = (33, 38, 43)
"""Small cars with a fault outside the tables that work may have ended: it has a face before the work and one after."""
STANDARD_ERRORS = 5.0


@pytest.mark.parametrize("seed", SEEDS)
def test_chances_are_those_of_the_tables(seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """The same evidence all in the tables, and with one reading in them and the others let in draw by draw."""
    rng = np.random.default_rng(seed)
    records = small_library(rng, 3, 3)
    car, layout = small_car(2)
    entries = small_entries(rng, records, layout, 8, 3)
    whole = believe(records, car, layout, entries)
    with monkeypatch.context() as patch:
        patch.setattr(exact, "smaller_parts", lambda said, model: iter([levels_set(said[:1])]))
        part = believe(records, car, layout, entries)
    assert whole.exact and not part.exact
    outside = [one.target.place for one, _ in part.weighing]
    assert outside, "nothing was left to the draws"
    error = STANDARD_ERRORS * np.sqrt(np.maximum(whole.chances() * (1.0 - whole.chances()), 0.001) / part.draws_worth)
    assert (abs(part.chances() - whole.chances()) < error).all()
