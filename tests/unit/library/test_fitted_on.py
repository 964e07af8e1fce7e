"""Whether a car has what a record needs: as told, else by the share of such cars that have it."""

from __future__ import annotations

import pytest

from knowngood.car import Car
from knowngood.library.fitted_on import (
    MOST_HAVE,
    WORTH_OFFERING,
    can_have,
    is_told,
    may_have,
    share_fitted,
    usually_has,
)
from knowngood.library.fitted_records import Fitted, Given
from knowngood.library.load import load
from knowngood.library.records import Part
from tests.unit.belief.tiny import library

DISTRIBUTOR = {"ignition": ("distributor",)}
IGNITION = {"ignition": Fitted(field="ignition", share={"distributor": 0.3, "coil on plug": 0.7}, source="memory")}


def _words(share: float) -> tuple[bool, bool, bool]:
    """Whether a car can have, may have, usually has what so many have."""
    shares = {"distributor": share, "coil on plug": 1.0 - share}
    records = library(fitted=[Fitted(field="ignition", share=shares, source="memory")])
    cap = Part(id="cap", name="cap", price=10.0, source="memory", needs=DISTRIBUTOR)
    return can_have(cap, Car(), records), may_have(cap, Car(), records), usually_has(cap, Car(), records)


def test_what_few_have_is_not_offered_and_what_most_have_is_taken_to_be_there() -> None:
    """None, too few, some and just half of the cars."""
    assert _words(0.0) == (False, False, False)
    assert _words(WORTH_OFFERING) == (True, False, False)
    assert _words(WORTH_OFFERING + 0.01) == _words(MOST_HAVE - 0.01) == (True, True, False)
    assert _words(MOST_HAVE) == (True, True, True)


def test_only_what_was_said_is_told() -> None:
    """A usual share is no word of this car; a turbo that was denied is told, and is not one."""
    assert is_told({}, Car())
    assert is_told(DISTRIBUTOR, Car(ignition="distributor"))
    assert not is_told(DISTRIBUTOR, Car())
    assert is_told({"cylinders": ("1", "4")}, Car(cylinders=1))
    assert not is_told({"cylinders": ("4",)}, Car())
    assert [is_told({"turbo": ("yes",)}, Car(turbo=turbo)) for turbo in (True, False, None)] == [True, False, False]
    assert is_told({"turbo": ("no",)}, Car(turbo=False))
    both = {**DISTRIBUTOR, "systems": ("automatic", "manual")}
    assert is_told(both, Car(ignition="distributor", systems=("manual",)))
    assert not is_told(both, Car(ignition="distributor"))
    assert not is_told(both, Car(systems=("manual",)))


def test_equipment_not_told_is_shared_out() -> None:
    """Told: all or nothing. Not told: the share of cars that have it."""
    assert share_fitted(DISTRIBUTOR, Car(ignition="distributor"), IGNITION) == 1.0
    assert share_fitted(DISTRIBUTOR, Car(ignition="coil on plug"), IGNITION) == 0.0
    assert share_fitted(DISTRIBUTOR, Car(), IGNITION) == pytest.approx(0.3)


def test_share_of_equipment_follows_what_is_told() -> None:
    """By year, not in `before` and in `since`; by another field; the first that holds; untold: that of all."""
    share = {"yes": 0.6, "no": 0.4}
    given = (
        Given(before=1994, share={"yes": 0.1, "no": 0.9}, source="memory"),
        Given(needs={"ignition": ("distributor",)}, share={"yes": 0.2, "no": 0.8}, source="memory"),
        Given(since=2000, share={"yes": 0.9, "no": 0.1}, source="memory"),
    )
    fitted = {"knock sensor": Fitted(field="knock sensor", share=share, source="memory", given=given)}
    cars = (
        Car(),
        Car(year=1993, ignition="distributor"),
        Car(year=1994, ignition="distributor"),
        Car(ignition="pair coil"),
        Car(year=1999),
        Car(year=2000),
    )
    needs = {"systems": ("knock sensor",)}
    assert [share_fitted(needs, car, fitted) for car in cars] == pytest.approx([0.6, 0.1, 0.2, 0.6, 0.6, 0.9])
    assert share_fitted(needs, Car(year=1990, systems=("knock sensor",)), fitted) == 1.0


def test_turbo_and_systems_are_shared_out_too() -> None:
    """A turbo is yes, no or not told; a system that was told is there."""
    assert share_fitted({"turbo": ("yes",)}, Car(turbo=False), {}) == 0.0
    assert share_fitted({"turbo": ("yes",)}, Car(turbo=True), {}) == 1.0
    assert share_fitted({"systems": ("automatic",)}, Car(systems=("automatic",)), {}) == 1.0


def test_system_of_one_kind_or_another() -> None:
    """Either will do: the share of the commoner one; of what nothing is known, half; one that is told settles it."""
    fitted = {
        name: Fitted(field=name, share={"yes": yes, "no": 1.0 - yes}, source="memory")
        for name, yes in (("automatic", 0.3), ("robot", 0.1))
    }
    either = {"systems": ("automatic", "robot")}
    assert share_fitted(either, Car(), fitted) == pytest.approx(0.3)
    assert share_fitted({"systems": ("automatic", "sunroof")}, Car(), fitted) == pytest.approx(0.3)
    assert share_fitted({"systems": ("sunroof",)}, Car(), fitted) == pytest.approx(0.5)
    never = {"robot": Fitted(field="robot", share={"no": 1.0}, source="memory")}
    assert share_fitted({"systems": ("robot",)}, Car(), never) == 0.0
    assert share_fitted(either, Car(systems=("robot",)), fitted) == 1.0


def test_needs_of_several_kinds_multiply() -> None:
    """Three in ten have a distributor, six in ten the sensor; a field nobody counted and nobody told leaves it open."""
    fitted = {
        "ignition": Fitted(field="ignition", share={"distributor": 0.3, "coil on plug": 0.7}, source="memory"),
        "knock sensor": Fitted(field="knock sensor", share={"yes": 0.6, "no": 0.4}, source="memory"),
    }
    needs = {"ignition": ("distributor",), "systems": ("knock sensor",), "turbo": ("yes",)}
    assert share_fitted(needs, Car(), fitted) == pytest.approx(0.18)
    assert share_fitted(needs, Car(turbo=False), fitted) == 0.0


@pytest.mark.parametrize(
    ("one", "other"), [("timing chain", "timing belt"), ("timing belt", "timing chain"), ("manual", "automatic")]
)
def test_what_was_told_leaves_no_share_of_what_it_stands_in_for(one: str, other: str) -> None:
    """An engine with a chain has no belt to tear, a manual gearbox shifts by hand."""
    fitted = load().fitted
    assert share_fitted({"systems": (other,)}, Car(systems=(one,)), fitted) == 0.0
    assert share_fitted({"systems": (one,)}, Car(systems=(one,)), fitted) == 1.0
    assert 0.0 < share_fitted({"systems": (other,)}, Car(), fitted) < 1.0
