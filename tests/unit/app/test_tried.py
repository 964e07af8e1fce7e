"""A cure that was made is not planned again while another is left."""

from __future__ import annotations

from msgspec.structs import replace

from knowngood.app.state import State, state_of
from knowngood.app.tasks import repairs_of
from knowngood.app.tried import tried
from knowngood.car import ENGINE, Place
from knowngood.evidence import Body, CarFact, Entry, Reading, Work
from knowngood.library.load import load

SHAKES, STEADY = (Reading(kind="shakes", word=word) for word in ("yes", "no"))
CLEANED, NEW = (Work(do=do, part="air_meter", places=(ENGINE,)) for do in ("cleaned", "replaced"))
DONE = frozenset({("cleaned", "air_meter", ENGINE)})


def state_after(*bodies: Body) -> State:
    """A four with an air meter after these entries, a day apart."""
    every = (CarFact("cylinders", "4"), CarFact("air_meter", '"flow meter"'), *bodies)
    return state_of(
        load(),
        [Entry(id=str(i), at=f"2026-01-{i + 1:02d}", entered="2026-01-01", body=body) for i, body in enumerate(every)],
    )


def meters(*bodies: Body) -> set[str]:
    """What is planned to be done to the air meter after these entries."""
    return {one.do for one in repairs_of(state_after(*bodies), 0.0, cheaper_too=True) if one.part == "air_meter"}


def test_a_meter_is_cleaned_once_then_replaced() -> None:
    """What cleaning did not put right cleaning does not put right; a new meter may be cleaned again."""
    assert meters(SHAKES) == {"cleaned", "replaced"}
    assert meters(SHAKES, CLEANED) == {"replaced"}
    assert meters(SHAKES, CLEANED, NEW) == {"cleaned", "replaced"}


def test_what_helped_once_may_help_again() -> None:
    """The shaking was gone and is back: the meter may be dirty again. That it does not stall says nothing of that."""
    assert tried(state_after(SHAKES, CLEANED)) == DONE
    assert tried(state_after(SHAKES, CLEANED, Reading(kind="stalls", word="no"))) == DONE
    assert tried(state_after(SHAKES, CLEANED, STEADY, SHAKES)) == frozenset()


def test_what_others_did_may_be_done_right() -> None:
    """The owner's cleaning is no reason not to clean."""
    assert tried(state_after(SHAKES, replace(CLEANED, who="owner"))) == frozenset()


def test_it_is_known_place_by_place() -> None:
    """A boot cleaned at 1 may be cleaned at 2."""
    one = Place("cylinder", "1")
    assert tried(state_after(SHAKES, Work(do="cleaned", part="boot", places=(one,)))) == {("cleaned", "boot", one)}


def test_the_only_cure_is_planned_again() -> None:
    """Where there is no other the fault is not left without a repair."""
    for fault in load().faults.values():
        if len(fault.cures) == 1 and fault.place == "engine" and fault.cures[0].do != "replaced":
            (cure,), part = fault.cures, fault.cures[0].part or fault.part
            break
    again = state_after(SHAKES, Work(do=cure.do, part=part, places=(ENGINE,)))
    assert any(repair.do == cure.do and repair.part == part for repair in repairs_of(again, 0.0))
