"""Invented cars whose faults sit on branches, and their chances straight from the table of branches.

Nothing here knows what the table is turned into: which branch still carries is asked of the table, branch by branch up
to the battery, for every set of faults.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np

from knowngood.belief.protocol import FaultAt
from knowngood.car import ENGINE, Layout, Place
from knowngood.evidence import Entry, Reading
from knowngood.library.branch_records import BRANCH_LEVELS, KINDS_OF_BRANCH, Branch, Consumer
from knowngood.library.branching import with_branches
from knowngood.library.records import (
    Act,
    BranchFault,
    BranchReading,
    Chance,
    Cure,
    Fault,
    Ladder,
    Library,
    ReadingKind,
)
from tests.in_turn import in_turn

RANGE = {"low": 1.0, "high": 900.0, "source": "memory"}
CURES = (Cure(do="repaired", minutes=5, source="memory"),)
SEEN = {"good": {"yes": 0.05, "no": 0.95}, "poor": {"yes": 0.4, "no": 0.6}, "none": {"yes": 0.9, "no": 0.1}}


@dataclass(frozen=True)
class Wired:
    """A library with its branches written out, and the table they were written out from."""

    library: Library
    branches: tuple[Branch, ...]
    written: dict[str, Act]


def wired_library(rng: np.random.Generator, count: int) -> Wired:
    """So many branches, each after some of the earlier ones, two consumers of the engine and two of a cylinder."""
    places = ["engine", *(str(rng.choice(("engine", "engine", "bank"))) for _ in range(count - 1))]
    branches = []
    for index, place in enumerate(places):
        # what feeds the whole engine is not fed by one bank
        earlier = [f"b{n}" for n in range(index) if places[n] == "engine" or place == "bank"]
        after = tuple(str(name) for name in rng.permutation(earlier)[: int(rng.integers(0, 3))])
        feeds = tuple(name for name in ("one", "two", "three", "four") if rng.random() < 0.5)
        kind = str(rng.choice(KINDS_OF_BRANCH))
        branches.append(
            Branch(
                id=f"b{index}",
                name=f"branch {index}",
                kind=kind,
                source="memory",
                place=place,
                after=after,
                feeds=feeds,
            )
        )
    ladders = {
        name: Ladder(id=name, name=name, place=place, levels=("good", "poor", "none"))
        for name, place in (("pump", "engine"), ("lamp", "engine"), ("coil", "cylinder"), ("valve", "cylinder"))
    }
    lost = ({"pump": {"poor": "poor", "none": "none"}}, {"pump": {"none": "poor"}, "coil": {"none": "none"}})
    lost += ({"lamp": {"poor": "none", "none": "none"}}, {"valve": {"poor": "poor", "none": "none"}})
    written = {f"f{index}": Act(on=f"b{index}", level="poor") for index in range(count) if rng.random() < 0.3}
    faults = [
        Fault(
            id=name,
            name=name,
            part="wire",
            place=branches[int(name[1:])].place,
            chance=Chance(per_1000=float(rng.uniform(50, 400)), **RANGE),
            acts=(act,),
            cures=CURES,
        )
        for name, act in written.items()
    ]
    # a fault of one cylinder, so that no two cylinders are alike: a word said of the same thing twice counts once
    faults.append(
        Fault(
            id="coil_dead",
            name="coil dead",
            part="coil",
            place="cylinder",
            chance=Chance(per_1000=150.0, **RANGE),
            acts=(Act(on="coil", level="none"), Act(on="valve", level="none")),
            cures=CURES,
        )
    )
    shared = {
        name: BranchFault(
            id=name,
            name=name,
            part="wire",
            branches=kinds,
            chance=Chance(per_1000=float(rng.uniform(50, 400)), **RANGE),
            acts=(Act(on="branch", level=level),),
            cures=CURES,
        )
        for name, kinds, level in (("gone", KINDS_OF_BRANCH[:2], "none"), ("poor", KINDS_OF_BRANCH[1:], "poor"))
    }
    own = {
        name: ReadingKind(
            id=f"see_{name}", name=name, place=ladder.place, source="memory", on=name, words=("yes", "no"), chance=SEEN
        )
        for name, ladder in ladders.items()
    }
    behind = BranchReading(
        id="behind",
        name="behind",
        source="memory",
        branches=KINDS_OF_BRANCH,
        on="branch_carries",
        words=("yes", "no"),
        chance=SEEN,
    )
    over = BranchReading(
        id="over", name="over", source="memory", branches=KINDS_OF_BRANCH, on="branch", words=("yes", "no"), chance=SEEN
    )
    bare = Library(
        hash="wired",
        **{name: {} for name in ("sources", "checks", "parts", "access", "codes", "cautions", "gates", "tools")},
        areas={},
        fitted={},
        ladders=ladders,
        faults={fault.id: fault for fault in faults},
        readings={kind.id: kind for kind in own.values()},
        consumers={
            name: Consumer(id=name, name=name, lost=table)
            for name, table in zip(("one", "two", "three", "four"), lost, strict=True)
        },
        branch_faults=shared,
        branch_readings={"behind": behind, "over": over},
    )
    return Wired(with_branches(bare, branches), tuple(branches), written)


def wired_entries(rng: np.random.Generator, wired: Wired, layout: Layout, count: int) -> list[Entry]:
    """So many readings, at branches and at what hangs on them."""
    kinds = sorted(wired.library.readings)
    bodies = []
    for _ in range(count):
        kind = wired.library.readings[str(rng.choice(kinds))]
        number = int(rng.integers(1, layout.cylinders + 1))
        place = {"cylinder": Place("cylinder", str(number)), "bank": Place("bank", str(layout.bank_of(number)))}
        bodies.append(Reading(kind=kind.id, place=place.get(kind.place, ENGINE), word=str(rng.choice(("yes", "no")))))
    return in_turn(bodies)


class TableBelief:
    """Chances by every set of faults and the table of branches."""

    def __init__(self, wired: Wired, layout: Layout, faults: tuple[FaultAt, ...], entries: list[Entry]) -> None:
        self.wired, self.layout, self.faults = wired, layout, faults
        self.by_id = {branch.id: branch for branch in wired.branches}
        self.entries = entries

    def chances(self) -> np.ndarray:
        """Chance of each fault (fault,)."""
        mass, total = np.zeros(len(self.faults)), 0.0
        prior = [self.wired.library.faults[at.fault].chance.per_1000 / 1000.0 for at in self.faults]
        for bits in itertools.product((False, True), repeat=len(self.faults)):
            present = frozenset(at for at, bit in zip(self.faults, bits, strict=True) if bit)
            weight = float(np.prod([p if bit else 1.0 - p for p, bit in zip(prior, bits, strict=True)]))
            # the same word of the same thing twice counts once
            for body in {entry.body for entry in self.entries}:
                assert isinstance(body, Reading)
                weight *= SEEN[self.level(body, present)][body.word]
            total += weight
            mass += weight * np.array(bits)
        return mass / total

    def level(self, reading: Reading, present: frozenset[FaultAt]) -> str:
        """The level a reading stands on, with these faults."""
        what, _, name = reading.kind.partition("_")
        if what == "over":
            return BRANCH_LEVELS[self.own(name, reading.place, present)]
        if what == "behind":
            return BRANCH_LEVELS[self.left(name, reading.place, present)]
        worst = 2 if name in ("coil", "valve") and FaultAt("coil_dead", reading.place) in present else 0
        for branch in self.wired.branches:
            for consumer in branch.feeds:
                table = self.wired.library.consumers[consumer].lost.get(name, {})
                for at in self.meets(branch, reading.place):
                    state = BRANCH_LEVELS[self.left(branch.id, at, present)]
                    worst = max(worst, BRANCH_LEVELS.index(table.get(state, "good")))
        return BRANCH_LEVELS[worst]

    def meets(self, branch: Branch, place: Place) -> list[Place]:
        """Where a branch is that something at a place hangs on."""
        if branch.place == "engine":
            return [ENGINE]
        if place.kind == "cylinder":
            return [Place("bank", str(self.layout.bank_of(int(place.name))))]
        if place.kind == "bank":
            return [place]
        return [Place("bank", str(index + 1)) for index in range(len(self.layout.banks))]

    def own(self, name: str, place: Place, present: frozenset[FaultAt]) -> int:
        """How a branch is by itself."""
        written = self.wired.written.get(f"f{name[1:]}")
        levels = {f"gone_{name}": 2, f"poor_{name}": 1, f"f{name[1:]}": 1 if written else 0}
        return max((level for fault, level in levels.items() if FaultAt(fault, place) in present), default=0)

    def left(self, name: str, place: Place, present: frozenset[FaultAt]) -> int:
        """What is left behind a branch and every one it comes after."""
        above = [
            self.left(up, at, present) for up in self.by_id[name].after for at in self.meets(self.by_id[up], place)
        ]
        return max([self.own(name, place, present), *above])
