"""Facts of the car gathered one by one."""

from __future__ import annotations

import pytest

from knowngood.car import Car, Window
from knowngood.car.fold import with_fact
from knowngood.errors import Refused
from knowngood.evidence import CarFact


def test_later_fact_takes_the_place_of_an_earlier_one() -> None:
    """The car is what was told last."""
    car = with_fact(with_fact(Car(), CarFact("ignition", '"distributor"')), CarFact("ignition", '"pair coil"'))
    assert car.ignition == "pair coil"


def test_null_makes_a_field_unknown_again() -> None:
    """What is not known may be said."""
    assert with_fact(Car(mileage_km=1000.0), CarFact("mileage_km", "null")).mileage_km is None


def test_told_lists_add_up_without_doubles() -> None:
    """Work done last and systems add to what was told before."""
    car = with_fact(Car(last_done=("plugs",)), CarFact("last_done", '["plugs", "head gasket"]'))
    assert car.last_done == ("plugs", "head gasket")


def test_told_count_clears_the_doubt() -> None:
    """A count that is told is no longer in doubt."""
    car = with_fact(Car(cylinders=4, cylinders_doubtful=True), CarFact("cylinders", "6"))
    assert (car.cylinders, car.cylinders_doubtful) == (6, False)


def test_windows_are_laid_over_each_other() -> None:
    """A specification of one kind leaves the others."""
    car = Car(windows={"compression": Window(1000.0, 1300.0, "plate")})
    told = with_fact(car, CarFact("windows", '{"fuel_pressure": {"low": 280, "high": 320, "source": "as told"}}'))
    assert set(told.windows) == {"compression", "fuel_pressure"}
    assert told.windows["fuel_pressure"] == Window(280.0, 320.0, "as told")


def test_unknown_field_is_refused() -> None:
    """The refusal names the fields there are."""
    with pytest.raises(Refused) as refused:
        with_fact(Car(), CarFact("wheels", "4"))
    assert str(refused.value).startswith("A car has no field 'wheels'. Fields that are: nickname, drive, cylinders,")


def test_value_that_does_not_fit_is_refused() -> None:
    """The refusal shows the value and what fits."""
    with pytest.raises(Refused) as refused:
        with_fact(Car(), CarFact("cylinders", '"six"'))
    assert str(refused.value) == (
        "'\"six\"' does not fit 'cylinders' of a car. Expected `int | null`, got `str` - at `$.cylinders`."
    )
