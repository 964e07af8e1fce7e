"""A cure that was made before seldom works, so another is planned."""

from __future__ import annotations

import pytest
from msgspec.structs import replace
from scipy.special import beta

from knowngood.app.state import State
from knowngood.app.tasks import repairs_of
from knowngood.belief.protocol import FaultAt
from knowngood.belief.timeline import SECOND_TRY, share_at
from knowngood.car import ENGINE
from knowngood.evidence import Body, CarFact, Reading, Work
from knowngood.library.load import load
from tests.told import state_with

SHAKES, STEADY = (Reading(kind="shakes", word=word) for word in ("yes", "no"))
CLEANED, NEW = (Work(do=do, part="air_meter", places=(ENGINE,)) for do in ("cleaned", "replaced"))
LOW = FaultAt("air_meter_reads_low", ENGINE)


def state_after(*bodies: Body) -> State:
    """A four with an air meter after these entries, a day apart."""
    return state_with(CarFact("air_meter", '"flow meter"'), *bodies)


def meters(*bodies: Body) -> dict[str, float]:
    """What is planned to be done to the air meter after these entries, with how often it works."""
    planned = repairs_of(state_after(*bodies), 0.0, cheaper_too=True)
    return {one.do: one.works for one in planned if one.part == "air_meter"}


def test_a_meter_is_cleaned_once_then_replaced() -> None:
    """What cleaning did not put right cleaning seldom puts right; a new meter may be cleaned again."""
    first = meters(SHAKES)
    assert set(first) == {"cleaned", "replaced"}
    assert set(meters(SHAKES, CLEANED)) == {"replaced"}
    assert meters(SHAKES, CLEANED, NEW) == first


def test_a_second_cleaning_leaves_most_of_what_the_first_left() -> None:
    """Of meters that read low the first cleaning leaves 1 - works, the second 1 - works / 5 of these."""
    works = next(cure.works for cure in load().faults[LOW.fault].cures if cure.do == "cleaned")
    chance = [state_after(SHAKES, *[CLEANED] * times).belief for times in range(3)]
    before, once, twice = (float(one.chances()[one.model.column[LOW]]) for one in chance)
    assert once / before == pytest.approx(1.0 - works)
    assert twice / once == pytest.approx(1.0 - SECOND_TRY * works)


def test_what_helped_once_may_help_again() -> None:
    """The shaking was gone and is back: the meter may be dirty again. That it does not stall says nothing of that."""
    assert "cleaned" in meters(SHAKES, CLEANED, STEADY, SHAKES)
    assert "cleaned" not in meters(SHAKES, CLEANED, Reading(kind="stalls", word="no"))


def test_what_others_did_may_be_done_right() -> None:
    """The owner's cleaning is no reason not to clean."""
    assert "cleaned" in meters(SHAKES, replace(CLEANED, who="owner"))


def test_a_battery_is_charged_once_then_replaced() -> None:
    """Charging brings an old one back once in four, and hardly where it was charged before; a new one is another."""
    slow, charged = Reading(kind="slow_crank", word="yes"), Work(do="refilled", part="battery", places=(ENGINE,))

    def share(*bodies: Body) -> float:
        planned = repairs_of(state_after(slow, *bodies), 0.0)
        every = {one.do: one.works for one in planned if one.part == "battery"}
        assert every["replaced"] > 0.9
        belief = state_after(slow, *bodies).belief
        old = FaultAt("battery_weak", ENGINE)
        return belief.model.timeline.share_left("refilled", "battery", belief.instance_now(old))

    assert share() == 1.0
    assert share(charged) == SECOND_TRY
    assert share(charged, Work(do="replaced", part="battery", places=(ENGINE,))) == 1.0


def test_a_level_that_is_low_is_filled_up_again() -> None:
    """Coolant that ran out through a leak: the second filling fills it as well as the first."""
    filled = Work(do="refilled", part="coolant", places=(ENGINE,))
    belief = state_after(Reading(kind="coolant_level_look", word="low"), filled).belief
    low = FaultAt("coolant_not_topped", ENGINE)
    assert belief.model.timeline.share_left("refilled", "coolant", belief.instance_now(low)) == 1.0


@pytest.mark.parametrize("works", [0.25, 0.7, 0.97])
@pytest.mark.parametrize("times", [1, 2, 5])
def test_each_try_in_vain_leaves_less_as_of_a_beta_distribution(works: float, times: int) -> None:
    """Chance q of success spread over parts as Beta(a, b): after n failures its mean is B(a + 1, b + n) / B(a, b + n).

    Against scipy, with a + b such that one failure leaves a fifth (textbook result of conjugate priors).
    """
    spread = SECOND_TRY / (1.0 - SECOND_TRY)
    a, b = works * spread, (1.0 - works) * spread
    mean = beta(a + 1.0, b + times) / beta(a, b + times)
    assert works * share_at(times) == pytest.approx(mean)
