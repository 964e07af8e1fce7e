"""Voltage a gap needs."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowngood.errors import NotMeasurable
from knowngood.measure.ignition_breakdown import breakdown_kv, linear_kv, paschen_kv

GAPS = st.floats(0.1, 20.0)
PRESSURES = st.floats(20.0, 3000.0)


@given(GAPS, GAPS, PRESSURES)
def test_wider_gap_needs_more(one: float, other: float, pressure: float) -> None:
    """At one pressure the need rises with the gap."""
    low, high = sorted((one, other))
    assert breakdown_kv(low, pressure).value <= breakdown_kv(high, pressure).value + 1e-12


@given(GAPS, PRESSURES, PRESSURES)
def test_denser_gas_needs_more(gap: float, one: float, other: float) -> None:
    """At one gap the need rises with the pressure."""
    low, high = sorted((one, other))
    assert breakdown_kv(gap, low).value <= breakdown_kv(gap, high).value + 1e-12


@given(GAPS, PRESSURES, st.floats(0.0, 600.0), st.floats(0.0, 600.0))
def test_hotter_gas_needs_less(gap: float, pressure: float, one: float, other: float) -> None:
    """Heat thins the gas."""
    cool, hot = sorted((one, other))
    found = [breakdown_kv(gap, pressure, temperature_c=t).value for t in (cool, hot)]
    assert found[0] >= found[1] - 1e-12


@given(GAPS, PRESSURES, st.floats(0.0, 600.0))
def test_bracket_is_in_order(gap: float, pressure: float, temperature: float) -> None:
    """Low, middle, high everywhere."""
    found = breakdown_kv(gap, pressure, temperature_c=temperature)
    assert found.low < found.value < found.high


@given(st.floats(0.3, 3.0), st.floats(101.325, 500.0))
def test_paschen_rises_right_of_its_minimum(gap: float, pressure: float) -> None:
    """A plug gap lies far to the right of the minimum."""
    assert paschen_kv(gap, pressure)[0] < paschen_kv(gap * 1.1, pressure)[0]


def test_left_of_the_minimum_is_refused() -> None:
    """The law has no answer there."""
    with pytest.raises(NotMeasurable) as refused:
        paschen_kv(0.001, 101.325)
    assert str(refused.value) == (
        "Gap times pressure is 0.076 Torr·cm: left of the minimum the law does not hold. "
        "Check gap and pressure; a plug gap is far to the right of it."
    )


def test_gap_of_an_inch_is_refused() -> None:
    """A gap typed in the wrong unit is met here."""
    with pytest.raises(NotMeasurable, match=r"^Gap is 25\.4 mm: outside 0\.1 to 20 mm"):
        breakdown_kv(25.4, 101.325)


def test_rule_of_thumb_keeps_to_its_span() -> None:
    """It holds near 1 mm."""
    with pytest.raises(NotMeasurable, match=r"^Gap is 10 mm"):
        linear_kv(10.0, 101.325)
