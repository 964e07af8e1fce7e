"""Invented values on their way to a needle, and the chances straight from the steps of the way.

Nothing here knows what the way is turned into: for every set of faults the value is followed from step to step.
"""

from __future__ import annotations

import itertools

import msgspec
import numpy as np

from knowngood.belief.protocol import FaultAt
from knowngood.car import ENGINE
from knowngood.evidence import Entry, Reading
from knowngood.library.records import Act, Chance, Cure, Fault, Ladder, Library, ReadingKind
from knowngood.library.tables import KINDS
from knowngood.library.way_records import TRUE, Step, Way
from knowngood.library.ways import lay
from tests.in_turn import in_turn

RANGE = {"low": 1.0, "high": 900.0, "source": "memory"}
CURES = (Cure(do="repaired", minutes=5, source="memory"),)
LEVELS = ("as it is", "low", "lost")
SHOWN = ("usual", "less", "gone")
SEEN = {"usual": {"a": 0.9, "b": 0.1}, "less": {"a": 0.35, "b": 0.65}, "gone": {"a": 0.05, "b": 0.95}}


def way_library(rng: np.random.Generator, steps: int, faults: int) -> Library:
    """One value with so many steps, some of which take it from an earlier one or from the value itself."""
    made = []
    for index in range(steps):
        earlier = ["", TRUE, *(f"s{n}" for n in range(index))]
        made.append(Step(id=f"s{index}", name=f"step {index}", after=str(rng.choice(earlier)) if index else ""))
    way = Way(
        id="value",
        name="value",
        source="memory",
        levels=LEVELS,
        steps=tuple(made),
        shown=SHOWN,
        shows={"low": "less", "lost": "gone"},
        truth="truth",
        truth_shows={"short": "less", "empty": "gone"},
    )
    truth = Ladder(id="truth", name="truth", place="engine", levels=("full", "short", "empty"))
    places = ["truth", *(step.id for step in made)]
    kinds = {}
    for index in range(faults):
        on = str(rng.choice(places))
        level = str(rng.choice(truth.levels[1:] if on == "truth" else LEVELS[1:]))
        chance = Chance(per_1000=float(rng.uniform(50, 400)), **RANGE)
        act = Act(on=on, level=level)
        kinds[f"f{index}"] = Fault(
            id=f"f{index}", name="fault", part="part", place="engine", chance=chance, acts=(act,), cures=CURES
        )
    readings = {
        f"at_{taken}": ReadingKind(
            id=f"at_{taken}", name=taken, place="engine", source="memory", taken=taken, words=("a", "b"), chance=SEEN
        )
        for taken in ("value", *(step.id for step in made))
    }
    tables = {kind.place: {} for kind in KINDS}
    tables.update(ladders={"truth": truth}, faults=kinds, readings=readings, ways={"value": way})
    lay(tables)
    return Library(hash="way", **tables)


def way_entries(rng: np.random.Generator, library: Library, count: int) -> list[Entry]:
    """So many readings, taken anywhere on the way."""
    bodies = [
        Reading(kind=str(rng.choice(sorted(library.readings))), place=ENGINE, word=str(rng.choice(("a", "b"))))
        for _ in range(count)
    ]
    return in_turn(bodies)


def chances(library: Library, faults: tuple[FaultAt, ...], entries: list[Entry]) -> np.ndarray:
    """Chance of each fault (fault,) by every set of them."""
    mass, total = np.zeros(len(faults)), 0.0
    for bits in itertools.product((False, True), repeat=len(faults)):
        present = [library.faults[at.fault] for at, bit in zip(faults, bits, strict=True) if bit]
        weight = 1.0
        for at, bit in zip(faults, bits, strict=True):
            prior = library.faults[at.fault].chance.per_1000 / 1000.0
            weight *= prior if bit else 1.0 - prior
        # the same word read at the same step twice counts once
        for body in {entry.body for entry in entries}:
            assert isinstance(body, Reading)
            weight *= SEEN[shown(library.ways["value"], body.kind.removeprefix("at_"), present)][body.word]
        total += weight
        mass += weight * np.array(bits)
    return mass / total


def shown(way: Way, taken: str, present: list[Fault]) -> str:
    """What a reading shows at a step, following the value there."""

    def worst(on: str, levels: tuple[str, ...]) -> int:
        return max((levels.index(act.level) for fault in present for act in fault.acts if act.on == on), default=0)

    truth = SHOWN[worst("truth", ("full", "short", "empty"))]
    if taken == way.id:
        return truth
    by_id = {step.id: step for step in way.steps}
    so_far, here = 0, taken
    while here:
        so_far = max(so_far, worst(here, LEVELS))
        step = by_id[here]
        at = way.steps.index(step)
        here = {"": way.steps[at - 1].id if at else "", TRUE: ""}.get(step.after, step.after)
    return SHOWN[max(so_far, SHOWN.index(truth))]


def with_a_fault_each(library: Library, steps: tuple[Step, ...], rng: np.random.Generator) -> Library:
    """The same value with its steps in a row and one fault, equally likely, of the truth and of each step."""
    tables = {kind.place: dict(getattr(library, kind.place)) for kind in KINDS}
    tables["ladders"] = {"truth": library.ladders["truth"]}
    tables["ways"] = {"value": msgspec.structs.replace(library.ways["value"], steps=steps)}
    chance = Chance(per_1000=float(rng.uniform(20, 200)), **RANGE)
    for on, level in (("truth", "empty"), *((step.id, "lost") for step in steps)):
        act = Act(on=on, level=level)
        tables["faults"][f"of_{on}"] = Fault(
            id=f"of_{on}", name="fault", part="part", place="engine", chance=chance, acts=(act,), cures=CURES
        )
    tables["readings"] = {
        name: msgspec.structs.replace(kind, levels=(), inputs={}) for name, kind in tables["readings"].items()
    }
    lay(tables)
    return Library(hash="way", **tables)
