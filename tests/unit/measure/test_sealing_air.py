"""Standard air."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowngood.errors import NotMeasurable
from knowngood.measure.sealing_air import standard_air


@given(st.floats(-500.0, 5000.0), st.floats(-500.0, 5000.0))
def test_air_thins_with_altitude(one: float, other: float) -> None:
    """Higher up there is less of it."""
    low, high = sorted((one, other))
    assert standard_air(low).density_kg_m3 >= standard_air(high).density_kg_m3 - 1e-12


def test_share_is_one_at_the_sea() -> None:
    """The sea is the measure."""
    assert standard_air(0.0).share_of_sea_level == pytest.approx(1.0)


def test_moon_is_refused() -> None:
    """The layer ends."""
    with pytest.raises(NotMeasurable, match=r"^Altitude is 20000 m"):
        standard_air(20000.0)
