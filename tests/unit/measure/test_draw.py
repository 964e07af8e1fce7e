"""Draw of a parked car."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowngood.errors import NotMeasurable
from knowngood.measure.draw import days_to_share, draw_verdict
from tests.unit.measure.scatter import scatter


@given(st.floats(5.0, 2000.0), st.floats(5.0, 2000.0))
def test_more_draw_is_fewer_days(one: float, other: float) -> None:
    """At one battery."""
    low, high = sorted((one, other))
    assert days_to_share(low, 60.0)[0] >= days_to_share(high, 60.0)[0]


@given(st.floats(20.0, 200.0), st.floats(20.0, 200.0))
def test_larger_battery_is_more_days(one: float, other: float) -> None:
    """At one draw."""
    low, high = sorted((one, other))
    assert days_to_share(50.0, low)[0] <= days_to_share(50.0, high)[0]


def test_error_of_the_days_is_what_throws_scatter() -> None:
    """Within 5 % of thrown readings."""
    _, se = days_to_share(100.0, 60.0, draw_se_ma=3.0)
    thrown = scatter(lambda ma, ah: 500.0 * ah / (24.0 * ma), (100.0, 60.0), (3.0, 5.0))
    assert se == pytest.approx(thrown, rel=0.05)


@pytest.mark.parametrize(
    ("draw", "waited", "word"),
    [
        (240.0, 45.0, "over"),
        (240.0, 5.0, "awake"),
        (15.0, 5.0, "usual"),
        (30.0, 45.0, "within"),
        (36.0, 45.0, "cannot tell"),
    ],
)
def test_draw_against_its_limit(draw: float, waited: float, word: str) -> None:
    """Too soon is not over; near the limit nobody can tell."""
    assert draw_verdict(draw, waited).word == word


def test_draw_inside_the_meter_s_error_is_refused() -> None:
    """No days from noise."""
    with pytest.raises(NotMeasurable, match=r"^Draw is 2 mA with a standard error of 1 mA: less than three of them"):
        days_to_share(2.0, 60.0)


def test_end_above_the_start_is_refused() -> None:
    """A parked car does not charge."""
    with pytest.raises(NotMeasurable, match=r"^Charge at the start less at the end is -10 %"):
        days_to_share(50.0, 60.0, from_percent=40.0, to_percent=50.0)
