"""Copper wire."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowngood.errors import Refused
from knowngood.measure.wire import (
    MAX_CLASS_5_MOHM_M,
    at_20c,
    awg_area,
    copper_factor,
    current_for_drop,
    largest_resistance,
    wire_resistance,
)


@given(st.floats(0.3, 100.0), st.floats(0.3, 100.0))
def test_thicker_wire_resists_less(one: float, other: float) -> None:
    """Resistance falls with the area."""
    thin, thick = sorted((one, other))
    assert wire_resistance(thin, 5.0).value >= wire_resistance(thick, 5.0).value - 1e-15


@given(st.floats(-60.0, 200.0), st.floats(-60.0, 200.0))
def test_warmer_copper_resists_more(one: float, other: float) -> None:
    """The factor rises with the temperature."""
    cold, hot = sorted((one, other))
    assert 0.0 < copper_factor(cold)[0] <= copper_factor(hot)[0]


@given(st.floats(0.001, 10.0), st.floats(-40.0, 120.0))
def test_brought_to_20_degrees_undoes_the_factor(ohms: float, temperature: float) -> None:
    """Copper's own factor and the coefficient agree within a thousandth."""
    assert at_20c(ohms * copper_factor(temperature)[0], temperature)[0] == pytest.approx(ohms, rel=1e-3)


@pytest.mark.parametrize("area", MAX_CLASS_5_MOHM_M)
def test_sound_wire_is_under_the_standard_s_limit(area: float) -> None:
    """What physics gives is no more than what the standard allows."""
    assert wire_resistance(area, 1.0).low <= largest_resistance(area, 1.0)


@given(st.floats(0.01, 2.0), st.floats(0.5, 35.0), st.floats(0.1, 20.0))
def test_drop_and_current_undo_each_other(drop: float, area: float, length: float) -> None:
    """Ohm's law both ways."""
    found = current_for_drop(drop, area, length)
    assert found.low <= found.value <= found.high
    assert found.value * wire_resistance(area, length).value == pytest.approx(drop)


def test_smaller_number_is_thicker() -> None:
    """Gauge numbers run backwards."""
    assert awg_area(10) > awg_area(14) > awg_area(22)


def test_area_that_is_in_no_table_is_refused() -> None:
    """No guess between the rows of a standard."""
    with pytest.raises(Refused) as refused:
        largest_resistance(2.0, 1.0)
    assert str(refused.value) == (
        "Area 2 mm² is not in the table. Areas: 0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35."
    )


def test_unknown_class_is_refused() -> None:
    """Four classes are known."""
    with pytest.raises(Refused) as refused:
        wire_resistance(2.5, 1.0, stranding=3)
    assert str(refused.value) == "Class of conductor is 3. Classes: 1 solid, 2 stranded, 5 and 6 flexible."
