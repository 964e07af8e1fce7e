"""Leak-down in percent, the tester's own check, the cylinders against each other."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowngood.errors import NotMeasurable
from knowngood.measure.leakdown import check_setting, check_tester, leak_percent, leak_row, leak_word, standard_orifice
from tests.unit.measure.scatter import scatter


@given(st.floats(300.0, 800.0), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_more_pressure_held_is_less_leak(supply_kpa: float, one: float, other: float) -> None:
    """The percent falls as the cylinder holds more."""
    low, high = sorted((one, other))
    assert leak_percent(supply_kpa, supply_kpa * high)[0] <= leak_percent(supply_kpa, supply_kpa * low)[0] + 1e-9


@pytest.mark.parametrize("cylinder_kpa", [520.0, 400.0, 150.0])
def test_error_is_what_throws_of_the_gauges_scatter(cylinder_kpa: float) -> None:
    """Within 5 % of thrown readings."""
    _, se = leak_percent(551.6, cylinder_kpa)
    thrown = scatter(lambda p0, p1: 100.0 * (1.0 - p1 / p0), (551.6, cylinder_kpa), (7.96, 7.96))
    assert se == pytest.approx(thrown, rel=0.05)


def test_crossed_gauges_are_refused() -> None:
    """More out than in means the hoses are crossed."""
    with pytest.raises(NotMeasurable) as refused:
        leak_percent(400.0, 500.0)
    assert str(refused.value) == (
        "The cylinder shows 500 kPa (73 psi), the supply 400 kPa (58 psi): more comes out than goes in. "
        "Check that the gauges are not crossed and agree with the outlet shut."
    )


def test_gauge_noise_above_the_supply_is_not_refused() -> None:
    """A tight cylinder may read a hair over the supply."""
    percent, se = leak_percent(551.6, 555.0)
    assert -3 * se < percent < 0


def test_one_bad_cylinder_stands_apart() -> None:
    """Number 4 leaks more than the best by more than points and errors allow."""
    result = leak_row([8.0, 9.0, 7.0, 31.0])
    assert (result.apart, result.over, result.all_alike) == ((4,), (4,), False)
    assert (result.lowest_percent, result.highest_percent, result.spread_points) == (7.0, 31.0, 24.0)


def test_spread_inside_the_reading_errors_accuses_nobody() -> None:
    """Six points with a coarse tester are not a fault."""
    assert leak_row([8.0, 14.0, 9.0, 10.0], percent_se=3.0).all_alike
    assert leak_row([8.0, 14.0, 9.0, 10.0], percent_se=0.5).apart == (2,)


def test_all_high_is_over_though_alike() -> None:
    """Wear in all cylinders is seen by the limit only."""
    result = leak_row([33.0, 34.0, 32.0, 33.0])
    assert result.all_alike
    assert result.over == (1, 2, 3, 4)


def test_one_cylinder_is_no_row() -> None:
    """There is nothing to compare with."""
    with pytest.raises(NotMeasurable) as refused:
        leak_row([8.0])
    assert str(refused.value) == "Leak: 1 given. At least 2 are needed."


def test_tester_that_leaks_is_not_read() -> None:
    """More than 2 psi between the gauges with the outlet shut."""
    with pytest.raises(NotMeasurable) as refused:
        check_tester(552.0, 530.0)
    assert str(refused.value) == (
        "The gauges differ by -22.0 kPa, outlet shut: over ±13.8 kPa. "
        "Look for a leak in the tester or hose, or note the gauges as wrong."
    )


def test_weak_shop_air_is_refused() -> None:
    """The regulator needs something to hold back."""
    with pytest.raises(NotMeasurable, match=r"^Shop air is 600 kPa: under 689 kPa \(100 psi\)"):
        check_tester(552.0, 552.0, shop_air_kpa=600.0)


def test_reading_pressure_needs_the_crank_held() -> None:
    """80 psi on a free crankshaft turns it."""
    with pytest.raises(NotMeasurable) as refused:
        check_setting(552.0, held_at_top=False)
    assert str(refused.value) == (
        "552 kPa with the crankshaft not held: it can spin. "
        "At most 138 kPa (20 psi) until top dead centre is held; hands and bars off."
    )


def test_large_bore_takes_the_large_orifice() -> None:
    """The step is at 5 inches."""
    assert standard_orifice(126.9) == pytest.approx(1.016)
    assert standard_orifice(127.0) == pytest.approx(1.524)


def test_reading_between_two_words_says_both() -> None:
    """A coarse reading does not pick a side."""
    assert leak_word(19.0, percent_se=2.0).words == ("serviceable", "suspect")
    assert leak_word(19.0, percent_se=0.0).words == ("serviceable",)
    assert leak_word(0.0, percent_se=0.0).words == ("good",)
    assert leak_word(100.0, percent_se=0.0).words == ("trouble",)
