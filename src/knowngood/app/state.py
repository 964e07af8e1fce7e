"""What the standing entries of a job come to: the car, the belief, what is open, at hand, undone."""

from __future__ import annotations

import hashlib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np

from knowngood.app.compression_row import with_wet_words
from knowngood.app.history import with_story
from knowngood.app.left_undone import left_undone
from knowngood.app.put_back import with_work
from knowngood.app.settings import Settings
from knowngood.app.shelf import Shelf
from knowngood.belief.assemble import believe
from knowngood.belief.blame import behind_findings
from knowngood.belief.elimination import Array
from knowngood.belief.exact import ExactBelief
from knowngood.belief.protocol import Scenarios
from knowngood.car import Car, Layout, layout_of
from knowngood.car.fold import car_told
from knowngood.evidence import Access, Body, CarFact, Entry, Note, Stock, Tool, Undone, Work, named_places
from knowngood.library.own_branches import library_of
from knowngood.library.records import Library


@dataclass(frozen=True, eq=False)
class State:
    """A car at this moment; no other is the same, so that what is worked out from it is known by it.

    Parameters
    ----------
    library, car, layout, belief
    entries : tuple of Entry
        Standing entries in time order; belief entries are indexes into it.
    open_access : frozenset of str
        Access steps that are apart now.
    tools : dict tool id -> Tool
        What was said of tools; what was not said is taken from the common bay kit.
    stock : Shelf
        Parts that lie here or are ordered.
    undone : tuple of Undone
        Left as it must not stay.
    scenarios : Scenarios
        Draws of fault sets, those behind what was found not as it should be marked.
    behind : array (fault,)
        How likely each fault at its place is behind what was found, in the belief's order: its chance to be there,
        times the share of the draws with it in which it is behind something. Only that share is left to the draws.
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
    stock: Shelf
    undone: tuple[Undone, ...]
    scenarios: Scenarios
    behind: Array
    settings: Settings = field(default_factory=Settings)

    @cached_property
    def _bits(self) -> list[int]:
        """Draws in which each fault is behind what was found, as the bits of one number (fault,)."""
        assert self.scenarios.matters is not None
        packed = np.packbits(np.ascontiguousarray(self.scenarios.matters.T), axis=1)  # rows are read faster
        return [int.from_bytes(row.tobytes(), "big") for row in packed]

    @cached_property
    def _counted(self) -> Array:
        """Share of the draws in which each fault is behind what was found (fault,)."""
        assert self.scenarios.matters is not None
        result: Array = self.scenarios.matters.mean(axis=0)
        return result

    def behind_any(self, columns: Sequence[int]) -> float:
        """Chance that any of some faults, by their columns, is behind what was found.

        Counted in the draws. By how much oftener or rarer they were drawn one by one than :attr:`behind` says, the log
        of the chance of none is put right: that hardly leaves them to the draws, and no chance goes beyond 1.
        """
        some = tuple(columns)
        if some not in self._known_any:
            self._known_any[some] = self._any(list(some))
        return self._known_any[some]

    @cached_property
    def _known_any(self) -> dict[tuple[int, ...], float]:
        return {}

    def _any(self, some: list[int]) -> float:
        drawn = 0
        for column in some:
            drawn |= self._bits[column]
        if not drawn:
            return 0.0
        if len(some) == 1:
            return float(self.behind[some[0]])
        none = 1.0 - drawn.bit_count() / len(self.scenarios.weight)
        return float(1.0 - none ** (self.behind[some].sum() / self._counted[some].sum()))

    @cached_property
    def kinds_behind(self) -> dict[str, float]:
        """How likely a kind is behind what was found, at one of its places at least: fault id -> chance."""
        places: dict[str, list[int]] = {}
        for column, at in enumerate(self.belief.faults):
            places.setdefault(at.fault, []).append(column)
        return {fault: self.behind_any(columns) for fault, columns in places.items()}

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


def behind_each(belief: ExactBelief, scenarios: Scenarios) -> Array:
    """Chance of each fault to be there and behind what was found (fault,); draws tell only the share of the second."""
    assert scenarios.matters is not None
    matters, present = (some.sum(axis=0) for some in (scenarios.matters, scenarios.present))
    result: Array = belief.chances() * matters / np.maximum(present, 1)
    return result


def seed_of(entries: Sequence[Entry]) -> int:
    """The same state gives the same draws, and so the same advice.

    A note that does not count changes neither, nor does the wording of a line or of the library.
    """
    text = "".join(f"{entry.body!r}" for entry in entries if not isinstance(entry.body, Note))
    return int.from_bytes(hashlib.sha256(text.encode()).digest()[:4], "big")


def car_of(entries: Sequence[Entry]) -> Car:
    """The car as told by the entries, later facts over earlier ones."""
    return car_told(entry.body for entry in entries if isinstance(entry.body, CarFact))


def must_fit(car: Car, bodies: Iterable[Body]) -> None:
    """Refuse what does not fit the plan of the engine.

    Raises
    ------
    Refused
        The plan cannot be (a firing order that is none, 13 cylinders), or it has not a cylinder that is spoken of.
    """
    layout = layout_of(car)
    for body in bodies:
        for place in named_places(body):
            if place.kind == "cylinder":
                layout.number(place)


def state_of(library: Library, entries: Sequence[Entry], settings: Settings | None = None) -> State:
    """Everything the doors and the planner ask about, from standing entries in time order.

    Raises
    ------
    Refused
        The layout of the car cannot be (a firing order that is none, 13 cylinders).
    ImpossibleEvidence
        No set of faults explains the readings.
    """
    entries = with_wet_words(with_work(entries, library))
    car = with_story(car_of(entries), library, entries)
    library = library_of(library, car)
    layout = layout_of(car)
    open_access: set[str] = set()
    tools: dict[str, Tool] = {}
    stock = Shelf()
    for entry in entries:
        match entry.body:
            case Access(step=step, open=is_open):
                (open_access.add if is_open else open_access.discard)(step)
            case Tool(name=name) as tool:
                tools[name] = tool
            case Stock() as said:
                stock.put(said)
            case Work(do="replaced" | "fitted", part=part, who="here", places=places):
                stock.take(part, len(places))
    belief = believe(library, car, layout, entries)
    scenarios = behind_findings(belief, np.random.default_rng(seed_of(entries)))
    return State(
        library=library,
        car=car,
        layout=layout,
        belief=belief,
        entries=tuple(entries),
        open_access=frozenset(open_access),
        tools=tools,
        stock=stock,
        undone=left_undone(entries),
        scenarios=scenarios,
        behind=behind_each(belief, scenarios),
        settings=settings or Settings(),
    )
