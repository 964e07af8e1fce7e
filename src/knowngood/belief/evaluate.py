"""What given sets of faults would show: the ladders worked out set by set, many sets at once."""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.acting import Acting, Regime, Strength
from knowngood.belief.looks import condition_of, share_shown
from knowngood.belief.nodes import is_single
from knowngood.belief.protocol import FaultAt
from knowngood.car import Place

States = NDArray[np.int16]


class Strengths:
    """How strongly faults act by themselves on each ladder at each place, by their columns; each worked out once.

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
        self._known: dict[tuple[str, Place, Regime], tuple[NDArray[np.intp], States, list[tuple[int, Strength]]]] = {}

    def of(
        self, ladder_id: str, place: Place, regime: Regime
    ) -> tuple[NDArray[np.intp], States, list[tuple[int, Strength]]]:
        """Columns of the faults that act there, how strongly (fault, 1); which do so by their grade or look only."""
        key = (ladder_id, place, regime)
        if key not in self._known:
            ladder = self.acting.ladders[ladder_id]
            shared = ladder.combine == "sum" and ladder.place != "cylinder"  # as in NodeBuilder._build_sum
            some = [
                (column, one)
                for one in self.acting.strengths(ladder_id, regime)
                for at, column in self.columns.get(one.fault, ())
                if self.acting.feeds(at, place) and not (shared and is_single(at))
            ]
            columns = np.array([column for column, _ in some], dtype=np.intp)
            sizes = np.array([one.size for _, one in some], dtype=np.int16).reshape(-1, 1)
            hidden = [(row, one) for row, (_, one) in enumerate(some) if one.grade or one.goes]
            self._known[key] = columns, sizes, hidden
        return self._known[key]


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
        ladder = self.acting.ladders[ladder_id]
        columns, sizes, hidden = self.strengths.of(ladder_id, place, regime)
        there = self.there[columns]
        for row, one in hidden:
            there[row] &= self._acts(one, columns[row], "" if habit else condition_of(regime))
        own = there * sizes
        fed = []
        for source_id in ladder.inputs:
            source = self.acting.ladders[source_id]
            through = np.array(self.acting.through(source_id, ladder_id), dtype=np.int16)
            fed += [
                through.take(self.states(source_id, other, regime, habit=habit))
                for other in self.acting.sources(source.place, place)
            ]
        if ladder.combine == "sum":
            every = np.concatenate([own, *(state[None] for state in fed)])
            up = np.minimum(np.maximum(every, 0).sum(axis=0), ladder.high)
            down = np.minimum(np.maximum(-every, 0).sum(axis=0), -ladder.low)
            net: States = (up - down - ladder.low).astype(np.int16)
            return net
        worst: States = own.max(axis=0, initial=0)
        for state in fed:
            worst = np.maximum(worst, state)
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
