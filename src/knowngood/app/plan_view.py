"""The engine as its plan shows it: where each cylinder sits, what was read there last, how far it is suspected."""

from __future__ import annotations

from dataclasses import dataclass

from knowngood.app.state import State
from knowngood.app.story import latest_by_cylinder
from knowngood.app.suspects import UNLISTED
from knowngood.car import Place
from knowngood.errors import Problem, Refused
from knowngood.evidence import named_places

LEAST = 0.005  # a suspicion under this is not worth a word
WORDS = ((0.6, "most likely here"), (0.25, "suspected"), (0.05, "a little suspected"), (0.0, "hardly suspected"))
SUSPECTS = 6


@dataclass(frozen=True)
class CylinderView:
    """One cylinder.

    Parameters
    ----------
    number : int
    chance : float
        That something at this cylinder is behind what was found.
    word : str
        The same as a word; empty where nothing was found.
    readings : tuple of (name, said)
        The latest of each kind.
    """

    number: int
    chance: float
    word: str
    readings: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class PlanView:
    """The plan, seen by one who stands at the flywheel end: the pulley end is far, the left bank at the left hand.

    Parameters
    ----------
    banks : tuple of (name, cylinders)
        Left to right; within a bank counted from the pulley end. The name is empty where there is one bank.
    firing_order : tuple of int
    assumed : tuple of str
        What was not said of it.
    """

    banks: tuple[tuple[str, tuple[CylinderView, ...]], ...]
    firing_order: tuple[int, ...]
    assumed: tuple[str, ...]


def plan_of_engine(state: State) -> PlanView:
    """The plan of a car's engine with what is known of each cylinder."""
    layout = state.layout
    readings: dict[Place | None, list[tuple[str, str]]] = {}
    for place, said in latest_by_cylinder(state).items():
        readings.setdefault(layout.by_number(place), []).extend(said)
    order = sorted(range(len(layout.banks)), key=lambda bank: layout.sides[bank] != "left")
    banks = []
    for bank in order:
        side = layout.sides[bank]
        cylinders = []
        for number in layout.banks[bank]:
            chance = suspicion(state, number)
            read = readings.get(Place("cylinder", str(number)), ())
            cylinders.append(CylinderView(number, chance, word_of(chance), tuple(read)))
        banks.append((f"bank {bank + 1}, {side}" if side else "", tuple(cylinders)))
    return PlanView(tuple(banks), layout.firing_order, layout.assumed)


def suspicion(state: State, number: int) -> float:
    """Chance that something at a cylinder is behind what was found, from the state's own draws."""
    matters = state.scenarios.matters
    place = Place("cylinder", str(number))
    columns = [
        column
        for column, at in enumerate(state.belief.faults)
        if at.place == place and not at.fault.startswith(UNLISTED)
    ]
    if matters is None or not columns:
        return 0.0
    return float(state.scenarios.weight @ matters[:, columns].any(axis=1))


def word_of(chance: float) -> str:
    """How far a cylinder is suspected, in a word or three.

    >>> word_of(0.7), word_of(0.3), word_of(0.001)
    ('most likely here', 'suspected', '')
    """
    return "" if chance < LEAST else next(word for least, word in WORDS if chance >= least)


@dataclass(frozen=True)
class CylinderStory:
    """Everything of one cylinder: suspects there with their chances, and the lines that speak of it, the last first."""

    view: CylinderView
    suspects: tuple[tuple[str, str, float], ...]
    lines: tuple[str, ...]


def story_of_cylinder(state: State, number: int) -> CylinderStory:
    """The story of a cylinder.

    Raises
    ------
    Refused
        There is no such cylinder.
    """
    if number not in state.layout.numbers():
        there = f"1 to {state.layout.cylinders}"
        raise Refused(Problem(f"There is no cylinder {number}.", f"Cylinders of this engine: {there}."))
    view = next(one for _, bank in plan_of_engine(state).banks for one in bank if one.number == number)
    place = Place("cylinder", str(number))
    chances = state.belief.chances()
    here = [
        (at.fault, state.library.faults[at.fault].name, float(chance))
        for at, chance in zip(state.belief.faults, chances, strict=True)
        if at.place == place and not at.fault.startswith(UNLISTED)
    ]
    lines = [
        entry.line
        for entry in reversed(state.entries)
        if place in map(state.layout.by_number, named_places(entry.body))
    ]
    likeliest = sorted(here, key=lambda one: -one[2])[:SUSPECTS]
    return CylinderStory(view, tuple(likeliest), tuple(dict.fromkeys(lines)))
