"""Which faults make up the joint states of many groups, drawn for all groups and draws in one go.

A group lets its faults in one after another. Gone back from a state, the fault let in last of those that are there is
drawn, then the state before it, and so on until nothing is left: as many rounds as there are faults in the fullest
state, not as many as there are faults.

With F(k, s) the chance to stand on state s once k faults are let in, and n(k) the chance that none of them is there,
G(k, s) = F(k, s) / n(k) climbs with k, and none of those from j to k is there with chance G(j, s) / G(k, s), given
that the group stood on s after k.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.protocol import Array

Codes = NDArray[np.intp]
LEAST_SPARED = 1e-15  # a fault that is there for sure still leaves something to divide by


class WayBack:
    """Of one group: how likely the last fault is how far back, and where the group stood before it.

    Parameters
    ----------
    faults : sequence of (array (way,), sequence of int array (state,))
        In the order they are let in: chance of each way, and the state reached from each state by it.
    states : int
        How many there are; the first is that of no fault.

    Attributes
    ----------
    climbing : array (state * (fault + 1),)
        G, state by state.
    where : int array
        For each state and fault let in last, one position of ``climbing`` after another: the chances of the ways and
        the states before, in ``share`` (climbing from the number of the position on), ``row`` (which way) and
        ``before`` (position of the first number of the state before).
    ends : int array (state * (fault + 1),)
        Where those of each position end.
    rank : int array (state * (fault + 1),)
        Number of each position among those that can be: ``share`` climbs from it.
    rows : int
        Ways of all faults together.
    """

    def __init__(self, faults: Sequence[tuple[Array, Sequence[Codes]]], states: int) -> None:
        self.faults, self.states = len(faults), states
        stands, none, row = np.eye(1, states)[0], 1.0, 0
        climbs = np.zeros((self.faults + 1, states))
        climbs[0] = stands
        every: list[tuple[Codes, Codes, Codes, Array]] = []
        for number, (chances, jumps) in enumerate(faults, start=1):
            spared = max(1.0 - float(chances.sum()), LEAST_SPARED)
            came = np.zeros(states)
            for chance, jump in zip(chances, jumps, strict=True):
                weight = chance * stands
                came += np.bincount(jump, weight, states)
                some = np.flatnonzero(weight)
                every.append((jump[some] * (self.faults + 1) + number, np.full(len(some), row), some, weight[some]))
                row += 1
            stands, none = spared * stands + came, none * spared
            climbs[number] = climbs[number - 1] + came / none
        self.rows = row
        self.climbing: Array = climbs.T.ravel()
        position, rows, before, weights = (np.concatenate(some) for some in zip(*every, strict=True))
        order = np.argsort(position, kind="stable")
        total = np.bincount(position, weights, len(self.climbing))
        self.ends: Codes = np.cumsum(np.bincount(position, minlength=len(self.climbing)))
        self.rank: Codes = np.cumsum(total > 0.0) - 1  # of a position among those that can be
        self.share: Array = np.cumsum((weights / total[position])[order])
        self.row: Codes = rows[order]
        self.before: Codes = before[order] * (self.faults + 1)


class WaysBack:
    """Of many groups, laid one behind the other; groups that are the same are laid once.

    Parameters
    ----------
    ways : sequence of WayBack
    """

    def __init__(self, ways: Sequence[WayBack]) -> None:
        every = list(dict.fromkeys(ways))
        place = {way: number for number, way in enumerate(every)}
        self._which = np.array([place[way] for way in ways], dtype=np.intp)
        self._faults = np.array([way.faults for way in every], dtype=np.intp)
        numbers, entries, ranks = (
            np.cumsum([0, *sizes])
            for sizes in (
                [len(way.climbing) for way in every],
                [len(way.row) for way in every],
                [int(way.rank[-1]) + 1 for way in every],
            )
        )
        # each of these has one more than there are groups, its end: the shorter of two ends the pairing below
        self._first: Codes = numbers[:-1]
        self._climbing = _joined([way.climbing for way in every])
        self._ends = _joined([way.ends + at for way, at in zip(every, entries, strict=False)])
        self._rank = _joined([way.rank + at for way, at in zip(every, ranks, strict=False)])
        self._share = _joined([way.share + at for way, at in zip(every, ranks, strict=False)])
        self._before = _joined([way.before + at for way, at in zip(every, numbers, strict=False)])
        self._row = _joined([way.row for way in every])

    def rows(self, groups: Codes, states: Codes, rng: np.random.Generator) -> tuple[Codes, Codes]:
        """What makes up some states of some groups (item,): which item, and which of its group's ways, pair by pair."""
        which = self._which[groups]
        let_in, start, item = self._faults[which], self._first[which], np.arange(len(groups))
        start = start + states * (let_in + 1)
        items, rows = [item[:0]], [item[:0]]
        while len(item):
            top = self._climbing[start + let_in]
            dice = np.minimum(rng.random(len(item)) * top, np.nextafter(top, 0.0))
            left = np.flatnonzero(dice >= self._climbing[start])
            item, start, let_in, dice = item[left], start[left], let_in[left], dice[left]
            last = self._last(start, let_in, dice)
            position = start + last
            drawn = np.searchsorted(self._share, self._rank[position] + rng.random(len(item)), side="right")
            drawn = np.clip(drawn, self._ends[position - 1], self._ends[position] - 1)
            items.append(item)
            rows.append(self._row[drawn])
            start, let_in = self._before[drawn], last - 1
        return np.concatenate(items), np.concatenate(rows)

    def _last(self, start: Codes, let_in: Codes, dice: Array) -> Codes:
        """The fault let in last of those there, counted from 1: where what climbs goes beyond the dice."""
        low, high = np.zeros_like(let_in), let_in
        while (high - low > 1).any():
            middle = (low + high) // 2
            under = self._climbing[start + middle] <= dice
            low, high = np.where(under, middle, low), np.where(under, high, middle)
        return high


def _joined(arrays: Sequence[NDArray]) -> NDArray:
    return np.concatenate(arrays) if arrays else np.zeros(0)
