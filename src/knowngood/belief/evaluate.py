"""What given sets of faults would show: the ladders worked out set by set, many sets at once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.acting import Acting, Regime, Strength
from knowngood.belief.looks import condition_of, share_shown
from knowngood.belief.nodes import is_single
from knowngood.belief.protocol import FaultAt
from knowngood.car import Place

States = NDArray[np.int16]


@dataclass(frozen=True)
class Acts:
    """What acts on one ladder at one place.

    Parameters
    ----------
    columns : int array (fault,)
        Of the faults that act there by themselves.
    sizes : array (fault, 1)
        How strongly.
    hidden : list of (row, Strength)
        Those that do so by their grade or look only.
    fed : list of (ladder id, place, array (state,))
        Ladders that hand something on, and what, by their state.
    """

    columns: NDArray[np.intp]
    sizes: States
    hidden: list[tuple[int, Strength]]
    fed: list[tuple[str, Place, States]]


class Strengths:
    """What acts on each ladder at each place, faults by their columns; each worked out once.

    Parameters
    ----------
    acting : Acting
    columns : mapping FaultAt -> column of a fault set
    """

    def __init__(self, acting: Acting, columns: Mapping[FaultAt, int]) -> None:
        self.acting = acting
        self.columns: dict[str, list[tuple[Place, int]]] = {}
        for at, column in columns.items():
            self.columns.setdefault(at.fault, []).append((at.place, column))
        self._known: dict[tuple[str, Place, Regime], Acts] = {}

    def of(self, ladder_id: str, place: Place, regime: Regime) -> Acts:
        """What acts there under a regime."""
        key = (ladder_id, place, regime)
        if key not in self._known:
            self._known[key] = self._acts(ladder_id, place, regime)
        return self._known[key]

    def _acts(self, ladder_id: str, place: Place, regime: Regime) -> Acts:
        acting, ladder = self.acting, self.acting.ladders[ladder_id]
        shared = ladder.combine == "sum" and ladder.place != "cylinder"  # as in NodeBuilder._build_sum
        some = [
            (column, one)
            for one in acting.strengths(ladder_id, regime)
            for at, column in self.columns.get(one.fault, ())
            if acting.feeds(at, place) and not (shared and is_single(at))
        ]
        return Acts(
            columns=np.array([column for column, _ in some], dtype=np.intp),
            sizes=np.array([one.size for _, one in some], dtype=np.int16).reshape(-1, 1),
            hidden=[(row, one) for row, (_, one) in enumerate(some) if one.grade or one.goes],
            fed=[
                (source, other, np.array(through, dtype=np.int16))
                for source in ladder.inputs
                if any(through := acting.through(source, ladder_id))
                for other in acting.sources(acting.ladders[source].place, place)
            ],
        )


class Evaluator:
    """Levels of ladders in each scenario.

    Parameters
    ----------
    strengths : Strengths
    present : bool array (scenario, fault)
    seed : int
        Of the dice for what a set of faults does not tell: how bad a fault is, and whether it shows now.
    """

    def __init__(self, strengths: Strengths, present: NDArray[np.bool_], seed: int = 0) -> None:
        self.strengths = strengths
        self.acting = strengths.acting
        self.there = np.ascontiguousarray(present.T)
        self.seed = seed
        self._known: dict[tuple[str, Place, Regime, bool], States] = {}

    def states(self, ladder_id: str, place: Place, regime: Regime, *, habit: bool = False) -> States:
        """State index of a ladder in each scenario (scenario,).

        ``habit``: not in one look but over many, in which a fault that comes and goes has shown.
        """
        key = (ladder_id, place, regime, habit)
        known = self._known.get(key)
        if known is None:
            known = self._work_out(ladder_id, place, regime, habit)
            self._known[key] = known
        return known

    def _work_out(self, ladder_id: str, place: Place, regime: Regime, habit: bool) -> States:
        ladder, acts = self.acting.ladders[ladder_id], self.strengths.of(ladder_id, place, regime)
        there = self.there.take(acts.columns, axis=0)
        for row, one in acts.hidden:
            there[row] &= self._acts(one, acts.columns[row], "" if habit else condition_of(regime))
        fed = [through.take(self.states(source, at, regime, habit=habit)) for source, at, through in acts.fed]
        if ladder.combine == "sum":
            every = np.concatenate([there * acts.sizes, *(state[None] for state in fed)])
            up = np.minimum(np.maximum(every, 0).sum(axis=0), ladder.high)
            down = np.minimum(np.maximum(-every, 0).sum(axis=0), -ladder.low)
            net: States = (up - down - ladder.low).astype(np.int16)
            return net
        worst: States = np.maximum.reduce(there * acts.sizes, axis=0, initial=0)
        for state in fed:
            np.maximum(worst, state, out=worst)
        return worst

    def _acts(self, one: Strength, column: int, condition: str) -> NDArray[np.bool_]:
        """In which scenarios a fault, if it is there, does this: it is of the grade, and shows under the condition."""
        fault = self.acting.library.faults[one.fault]
        acts = np.ones(self.there.shape[1], dtype=bool)
        if one.grade:
            shares = np.cumsum(list(fault.grades.values()))
            grade = np.searchsorted(shares[:-1], self._dice(column, "grade"), side="right")
            acts &= grade == list(fault.grades).index(one.grade)
        if one.goes and condition:
            acts &= self._dice(column, condition) < share_shown(fault, condition)
        return acts

    def _dice(self, column: int, of: str) -> NDArray[np.float64]:
        """The same throws (scenario,) for the same fault, whatever asks."""
        scenarios = self.there.shape[1]
        return _thrown(self.seed, column, of, scenarios)


@lru_cache(maxsize=2048)
def _thrown(seed: int, column: int, of: str, scenarios: int) -> NDArray[np.float64]:
    dice = np.random.default_rng([seed, column, *of.encode()]).random(scenarios)
    dice.setflags(write=False)
    return dice
