"""Fuel in the oil."""

import pytest

from knowngood.errors import NotMeasurable
from knowngood.measure.fuel_dilution import fuel_washed_into_oil


def test_fuel_fed_is_the_share_of_the_engine() -> None:
    """4 g/s of air burn 0.272 g/s of petrol; one of four cylinders gets a quarter of it."""
    fuel = fuel_washed_into_oil(4.0, 4, 60.0, 4.5)
    assert fuel.fed_ml == pytest.approx(4.0 / 14.7 / 0.745 * 3600 / 4)
    assert fuel_washed_into_oil(4.0, 4, 60.0, 4.5, dead_cylinders=2).fed_ml == pytest.approx(2.0 * fuel.fed_ml)


def test_error_of_the_fuel_fed_is_that_of_the_air() -> None:
    """As a share: 0.5 of 4 g/s is an eighth; 5 % where nothing is said."""
    told = fuel_washed_into_oil(4.0, 4, 60.0, 4.5, air_flow_se_g_s=0.5)
    assert told.fed_se_ml == pytest.approx(told.fed_ml / 8.0)
    assert fuel_washed_into_oil(4.0, 4, 60.0, 4.5).fed_se_ml == pytest.approx(0.05 * told.fed_ml)


@pytest.mark.parametrize(
    ("minutes", "word"),
    [(60.0, "leave it"), (600.0, "smell and look at the dipstick"), (20_000.0, "change the oil")],
)
def test_words(minutes: float, word: str) -> None:
    """Only when the whole range is on one side of the limits is it said."""
    assert fuel_washed_into_oil(4.0, 4, minutes, 4.5).word == word


def test_no_oil_is_refused() -> None:
    """Word for word."""
    with pytest.raises(NotMeasurable) as refused:
        fuel_washed_into_oil(4.0, 4, 60.0, 0.0)
    assert str(refused.value) == "Oil in the sump is 0 L. Give a number above 0 in L."
