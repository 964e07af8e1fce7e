"""The scale that drawings share."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowngood.sheets.drawing import opening, scale

READINGS = st.lists(st.floats(-1e6, 1e6), min_size=1, max_size=12)


@given(READINGS)
def test_every_reading_is_inside_and_in_order(readings: list[float]) -> None:
    """None on the rim, none past another."""
    place = scale(readings, 40.0, 570.0)
    placed = [place(one) for one in sorted(readings)]
    assert placed == sorted(placed)
    assert all(40.0 < one < 570.0 for one in placed)


@pytest.mark.parametrize("alike", [0.0, 175.0, -3.0])
def test_readings_that_are_alike_stand_in_the_middle(alike: float) -> None:
    """Also where all are nothing."""
    assert scale([alike, alike], 0.0, 100.0)(alike) == 50.0


def test_opening_shows_from_the_top_given() -> None:
    """The four numbers of the view."""
    assert opening(620, 60.5, top=24).endswith('viewBox="0 24 620 60.5">')
