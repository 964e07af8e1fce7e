"""From entries to what the belief needs."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.belief.assemble import believe
from knowngood.car import Car, layout_of
from knowngood.evidence import Entry, Reading
from knowngood.library.load import load


@pytest.mark.parametrize("code", ["P0174", "P0308"])
def test_code_of_a_place_the_engine_does_not_have_says_nothing(code: str) -> None:
    """Bank 2 or cylinder 8 of an inline four: kept in the journal, and no chance moves."""
    library, car = load(), Car(cylinders=4, form="inline")
    layout = layout_of(car)
    entry = Entry(id="1", at="2026-01-01", entered="2026-01-01", body=Reading(kind="code", code=code, state="stored"))
    with_code, without = (believe(library, car, layout, entries).chances() for entries in ([entry], []))
    assert np.array_equal(with_code, without)
