"""What may have killed a part: from the library, for one car, and in words."""

from __future__ import annotations

import pytest

from knowngood.app.killed import held_words, killers_of, may_have_killed
from knowngood.app.state import State, state_of
from knowngood.app.tasks import repairs_of
from knowngood.belief.protocol import FaultAt
from knowngood.car import ENGINE, Place
from knowngood.library.load import load
from knowngood.planner.problem import Repair
from knowngood.planner.steps import Held


@pytest.fixture(scope="module")
def state() -> State:
    """A car of which nothing is said."""
    return state_of(load(), ())


def test_parts_that_do_not_die_alone(state: State) -> None:
    """Computer, drivers, fuses, relays, alternator, catalyst, pump: each has something that kills it."""
    for dead in (
        "ecu_dead",
        "coil_driver_dead",
        "injector_driver_dead",
        "pump_fuse_blown",
        "pump_relay_dead",
        "main_relay_dead",
        "alternator_dead",
        "catalyst_melted",
        "fuel_pump_dead",
    ):
        assert killers_of(state.library, [dead]), dead
    assert killers_of(state.library, ["plug_worn"]) == set()


def test_nothing_kills_itself(state: State) -> None:
    """A part is not what killed it: no entry names one fault on both sides."""
    for killed in state.library.killed.values():
        assert not set(killed.faults) & set(killed.by), killed.id


def test_of_a_cylinder_only_the_same_cylinder_counts(state: State) -> None:
    """The driver of cylinder 2 was not killed by the coil of cylinder 3."""
    two, three = Place("cylinder", "2"), Place("cylinder", "3")
    killers = may_have_killed(state, [FaultAt("coil_driver_dead", two)])
    assert FaultAt("coil_wire_chafed", two) in killers
    assert FaultAt("coil_wire_chafed", three) not in killers
    assert any(at.place.kind != "cylinder" for at in killers)


def test_only_replacing_waits(state: State) -> None:
    """A part that is cleaned or reseated is not killed again by that."""
    for repair in repairs_of(state):
        if repair.do != "replaced":
            assert repair.killed_by == (), repair.id


def test_words(state: State) -> None:
    """Why it waits, and what answers it, word for word."""
    two = Place("cylinder", "2")
    repair = Repair(id="r", name="replace engine computer", fixes=(FaultAt("coil_driver_dead", two),), minutes=1.0)
    held = Held(repair, ((FaultAt("coil_wire_chafed", two), 0.1), (FaultAt("loom_chewed", ENGINE), 0.3)), None)
    wire = state.library.faults["coil_wire_chafed"].name
    loom = state.library.faults["loom_chewed"].name
    said = (
        f"Do not replace engine computer yet. What killed it? It may be {wire}, cylinder 2 (about 1 in 10) or {loom} "
        "(about 3 in 10). A coil shorted inside, or its wire touching the battery feed, burns the driver that switches "
        "it. "
    )
    assert held_words(state, held, "") == said + "Rule that out by looking before a new one goes in."
    assert held_words(state, held, "Loom look") == said + "This tells: loom look."
