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


class Evaluator:
    """Levels of ladders in each scenario.

    Parameters
    ----------
    acting : Acting
    columns : mapping FaultAt -> column of ``present``
    present : bool array (scenario, fault)
    """

    def __init__(self, acting: Acting, columns: Mapping[FaultAt, int], present: NDArray[np.bool_]) -> None:
        self.acting = acting
        self.present = present
        self.columns: dict[str, list[tuple[Place, int]]] = {}
        used: NDArray[np.bool_] = np.any(present, axis=0)
        for at, column in columns.items():
            if used[column]:
                self.columns.setdefault(at.fault, []).append((at.place, column))
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
        shared = ladder.combine == "sum" and ladder.place != "cylinder"  # as in NodeBuilder._build_sum
        contributions: list[States] = []
        for fault, strength in self.acting.strengths(ladder_id, regime):
            for at, column in self.columns.get(fault, ()):
                if self.acting.feeds(at, place) and not (shared and is_single(at)):
                    contributions.append(self.present[:, column].astype(np.int16) * np.int16(strength))
        for source_id, table in ladder.inputs.items():
            source = self.acting.ladders[source_id]
            through = np.array(level_map(source, ladder, table), dtype=np.int16)
            for other in self._sources(source.place, place):
                contributions.append(through[self.states(source_id, other, regime)])
        return self._combine(contributions, ladder.combine == "sum", ladder.low, ladder.high)

    def _sources(self, kind: str, place: Place) -> Sequence[Place]:
        if kind == place.kind:
            return [place]
        return [other for other in self.acting.ladder_places(kind) if self.acting.feeds(other, place)]

    def _combine(self, contributions: list[States], adds: bool, low: int, high: int) -> States:
        if not contributions:
            return np.full(len(self.present), -low if adds else 0, dtype=np.int16)
        stacked = np.stack(contributions)
        if not adds:
            result: States = stacked.max(axis=0)
            return result
        up = np.minimum(np.maximum(stacked, 0).sum(axis=0), high)
        down = np.minimum(np.maximum(-stacked, 0).sum(axis=0), -low)
        net: States = (up - down - low).astype(np.int16)
        return net
