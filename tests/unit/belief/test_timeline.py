"""Which part sat where, and what each work makes of the faults."""

from __future__ import annotations

import pytest

from knowngood.belief.protocol import FaultAt
from knowngood.belief.timeline import Birth, Instance, Timeline, new_part_chances
from knowngood.car import ENGINE, Car, layout_of
from knowngood.evidence import Work
from knowngood.library.records import Cure, Fault
from tests.unit.belief.tiny import ONE, TWO, fault, library

COIL = fault("dead", 10, part="coil", place="cylinder")
LOOSE = fault(
    "loose",
    10,
    part="plug",
    place="cylinder",
    cures=[Cure(do="reseated", part="plug", minutes=1, source="memory", works=0.9)],
)
TWIN = layout_of(Car(cylinders=2))
SET = fault("set", 10, part="coil")


def timeline() -> Timeline:
    """Two cylinders with a coil and a plug connector each, and what is said of the set of coils."""
    places = [FaultAt(one.id, place) for one in (COIL, LOOSE) for place in (ONE, TWO)] + [FaultAt("set", ENGINE)]
    return Timeline(library(faults=[COIL, LOOSE, SET]), places, TWIN)


def test_at_first_everything_is_at_home() -> None:
    """Serial 0, generation 0, where it was found."""
    assert timeline().now.instance(COIL, ONE) == Instance("dead", ONE, 0, 0)


def test_swap_exchanges_the_parts_and_a_second_one_brings_them_back() -> None:
    """The coil of 1 sits on 2 and the other way round; the connectors stay."""
    line = timeline()
    before = line.now
    line.do(Work(do="swapped", part="coil", to=TWO), (ONE,))
    assert line.now.instance(COIL, ONE) == Instance("dead", TWO)
    assert line.now.instance(COIL, TWO) == Instance("dead", ONE)
    assert line.now.instance(LOOSE, ONE) == Instance("loose", ONE)
    assert before.instance(COIL, ONE) == Instance("dead", ONE)
    line.do(Work(do="swapped", part="coil", to=ONE), (TWO,))
    assert line.now.instance(COIL, ONE) == Instance("dead", ONE)


@pytest.mark.parametrize("do", ["replaced", "tried", "fitted"])
def test_new_part_is_another_one_each_time(do: str) -> None:
    """It has a serial of its own and is born new."""
    line = timeline()
    line.do(Work(do=do, part="coil"), (ONE,))
    first = line.now.instance(COIL, ONE)
    line.do(Work(do=do, part="coil"), (ONE,))
    second = line.now.instance(COIL, ONE)
    assert [first.serial, second.serial] == [1, 2]
    assert line.births[first] == Birth("new")
    assert line.now.instance(COIL, TWO).serial == 0


def test_new_part_moves_with_the_next_swap() -> None:
    """The new coil of 1 goes to 2."""
    line = timeline()
    line.do(Work(do="replaced", part="coil"), (ONE,))
    line.do(Work(do="swapped", part="coil", to=TWO), (ONE,))
    assert line.now.instance(COIL, TWO) == Instance("dead", ONE, 1)
    assert line.now.instance(COIL, ONE) == Instance("dead", TWO, 0)


def test_a_whole_new_set_ends_what_was_said_of_the_set() -> None:
    """All coils new: the fault of the set is of a new set; one coil new: it is not."""
    one, all_of_them = timeline(), timeline()
    one.do(Work(do="replaced", part="coil"), (ONE,))
    all_of_them.do(Work(do="replaced", part="coil"), (ONE, TWO))
    assert one.now.instance(SET, ENGINE).serial == 0
    assert all_of_them.now.instance(SET, ENGINE).serial == 1


def test_set_renewed_one_by_one_is_a_new_set_once() -> None:
    """As good as at once when the last old one went, wherever it sat by then; one more later makes no new set."""
    line = timeline()
    line.do(Work(do="replaced", part="coil"), (ONE,))
    line.do(Work(do="swapped", part="coil", to=TWO), (ONE,))
    line.do(Work(do="replaced", part="coil"), (TWO,))
    assert line.now.instance(SET, ENGINE) == Instance("set", ENGINE, 0)
    line.do(Work(do="replaced", part="coil"), (ONE,))
    assert line.now.instance(SET, ENGINE) == Instance("set", ENGINE, 1)
    line.do(Work(do="replaced", part="coil"), (ONE,))
    assert line.now.instance(SET, ENGINE) == Instance("set", ENGINE, 1)
    line.do(Work(do="replaced", part="coil"), (ONE, TWO))
    line.do(Work(do="replaced", part="coil"), (TWO,))
    assert line.now.instance(SET, ENGINE) == Instance("set", ENGINE, 2)


def test_cure_starts_a_new_generation_of_what_it_cures() -> None:
    """Reseating leaves the fault with one chance in ten; the coil is not touched, nor is the other cylinder."""
    line = timeline()
    line.do(Work(do="reseated", part="plug"), (ONE,))
    cured = line.now.instance(LOOSE, ONE)
    assert cured == Instance("loose", ONE, 0, 1)
    assert line.births[cured] == Birth("left", Instance("loose", ONE), 0.9)
    assert line.now.instance(COIL, ONE).generation == 0
    assert line.now.instance(LOOSE, TWO).generation == 0


def test_work_that_cures_nothing_changes_nothing() -> None:
    """Cleaning is no cure of either fault here."""
    line = timeline()
    line.do(Work(do="cleaned", part="coil"), (ONE,))
    assert line.now.instance(COIL, ONE) == Instance("dead", ONE)
    assert not line.births


def test_new_part_shares_its_chance_as_the_old_one_did() -> None:
    """10 of 1,000 new parts are bad, three quarters of them the way three quarters of old ones are."""
    assert new_part_chances({"a": 0.06, "b": 0.02}, 0.01) == pytest.approx({"a": 0.0075, "b": 0.0025})
    assert new_part_chances({"a": 0.0}, 0.01) == {"a": 0.0}


RELEARN = fault("not_learned", 10, part="valve", cures=[Cure(do="relearned", minutes=1, source="memory", works=0.9)])
BRIDGE = fault("bridged", 10, part="relay", cures=[Cure(do="removed", minutes=1, source="memory", works=0.95)])
EMPTY = fault(
    "empty", 10, part="sender", cures=[Cure(do="refilled", part="fuel", minutes=1, source="memory", works=0.99)]
)
BLOWN = fault(
    "blown", 10, part="hose", cures=[Cure(do="replaced", part="cooler", minutes=1, source="memory", works=0.8)]
)


@pytest.mark.parametrize(
    ("one", "do", "part", "works"),
    [
        (RELEARN, "relearned", "valve", 0.9),
        (BRIDGE, "removed", "relay", 0.95),
        (EMPTY, "refilled", "fuel", 0.99),
        (BLOWN, "replaced", "cooler", 0.8),
    ],
)
def test_every_cure_of_a_fault_is_heard(one: Fault, do: str, part: str, works: float) -> None:
    """Relearned, removed, and work on another part than the fault's own: each leaves what it does not cure."""
    line = Timeline(library(faults=[one]), [FaultAt(one.id, ENGINE)], TWIN)
    line.do(Work(do=do, part=part), (ENGINE,))
    after = line.now.instance(one, ENGINE)
    assert after == Instance(one.id, ENGINE, 0, 1)
    assert line.births[after] == Birth("left", Instance(one.id, ENGINE), works)
