"""Small invented cars and libraries, drawn at random, for comparing fast and slow."""

from __future__ import annotations

import msgspec
import numpy as np

from knowngood.car import Car, Layout, Place, layout_of
from knowngood.evidence import Entry, Finding, Reading, Value, Work
from knowngood.library.records import (
    Act,
    Area,
    Chance,
    Cure,
    Fault,
    Healthy,
    Ladder,
    Library,
    Part,
    Raised,
    ReadingKind,
    Spread,
)
from tests.in_turn import in_turn

RANGE = {"low": 1.0, "high": 900.0, "source": "memory"}


def small_library(rng: np.random.Generator, cylinder_kinds: int, engine_kinds: int) -> Library:
    """Ladders of every sort, few faults, a reading on each ladder."""
    ladders = [
        Ladder(id="spark", name="spark", place="cylinder", levels=("good", "weak", "none")),
        Ladder(
            id="burn",
            name="burn",
            place="cylinder",
            levels=("steady", "poor", "dead"),
            inputs={"spark": {"weak": "poor", "none": "dead"}, "mixture": {"-3..-2": "poor", "3..3": "dead"}},
        ),
        Ladder(id="mixture", name="mixture", place="bank", combine="sum", low=-3, high=3),
        Ladder(
            id="missing",
            name="missing",
            place="engine",
            combine="sum",
            low=0,
            high=2,
            inputs={"burn": {"poor": 1, "dead": 1}},
        ),
        Ladder(
            id="rough",
            name="rough",
            place="engine",
            levels=("smooth", "uneven", "shaking"),
            inputs={"burn": {"poor": "uneven", "dead": "shaking"}},
        ),
    ]
    faults = []
    for index in range(cylinder_kinds + engine_kinds):
        place = "cylinder" if index < cylinder_kinds else ("engine", "bank")[index % 2]
        acts = []
        for ladder in ladders:
            if ladder.id == "missing" or rng.random() > 0.45:
                continue
            when = ("cold idle",) if rng.random() < 0.3 else ()
            only = ("wet",) if rng.random() < 0.2 else ()
            if ladder.combine == "sum":
                acts.append(Act(on=ladder.id, shift=int(rng.choice([-2, -1, 1, 2])), when=when, only=only))
            else:
                acts.append(Act(on=ladder.id, level=str(rng.choice(ladder.levels[1:])), when=when, only=only))
        part = f"part{index % 2}" if place == "cylinder" else f"thing{index}"
        faults.append(
            Fault(
                id=f"f{index}",
                name=f"fault {index}",
                part=part,
                place=place,
                chance=Chance(per_1000=float(rng.uniform(20, 400)), **RANGE),
                acts=tuple(acts),
                cures=(Cure(do="cleaned", part=part, minutes=5, source="memory", works=0.8),),
            )
        )
    table = {
        "rough": {"smooth": 0.02, "uneven": 0.5, "shaking": 0.9},
        "burn": {"steady": 0.01, "poor": 0.4, "dead": 0.8},
        "spark": {"good": 0.05, "weak": 0.5, "none": 0.95},
    }
    readings = [
        ReadingKind(
            id=f"see_{ladder}",
            name=ladder,
            place="engine" if ladder == "rough" else "cylinder",
            source="memory",
            on=ladder,
            words=("yes", "no"),
            chance={level: {"yes": p, "no": 1 - p} for level, p in levels.items()},
            complaint=ladder == "rough",
        )
        for ladder, levels in table.items()
    ]
    readings += [
        ReadingKind(
            id="count",
            name="count",
            place="engine",
            source="memory",
            on="missing",
            quantity="count",
            per_step=1.0,
            noise=0.6,
        ),
        ReadingKind(
            id="trim",
            name="trim",
            place="bank",
            source="memory",
            on="mixture",
            when="hot idle",
            per_step=-5.0,
            noise=3.0,
        ),
        ReadingKind(
            id="resistance",
            name="resistance",
            place="cylinder",
            source="memory",
            levels=("good", "high"),
            direct={"f0": "high"},
            relative=True,
            healthy=Healthy(low=1000.0, high=20000.0, source="memory"),
            spread={"good": Spread(at=1.0, spread=0.05), "high": Spread(low=1.5, high=20.0, open=0.2)},
        ),
    ]
    every = {ladder.id: ladder for ladder in ladders}
    return Library(
        hash="small",
        sources={},
        ladders=every,
        faults={fault.id: fault for fault in faults},
        readings={reading.id: reading for reading in readings},
        checks={},
        parts={
            f"part{i}": Part(id=f"part{i}", name=f"part {i}", price=10, source="memory", swaps=True) for i in range(2)
        },
        access={},
        codes={},
        cautions={},
        gates={},
        tools={},
        areas={},
        fitted={},
    )


def small_entries(rng: np.random.Generator, library: Library, layout: Layout, readings: int, works: int) -> list[Entry]:
    """Readings of every kind with works among them, in time order."""
    kinds = list(library.readings)
    bodies: list[object] = []
    order = ["reading"] * readings + ["work"] * works
    rng.shuffle(order)
    for what in order:
        number = str(int(rng.integers(1, layout.cylinders + 1)))
        cylinder = Place("cylinder", number)
        if what == "work":
            other = Place("cylinder", str(int(number) % layout.cylinders + 1))
            part = f"part{int(rng.integers(2))}"
            match int(rng.integers(4)):
                case 0 if layout.cylinders > 1:
                    bodies.append(Work(do="swapped", part=part, places=(cylinder,), to=other, effect="moved"))
                case 1:
                    bodies.append(Work(do="cleaned", part=part, places=(cylinder,)))
                case _:
                    bodies.append(Work(do="replaced", part=part, places=(cylinder,), effect="no change"))
            continue
        kind = library.readings[str(rng.choice(kinds))]
        place = {"cylinder": cylinder, "bank": Place("bank", "1")}.get(kind.place, Place("engine"))
        conditions = tuple(word for word in ("cold idle", "wet") if rng.random() < 0.3)
        if kind.words:
            bodies.append(Reading(kind=kind.id, place=place, word=str(rng.choice(kind.words)), conditions=conditions))
        else:
            number_read = {
                "count": 1.0,
                "trim": float(rng.choice([-8, 0, 12])),
                "resistance": float(rng.choice([5e3, 1e4])),
            }
            bodies.append(
                Reading(kind=kind.id, place=place, value=Value(number_read[kind.id], step=0.1), conditions=conditions)
            )
    if rng.random() < 0.3:
        bodies.append(Finding(fault="f0", place=Place("cylinder", "1"), seen=bool(rng.random() < 0.5)))
    return in_turn(bodies)


def with_hidden(library: Library, rng: np.random.Generator, *, come_and_go: int, graded: int) -> Library:
    """The same library with some faults that come and go, and some that are mild or severe."""
    faults = dict(library.faults)
    names = [str(name) for name in rng.permutation(sorted(faults))]
    for name in names[:come_and_go]:
        shows = {"any": float(rng.uniform(0.2, 0.9)), "cold": float(rng.uniform(0.2, 0.9))}
        acts = tuple(msgspec.structs.replace(act, steady=bool(rng.random() < 0.2)) for act in faults[name].acts)
        faults[name] = msgspec.structs.replace(faults[name], shows=shows, acts=acts)
    for name in [*names[come_and_go:], *names[:come_and_go]][:graded]:
        fault, severe = faults[name], []
        for act in fault.acts:
            ladder = library.ladders[act.on]
            worst = {"shift": 3 if act.shift > 0 else -3} if act.shift else {"level": ladder.levels[-1]}
            severe.append(msgspec.structs.replace(act, grade="severe", **worst))
        mild = [msgspec.structs.replace(act, grade="mild" if rng.random() < 0.5 else "") for act in fault.acts]
        faults[name] = msgspec.structs.replace(fault, acts=(*mild, *severe), grades={"mild": 0.7, "severe": 0.3})
    return msgspec.structs.replace(library, faults=faults)


def with_disturbance(library: Library) -> Library:
    """The same library, in which work on one part may bring about the faults of another."""
    area = Area(id="bay", name="bay", words=("bay",), disturbs=("part1",))
    raised = (Raised(by="after work", times=15.0, on=("bay",)),)
    faults = {
        fault.id: msgspec.structs.replace(fault, raised=raised) if fault.part == "part1" else fault
        for fault in library.faults.values()
    }
    parts = library.parts | {"part0": msgspec.structs.replace(library.parts["part0"], area="bay")}
    return msgspec.structs.replace(library, faults=faults, parts=parts, areas={"bay": area})


def in_sessions(entries: list[Entry], rng: np.random.Generator, most: int) -> list[Entry]:
    """The same entries over a few days."""
    days = np.sort(rng.integers(1, most + 1, size=len(entries)))
    return [
        msgspec.structs.replace(entry, at=f"2026-01-{day:02}T10:00:00.{number:06}+00:00")
        for number, (entry, day) in enumerate(zip(entries, days, strict=True))
    ]


def small_car(cylinders: int) -> tuple[Car, Layout]:
    """A car with one or two banks."""
    car = Car(cylinders=cylinders, form="inline" if cylinders < 4 else "V")
    return car, layout_of(car)
