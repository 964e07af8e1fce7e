"""What states of a network come to: which faces of which faults are true in each draw."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from knowngood.belief.common_causes import causes_in_state
from knowngood.belief.courses import Course
from knowngood.belief.network import NONE, Network
from knowngood.belief.node_states import Bools
from knowngood.belief.rejuvenation import Crowd, Ints
from knowngood.belief.timeline import Instance
from knowngood.belief.way_back import WaysBack

AGAIN = 0.1  # of draws whose states stay, how many have the faults behind them drawn anew with each move


class Opened:
    """Folds of a network opened, draw by draw.

    Parameters
    ----------
    network : Network
    courses : mapping Instance -> Course
        Of every root.
    """

    def __init__(self, network: Network, courses: Mapping[Instance, Course]) -> None:
        self.network = network
        groups = network.groups
        self._causes = len(network.common)
        lone = network.lone
        self._lone = [(variable, np.pad(courses[root].table, [(0, 0), (1, 0)])) for root, variable in lone.items()]
        self.instances: list[Instance] = [
            *map(causes_in_state, range(self._causes)),
            *(face for root in lone for face in courses[root].faces),
            *(face for one in groups for face in one.faces),
        ]
        self._variables = np.array([one.variable for one in groups], dtype=np.intp)
        self._ways = WaysBack([group.way_back for one in groups for group in one.by_cause])
        causes = np.array([len(one.by_cause) for one in groups], dtype=np.intp)
        self._first_way, self._by_cause = np.cumsum([0, *causes])[:-1], causes > 1
        self._faces = np.array([len(one.faces) for one in groups], dtype=np.intp)
        first_face = len(self.instances) - int(self._faces.sum()) + np.cumsum([0, *self._faces])[:-1]
        # of each row of each group, the faces that are true in it, one row's after the other's
        rows = [one.faces_of_rows for one in groups]
        self._first_row = np.cumsum([0, *map(len, rows)])[:-1]
        held = [at + faces for at, some in zip(first_face, rows, strict=True) for faces in some]
        self._held = np.concatenate(held) if held else np.zeros(0, dtype=np.intp)
        self._count = np.array([len(faces) for faces in held], dtype=np.intp)
        self._held_from = np.cumsum([0, *self._count])[:-1]

    def cause(self, states: Ints) -> Ints:
        """State of the common causes (draw,)."""
        at = self.network.cause
        return states[at] if at != NONE else np.zeros(states.shape[1], dtype=np.intp)

    def inside(self, states: Ints, rng: np.random.Generator, known: Crowd | None = None) -> Bools:
        """What states of the network come to (instance, draw); of states that are known already, as it was mostly."""
        cause, folded = self.cause(states), states[self._variables]
        if known is None:
            result = np.zeros((len(self.instances), len(cause)), dtype=bool)
            drawn = np.ones(folded.shape, dtype=bool)
        else:
            changed = (folded != known.states[self._variables]) | (cause != self.cause(known.states))
            drawn = changed | (rng.random(folded.shape) < AGAIN)
            result = known.inside.copy()
            some = slice(len(result) - int(self._faces.sum()), None)
            result[some] &= ~np.repeat(drawn, self._faces, axis=0)
        result[: self._causes] = np.arange(self._causes)[:, None] == cause
        at = self._causes
        for variable, table in self._lone:
            result[at : at + len(table)] = table[:, states[variable]]
            at += len(table)
        group, draw = np.divmod(np.flatnonzero(drawn), len(cause))
        way = self._first_way[group] + np.where(self._by_cause[group], cause[draw], 0)
        item, row = self._ways.rows(way, folded[group, draw], rng)
        self._hold(result, self._first_row[group[item]] + row, draw[item])
        return result

    def _hold(self, result: Bools, rows: Ints, draws: Ints) -> None:
        """Make true all faces of some rows, each in its draw."""
        count = self._count[rows]
        within = np.arange(count.sum()) - np.repeat(np.cumsum(count) - count, count)
        result[self._held[np.repeat(self._held_from[rows], count) + within], np.repeat(draws, count)] = True
