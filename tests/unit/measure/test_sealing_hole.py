"""The leak as a hole, and other testers."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowngood.errors import NotMeasurable
from knowngood.measure.sealing_flow import area_ratio
from knowngood.measure.sealing_hole import convert_percent, leak_hole, percent_of_hole
from tests.unit.measure.scatter import scatter

AIR = 101.325


@given(st.floats(0.0, 4.0), st.floats(0.0, 4.0), st.floats(300.0, 800.0), st.floats(0.6, 2.0))
def test_larger_hole_reads_higher(one: float, other: float, supply_kpa: float, orifice_mm: float) -> None:
    """The percent rises with the hole on every tester."""
    low, high = sorted((one, other))
    assert percent_of_hole(low, supply_kpa, orifice_mm)[0] <= percent_of_hole(high, supply_kpa, orifice_mm)[0] + 1e-9


@given(st.floats(6.0, 95.0), st.floats(500.0, 800.0), st.floats(0.6, 2.0), st.floats(65.0, 105.0))
def test_hole_and_percent_undo_each_other(percent: float, supply_kpa: float, orifice_mm: float, air_kpa: float) -> None:
    """Reading to hole to reading is the same reading at every altitude."""
    hole = leak_hole(
        supply_kpa,
        supply_kpa * (1.0 - percent / 100.0),
        orifice_mm,
        air_kpa=air_kpa,
        supply_se_kpa=0.1,
        cylinder_se_kpa=0.1,
    )
    assert percent_of_hole(hole.hole_mm, supply_kpa, orifice_mm, air_kpa=air_kpa)[0] == pytest.approx(percent, abs=1e-5)


@given(st.floats(1.0, 90.0), st.sampled_from([551.58, 620.53, 689.48]), st.floats(0.8, 1.6))
def test_converting_there_and_back_changes_nothing(percent: float, there_kpa: float, there_mm: float) -> None:
    """Two testers agree on the leak between them."""
    there, _ = convert_percent(
        percent, from_supply_kpa=551.58, from_orifice_mm=1.016, to_supply_kpa=there_kpa, to_orifice_mm=there_mm
    )
    back, _ = convert_percent(
        there, from_supply_kpa=there_kpa, from_orifice_mm=there_mm, to_supply_kpa=551.58, to_orifice_mm=1.016
    )
    assert back == pytest.approx(percent, rel=1e-4)


@pytest.mark.parametrize("percent", [15.0, 30.0, 60.0])
def test_error_of_the_hole_is_what_throws_scatter(percent: float) -> None:
    """Within 5 % of thrown readings, for gauges and orifice together."""
    cylinder = 551.58 * (1.0 - percent / 100.0)
    hole = leak_hole(551.58, cylinder, 1.016, supply_se_kpa=4.0, cylinder_se_kpa=4.0)
    thrown = scatter(
        lambda p0, p1, orifice: orifice * math.sqrt(area_ratio(p0 + AIR, p1 + AIR, AIR)[0]),
        (551.58, cylinder, 1.016),
        (4.0, 4.0, 0.02),
    )
    assert hole.hole_se_mm == pytest.approx(thrown, rel=0.05)


def test_error_of_a_converted_percent_is_what_throws_scatter() -> None:
    """Within 5 % of thrown readings."""
    testers = {"from_supply_kpa": 551.58, "from_orifice_mm": 1.016, "to_supply_kpa": 620.53, "to_orifice_mm": 1.27}
    _, se = convert_percent(20.0, percent_se=1.0, **testers)
    assert se == pytest.approx(scatter(lambda p: convert_percent(p, **testers)[0], (20.0,), (1.0,)), rel=0.05)


def test_choking_is_said() -> None:
    """A small leak chokes at the leak only; a large one at the orifice too."""
    small, large = leak_hole(551.58, 496.4, 1.016), leak_hole(551.58, 200.0, 1.016)
    assert (small.orifice_choked, small.leak_choked) == (False, True)
    assert (large.orifice_choked, large.leak_choked) == (True, True)


def test_loss_inside_the_gauge_errors_is_no_hole() -> None:
    """Nothing can be named below three standard errors."""
    with pytest.raises(NotMeasurable) as refused:
        leak_hole(551.6, 540.0, 1.016)
    assert str(refused.value) == (
        "The loss is 11.6 kPa, its standard error 11.3 kPa: less than three of them. "
        "It seals as well as this tester can see; no hole can be named."
    )


def test_unknown_orifice_is_refused() -> None:
    """Percent alone has no size."""
    with pytest.raises(NotMeasurable, match=r"^Orifice is "):
        leak_hole(551.6, 400.0, float("nan"))
