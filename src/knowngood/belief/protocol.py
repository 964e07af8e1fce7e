"""What a belief can be asked, whoever computes it.

The planner, the doors and the tests speak to this protocol only. An exact
engine, a plain enumeration and a toy made of a handful of numbers all fill it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

import msgspec
import numpy as np
from numpy.typing import NDArray

from knowngood.car import Place

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]


class FaultAt(msgspec.Struct, frozen=True, order=True, cache_hash=True):
    """One fault at one place, of the part that sits there now."""

    fault: str
    place: Place

    def __str__(self) -> str:
        return f"{self.fault} @ {self.place}"


class Ask(msgspec.Struct, frozen=True, cache_hash=True):
    """A reading that could be taken now: its kind, where, under which regime (empty: the kind's own)."""

    reading: str
    place: Place
    regime: str = ""


@dataclass(frozen=True)
class Scenarios:
    """Sets of faults with weights that sum to 1.

    Parameters
    ----------
    weight : array (scenario,)
    present : bool array (scenario, fault)
        Columns in the order of ``Belief.faults``.
    exact : bool
        Whether every set with any chance is in it (an enumeration), or they are draws.
    matters : bool array (scenario, fault) or None
        Which of the faults present must be put right: those behind something that was found. ``None``: all.
    mattered : bool array (scenario, fault) or None
        Which were behind something that was found at any time, those put right since included, by where their part
        came from. ``None``: not known.
    """

    weight: Array
    present: Bools
    exact: bool
    matters: Bools | None = None
    mattered: Bools | None = None


class Belief(Protocol):
    """Chances of faults given all that is known."""

    @property
    def faults(self) -> tuple[FaultAt, ...]:
        """Every fault that could be there now, in a fixed order."""

    def chances(self) -> Array:
        """Chance of each fault (fault,)."""

    def outcomes(self, ask: Ask) -> tuple[str, ...]:
        """Names of the outcomes a check of this kind can have."""

    def outcome_chances(self, ask: Ask) -> tuple[Array, Array]:
        """Chance of each outcome (outcome,), and of each fault under each outcome (outcome, fault)."""

    def given(self, ask: Ask, outcome: str) -> Belief:
        """The belief after that outcome; this one is left as it was."""

    def likelihood(self, ask: Ask, present: Bools) -> Array:
        """Chance of each outcome in each fault set: (outcome, scenario)."""

    def scenarios(self, most: int, rng: np.random.Generator) -> Scenarios:
        """All fault sets where there are at most ``most`` of them, else that many draws."""
