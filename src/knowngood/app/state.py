"""What the standing entries of a job come to: the car, the belief, what is open, at hand, undone."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from knowngood.app.history import with_story
from knowngood.app.settings import Settings
from knowngood.app.shelf import on_shelf, take
from knowngood.belief.assemble import believe
from knowngood.belief.blame import behind_findings
from knowngood.belief.elimination import Array
from knowngood.belief.exact import ExactBelief
from knowngood.belief.protocol import Bools, Scenarios
from knowngood.car import ENGINE, Car, Layout, layout_of
from knowngood.car.fold import fold_car
from knowngood.evidence import Access, CarFact, Entry, Note, Stock, Tool, Undone, Work
from knowngood.library.records import Library


@dataclass(frozen=True)
class State:
    """A car at this moment.

    Parameters
    ----------
    library, car, layout, belief
    entries : tuple of Entry
        Standing entries in time order; belief entries are indexes into it.
    open_access : frozenset of str
        Access steps that are apart now.
    tools : dict tool id -> Tool
        What was said of tools; what was not said is taken from the common bay kit.
    stock : dict part id -> Stock
    undone : tuple of Undone
        Left as it must not stay.
    scenarios : Scenarios
        Draws of fault sets, those behind what was found not as it should be marked.
    kinds_behind : dict fault id -> chance
        How likely a kind is behind what was found, at one of its places at least.
    behind : array (fault,)
        The same for each fault at its place, in the belief's order. Both from the draws.
    settings : Settings
        What holds for the whole workshop.
    """

    library: Library
    car: Car
    layout: Layout
    belief: ExactBelief
    entries: tuple[Entry, ...]
    open_access: frozenset[str]
    tools: dict[str, Tool]
    stock: dict[str, Stock]
    undone: tuple[Undone, ...]
    scenarios: Scenarios
    kinds_behind: dict[str, float]
    behind: Array
    settings: Settings = field(default_factory=Settings)

    @cached_property
    def _bits(self) -> list[int]:
        """Draws in which each fault is behind what was found, as the bits of one number (fault,)."""
        assert self.scenarios.matters is not None
        packed = np.packbits(self.scenarios.matters, axis=0).T
        return [int.from_bytes(row.tobytes(), "big") for row in packed]

    def behind_any(self, columns: Iterable[int]) -> float:
        """Chance that any of some faults, by their columns, is behind what was found; from the draws."""
        drawn = 0
        for column in columns:
            drawn |= self._bits[column]
        return drawn.bit_count() / len(self.scenarios.weight)

    @property
    def name(self) -> str:
        """What the car is called on a page."""
        return self.car.nickname or "car"

    def has_tool(self, tool: str) -> bool:
        """Whether a tool is at hand: as said, else as in a common bay kit."""
        said = self.tools.get(tool)
        if said is not None:
            return said.state == "on hand"
        record = self.library.tools.get(tool)
        return record is None or record.common


def seed_of(library_hash: str, entries: Sequence[Entry]) -> int:
    """The same state gives the same draws, and so the same advice; a note that does not count changes neither."""
    counting = (entry for entry in entries if not isinstance(entry.body, Note))
    text = library_hash + "".join(f"{entry.line}{entry.body!r}" for entry in counting)
    return int.from_bytes(hashlib.sha256(text.encode()).digest()[:4], "big")


def car_of(entries: Sequence[Entry]) -> Car:
    """The car as told by the entries, later facts over earlier ones."""
    car = Car()
    for entry in entries:
        if isinstance(entry.body, CarFact):
            car = fold_car(car, entry.body)
    return car


def must_fit(entries: Sequence[Entry]) -> None:
    """Whether the plan of the engine can be, and holds every cylinder that is spoken of.

    Raises
    ------
    Refused
        It cannot be (a firing order that is none, 13 cylinders), or a cylinder is not there.
    """
    layout = layout_of(car_of(entries))
    for entry in entries:
        body = entry.body
        named = (*getattr(body, "places", ()), *(getattr(body, name, None) for name in ("place", "to", "effect_at")))
        for place in named:
            if place is not None and place.kind == "cylinder":
                layout.number(place)


def leave(undone: list[Undone], said: Undone) -> None:
    """Something is left undone, or what was left so is right again: it is known by its part and place.

    Where no place is named, the part is right wherever it was left; where no part is, the words must be the same.
    """

    def is_same(one: Undone) -> bool:
        same_part = bool(said.part) and said.put_right and one.part == said.part
        at = one.place == said.place or (same_part and said.place == ENGINE)
        return at and (same_part or one.what == said.what)

    undone[:] = [one for one in undone if not is_same(one)]
    if not said.put_right:
        undone.append(said)


def state_of(library: Library, entries: Sequence[Entry], settings: Settings | None = None) -> State:
    """Everything the doors and the planner ask about, from standing entries in time order.

    Raises
    ------
    Refused
        The layout of the car cannot be (a firing order that is none, 13 cylinders).
    ImpossibleEvidence
        No set of faults explains the readings.
    """
    car = with_story(car_of(entries), library, entries)
    layout = layout_of(car)
    open_access: set[str] = set()
    tools: dict[str, Tool] = {}
    stock: dict[str, Stock] = {}
    undone: list[Undone] = []
    for entry in entries:
        match entry.body:
            case Access(step=step, open=is_open):
                (open_access.add if is_open else open_access.discard)(step)
            case Tool(name=name) as tool:
                tools[name] = tool
            case Stock() as said:
                on_shelf(stock, said)
            case Work(do="replaced" | "fitted" | "reseated", part=part, who="here", places=places) as work:
                if work.do != "reseated":
                    take(stock, part, len(places))
                undone = [one for one in undone if one.part != part or one.place not in places]
            case Undone() as said:
                leave(undone, said)
    belief = believe(library, car, layout, entries)
    scenarios = behind_findings(belief, np.random.default_rng(seed_of(library.hash, entries)))
    assert scenarios.matters is not None
    anywhere: dict[str, Bools] = {}
    for column, at in enumerate(belief.faults):
        where = scenarios.matters[:, column]
        anywhere[at.fault] = anywhere[at.fault] | where if at.fault in anywhere else where
    return State(
        library=library,
        car=car,
        layout=layout,
        belief=belief,
        entries=tuple(entries),
        open_access=frozenset(open_access),
        tools=tools,
        stock=stock,
        undone=tuple(undone),
        scenarios=scenarios,
        kinds_behind={fault: float(where.mean()) for fault, where in anywhere.items()},
        behind=scenarios.matters.mean(axis=0),
        settings=settings or Settings(),
    )
