"""Expected compression."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowngood.errors import NotMeasurable
from knowngood.measure.compression_expected import (
    dynamic_ratio,
    expected_gauge,
    gauge_at_altitude,
    ideal_gauge,
    piston_travel,
)
from tests.unit.measure.scatter import scatter

ENGINE = {"stroke_mm": 88.0, "rod_mm": 148.0}


@given(st.floats(0.0, 110.0), st.floats(0.0, 110.0), st.floats(7.0, 13.0))
def test_later_closing_compresses_less(one: float, other: float, ratio: float) -> None:
    """The ratio that counts falls with the closing angle and never exceeds the geometry."""
    early, late = sorted((one, other))
    assert ratio + 1e-9 >= dynamic_ratio(ratio, early, **ENGINE)[0] >= dynamic_ratio(ratio, late, **ENGINE)[0] - 1e-9


@given(st.floats(0.0, 180.0), st.floats(0.0, 180.0))
def test_piston_goes_down_all_the_way(one: float, other: float) -> None:
    """From top to bottom dead centre the travel only grows."""
    low, high = sorted((one, other))
    assert piston_travel(low, 88.0, 148.0)[0] <= piston_travel(high, 88.0, 148.0)[0] + 1e-12


@given(st.floats(7.0, 13.0), st.floats(10.0, 80.0), st.floats(0.0, 3000.0))
def test_bracket_is_in_order(ratio: float, closing: float, altitude: float) -> None:
    """Low, middle, high at every engine and altitude."""
    found = expected_gauge(ratio, closing, altitude_m=altitude, **ENGINE)
    assert found.low < found.value < found.high


@given(st.floats(0.0, 3000.0), st.floats(0.0, 3000.0))
def test_altitude_there_and_back(one: float, other: float) -> None:
    """Scaling to another altitude and back is no change."""
    there, _ = gauge_at_altitude(1000.0, measured_m=one, wanted_m=other)
    assert gauge_at_altitude(there, measured_m=other, wanted_m=one)[0] == pytest.approx(1000.0)


def test_expected_falls_with_altitude_as_the_scaling_says() -> None:
    """Both ways to the same figure at 1500 m."""
    sea, up = (expected_gauge(9.5, 50.0, altitude_m=h, **ENGINE).value for h in (0.0, 1500.0))
    assert up == pytest.approx(gauge_at_altitude(sea, measured_m=0.0, wanted_m=1500.0)[0], rel=1e-9)


def test_error_at_altitude_is_what_throws_scatter() -> None:
    """Reading and weather at both places, within 5 % of thrown ones."""
    _, se = gauge_at_altitude(1000.0, measured_m=1500.0, wanted_m=0.0)
    thrown = scatter(lambda p, here, there: p * there / here, (1000.0, 84.56, 101.325), (20.0, 1.268, 1.52))
    assert se == pytest.approx(thrown, rel=0.05)


def test_rod_shorter_than_the_throw_is_refused() -> None:
    """Such an engine does not turn."""
    with pytest.raises(NotMeasurable) as refused:
        piston_travel(90.0, 88.0, 40.0)
    assert str(refused.value) == "Rod length less crank throw is -4 mm. Give a number above 0 in mm."


@pytest.mark.parametrize(("ratio", "closing"), [(2.0, 50.0), (9.5, 150.0), (float("nan"), 50.0)])
def test_engine_outside_the_spans_is_refused(ratio: float, closing: float) -> None:
    """Ratio and angle are checked before anything is computed."""
    with pytest.raises(NotMeasurable):
        expected_gauge(ratio, closing, **ENGINE)


def test_nothing_compressed_is_nothing_on_the_gauge() -> None:
    """Ratio 1 is no pressure."""
    assert ideal_gauge(1.0, 1.3)[0] == 0.0
