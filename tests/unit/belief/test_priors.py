"""Chances before evidence: counts, factors on odds, equipment that was not told, places."""

from __future__ import annotations

import pytest

from knowngood.belief.priors import LEAST, MOST, Story, all_priors, prior_chance, story_of
from knowngood.car import Car, Place, layout_of
from knowngood.library.fitted_records import Fitted
from knowngood.library.records import Area, Part, Raised
from tests.unit.belief.tiny import fault, library

NO_STORY = Story(frozenset(), frozenset())


def test_count_is_the_chance() -> None:
    """40 of 1,000 are 0.04."""
    assert prior_chance(fault("a", 40), Car(), NO_STORY, {}) == pytest.approx(0.04)


@pytest.mark.parametrize(
    ("by", "car"),
    [
        ("animals", Car(animals=True)),
        ("flood", Car(flood=True)),
        ("standing", Car(standing_years=0.5)),
        ("high mileage", Car(mileage_km=150_000.0)),
        ("low mileage", Car(mileage_km=59_999.0)),
    ],
)
def test_story_multiplies_odds(by: str, car: Car) -> None:
    """Odds of 1 to 4, three times as high, are 3 to 4; without the story they stay."""
    one = fault("a", 200, raised=[Raised(by=by, times=3.0)])
    assert prior_chance(one, car, NO_STORY, {}) == pytest.approx(3.0 / 7.0)
    assert prior_chance(one, Car(), NO_STORY, {}) == pytest.approx(0.2)


def test_two_reasons_multiply_and_stay_below_one() -> None:
    """Ten times ten on odds of 1 to 4 is 25 to 1, held at the most a chance before evidence may be."""
    both = [Raised(by="animals", times=10.0), Raised(by="flood", times=10.0)]
    assert prior_chance(fault("a", 200, raised=both), Car(animals=True, flood=True), NO_STORY, {}) == MOST
    assert prior_chance(fault("a", 200, raised=both), Car(animals=True), NO_STORY, {}) == pytest.approx(10.0 / 14.0)


def test_work_and_new_parts_are_known_by_their_words() -> None:
    """ "Timing belt, two years ago" touches the area of the belt; a new pump raises faults of the pump only."""
    records = library(
        areas=[Area(id="front", name="front", words=("timing belt",))],
        parts=[Part(id="pump", name="pump", price=1, source="memory", words=("water pump",))],
    )
    car = Car(last_done=("Timing Belt, two years ago",), new_parts=("water pump",))
    story = story_of(car, records)
    assert story == Story(frozenset({"front"}), frozenset({"pump"}))
    touched = fault("a", 200, raised=[Raised(by="after work", times=3.0, on=("front",))])
    elsewhere = fault("b", 200, raised=[Raised(by="after work", times=3.0, on=("tank",))])
    anywhere = fault("c", 200, raised=[Raised(by="after work", times=3.0)])
    new = fault("d", 200, part="pump", raised=[Raised(by="new part", times=3.0)])
    assert [prior_chance(one, car, story, {}) for one in (touched, elsewhere, anywhere, new)] == pytest.approx(
        [3.0 / 7.0, 0.2, 3.0 / 7.0, 3.0 / 7.0]
    )
    assert prior_chance(anywhere, Car(), NO_STORY, {}) == pytest.approx(0.2)


def test_equipment_not_told_leaves_a_share_of_the_chance() -> None:
    """Of cars of unknown ignition three in ten have a distributor; a share of a chance, not of odds."""
    fitted = {"ignition": Fitted(field="ignition", share={"distributor": 0.3, "coil on plug": 0.7}, source="memory")}
    one = fault("a", 200, needs={"ignition": ("distributor",)})
    assert prior_chance(one, Car(), NO_STORY, fitted) == pytest.approx(0.06)
    assert prior_chance(one, Car(ignition="distributor"), NO_STORY, fitted) == pytest.approx(0.2)
    assert prior_chance(one, Car(ignition="coil on plug"), NO_STORY, fitted) == 0.0


def test_least_chance() -> None:
    """A count of nearly nothing is not nothing."""
    assert prior_chance(fault("a", 1e-12), Car(), NO_STORY, {}) == LEAST


@pytest.mark.parametrize(
    ("place", "names"),
    [
        ("cylinder", ["1", "2", "3", "4"]),
        ("bank", ["1", "2"]),
        ("pair", ["1-2", "3-4"]),
        ("companions", ["1-4", "2-3"]),
        ("engine", [""]),
    ],
)
def test_places_of_a_fault(place: str, names: list[str]) -> None:
    """On a V4 numbered by bank and firing 1-3-4-2."""
    layout = layout_of(Car(cylinders=4, form="V"))
    assert layout.places(place) == tuple(Place(place, name) for name in names)


def test_faults_the_car_cannot_have_are_left_out() -> None:
    """All chances of a car: each place of each fault it can have."""
    car = Car(cylinders=2, ignition="coil on plug")
    records = library(
        faults=[fault("a", 40, place="cylinder"), fault("b", 10), fault("c", 5, needs={"ignition": ("distributor",)})]
    )
    priors = all_priors(records, car, layout_of(car))
    assert {str(at): chance for at, chance in priors.items()} == pytest.approx(
        {"a @ cylinder 1": 0.04, "a @ cylinder 2": 0.04, "b @ engine": 0.01}
    )
