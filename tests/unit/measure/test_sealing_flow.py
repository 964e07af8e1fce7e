"""Air through one hole and through two in a row."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowngood.errors import NotMeasurable
from knowngood.measure.sealing_flow import (
    area_ratio,
    critical_ratio,
    flow_coefficient,
    hole_area,
    hole_flow,
    pressure_between,
)

AIR = 101.325


@given(st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_flow_never_rises_with_the_pressure_behind(one: float, other: float) -> None:
    """More pressure behind the hole, no more flow; choked flow does not care."""
    low, high = sorted((one, other))
    assert flow_coefficient(500.0, 500.0 * low)[0] >= flow_coefficient(500.0, 500.0 * high)[0] - 1e-12


@given(st.floats(0.05, 4.0), st.floats(110.0, 1000.0), st.floats(110.0, 1000.0))
def test_flow_rises_with_the_pressure_before(hole_mm: float, one: float, other: float) -> None:
    """More pressure before the hole, more flow."""
    low, high = sorted((one, other))
    assert hole_flow(hole_mm, low, AIR)[0] <= hole_flow(hole_mm, high, AIR)[0] + 1e-12


@given(st.floats(0.01, 20.0), st.floats(150.0, 1200.0), st.floats(60.0, 105.0))
def test_pressure_between_and_area_ratio_undo_each_other(ratio: float, supply_kpa: float, air_kpa: float) -> None:
    """The inverse is the inverse at every setting, altitude and leak."""
    middle = pressure_between(supply_kpa, air_kpa, ratio)[0]
    assert area_ratio(supply_kpa, middle, air_kpa)[0] == pytest.approx(ratio, rel=1e-6)


def test_no_difference_is_no_flow() -> None:
    """Equal pressures move nothing."""
    assert hole_flow(1.0, AIR, AIR)[0] == 0.0


def test_flow_meets_choked_flow_without_a_step() -> None:
    """Both formulas agree where they meet."""
    at = 500.0 * critical_ratio()
    assert flow_coefficient(500.0, at * 1.000001)[0] == pytest.approx(
        flow_coefficient(500.0, at * 0.999999)[0], rel=1e-9
    )


def test_colder_air_flows_heavier() -> None:
    """Mass flow goes with one over the root of the absolute temperature."""
    warm, cold = hole_flow(1.0, 600.0, AIR, air_c=40.0)[0], hole_flow(1.0, 600.0, AIR, air_c=-10.0)[0]
    assert cold / warm == pytest.approx((313.15 / 263.15) ** 0.5)


def test_pressure_behind_above_before_is_refused() -> None:
    """Air does not flow uphill."""
    with pytest.raises(NotMeasurable) as refused:
        flow_coefficient(100.0, 200.0)
    assert str(refused.value) == (
        "Absolute pressure behind the hole is 200 kPa: outside 0 to 100 kPa. Check the reading and its unit."
    )


@pytest.mark.parametrize("bad", [float("nan"), float("inf"), 0.0, -1.0])
def test_hole_of_no_size_is_refused(bad: float) -> None:
    """A diameter is a number above zero."""
    with pytest.raises(NotMeasurable, match=r"^Hole is "):
        hole_area(bad)


def test_cylinder_without_pressure_has_no_area_ratio() -> None:
    """All of it leaks: the hole has no upper end."""
    with pytest.raises(NotMeasurable, match=r"^Cylinder pressure above the air around is 0 kPa"):
        area_ratio(600.0, AIR, AIR)


def test_air_of_a_shop_is_known_to_three_degrees() -> None:
    """The flow goes with one over the root of the temperature from absolute zero: half of 3 in 293.15."""
    flow, se = hole_flow(1.0, 500.0, AIR, hole_se_mm=0.0)
    assert se / flow == pytest.approx(0.5 * 3.0 / 293.15, rel=0.01)


def test_pressures_and_coefficient_are_taken_as_given() -> None:
    """No error in the hole, none in the air: none in the flow."""
    assert hole_flow(1.0, 500.0, AIR, hole_se_mm=0.0, air_se_c=0.0)[1] == pytest.approx(0.0, abs=1e-12)
