"""What given sets of faults would show: the ladders worked out set by set, many sets at once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.acting import Acting, Regime, level_map
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
        self._known: dict[tuple[str, Place, Regime], tuple[NDArray[np.intp], States]] = {}

    def of(self, ladder_id: str, place: Place, regime: Regime) -> tuple[NDArray[np.intp], States]:
        """Columns of the faults that act there, and how strongly (fault, 1)."""
        key = (ladder_id, place, regime)
        if key not in self._known:
            ladder = self.acting.ladders[ladder_id]
            shared = ladder.combine == "sum" and ladder.place != "cylinder"  # as in NodeBuilder._build_sum
            some = [
                (column, strength)
                for fault, strength in self.acting.strengths(ladder_id, regime)
                for at, column in self.columns.get(fault, ())
                if self.acting.feeds(at, place) and not (shared and is_single(at))
            ]
            columns = np.array([column for column, _ in some], dtype=np.intp)
            self._known[key] = columns, np.array([strength for _, strength in some], dtype=np.int16).reshape(-1, 1)
        return self._known[key]


class Evaluator:
    """Levels of ladders in each scenario.

    Parameters
    ----------
    strengths : Strengths
    present : bool array (scenario, fault)
    """

    def __init__(self, strengths: Strengths, present: NDArray[np.bool_]) -> None:
        self.strengths = strengths
        self.acting = strengths.acting
        self.there = np.ascontiguousarray(present.T)
        self._known: dict[tuple[str, Place, Regime], States] = {}

    def states(self, ladder_id: str, place: Place, regime: Regime) -> States:
        """State index of a ladder in each scenario (scenario,)."""
        key = (ladder_id, place, regime)
        known = self._known.get(key)
        if known is None:
            known = self._work_out(ladder_id, place, regime)
            self._known[key] = known
        return known

    def _work_out(self, ladder_id: str, place: Place, regime: Regime) -> States:
        ladder = self.acting.ladders[ladder_id]
        columns, strengths = self.strengths.of(ladder_id, place, regime)
        own = self.there[columns] * strengths
        fed = []
        for source_id, table in ladder.inputs.items():
            source = self.acting.ladders[source_id]
            through = np.array(level_map(source, ladder, table), dtype=np.int16)
            fed += [through.take(self.states(source_id, other, regime)) for other in self._sources(source.place, place)]
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

    def _sources(self, kind: str, place: Place) -> Sequence[Place]:
        if kind == place.kind:
            return [place]
        return [other for other in self.acting.ladder_places(kind) if self.acting.feeds(other, place)]
