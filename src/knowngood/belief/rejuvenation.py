"""Draws moved on, where the evidence outside the tables leaves few of them any weight.

The evidence outside is let in little by little (its weight to a power that climbs to 1). At each step the draws that
weigh most are taken oftener, and then every draw is moved: a branch of the tables is drawn again given the rest, or a
fault outside the tables is put there or taken away, and the move is kept as often as the evidence outside allows. Each
move leaves the wanted chances as they are, so that few ancestors become many draws that differ. Populations that
exchange nothing tell by how far they disagree what the draws are worth.

References
----------
Del Moral, Doucet and Jasra, Sequential Monte Carlo samplers, J. R. Statist. Soc. B 68 (2006), 411-436 (from memory).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from knowngood.belief.elimination import Array, Pass
from knowngood.belief.node_states import Bools, either
from knowngood.belief.outer import Rest

POPULATIONS = 4
KEEP_WORTH = 0.5  # of a population's draws, how many must be worth something after a step
MOVES, LAST_MOVES, MOST_ROUNDS = 2, 4, 6  # moves after a step; moves, and rounds of them, once all evidence is in
WORTH_ENOUGH = 0.4  # of all draws: then no further round
TRIED = 2  # times a fault outside is put there or taken away, and another exchanged, for each branch
MOST_STEPS = 40

Ints = NDArray[np.intp]


@dataclass(frozen=True)
class Crowd:
    """Draws as what they are made of, so that a part of each can be drawn again.

    Parameters
    ----------
    states : int array (variable, draw)
        Of the network.
    inside : bool array (instance, draw)
        What the states come to.
    dice : array (instance, draw)
        Of each fault outside the tables: it is there where its die lies under its chance.
    there : bool array (instance, draw)
        Where that is so.
    rest : Rest, optional
        What those inside come to outside the tables; not there while nothing is asked about that.
    """

    states: Ints
    inside: Bools
    dice: Array
    there: Bools
    rest: Rest | None = None

    def __len__(self) -> int:
        return self.inside.shape[1]

    def taken(self, rows: Ints) -> Crowd:
        """Some of the draws, some of them more than once."""
        # taken, not indexed: so each instance stays one stretch of memory
        inside, there = self.inside.take(rows, axis=1), self.there.take(rows, axis=1)
        rest = self.rest.taken(rows) if self.rest is not None else None
        return Crowd(self.states.take(rows, axis=1), inside, self.dice.take(rows, axis=1), there, rest)

    def where(self, kept: Bools, other: Crowd) -> Crowd:
        """The other's draws where ``kept``, else these; both have the same dice."""
        there = self.there if other.there is self.there else either(kept, other.there, self.there)
        states = np.where(kept, other.states, self.states)
        rest = self.rest.where(kept, other.rest) if self.rest is not None and other.rest is not None else None
        return Crowd(states, either(kept, other.inside, self.inside), self.dice, there, rest)


class Branches:
    """Branches of a plan of elimination, to be drawn again given the rest."""

    def __init__(self, run: Pass) -> None:
        self.run = run
        buckets = run.tree.buckets
        self.under = np.eye(len(buckets), dtype=bool)
        for position, bucket in enumerate(buckets):  # a parent comes after its children
            if bucket.parent >= 0:
                self.under[bucket.parent] |= self.under[position]

    def redrawn(self, states: Ints, rng: np.random.Generator) -> Ints:
        """The states (variable, draw) with one branch of each drawn anew, given all that is not in it."""
        if not len(self.under):  # all that is hidden lies outside the tree: nothing of it to draw again
            return states
        again = self.under.T[:, rng.integers(len(self.under), size=states.shape[1])]
        result = states.copy()
        for at in range(len(self.under) - 1, -1, -1):
            rows = np.flatnonzero(again[at])
            if not len(rows):
                continue
            bucket = self.run.tree.buckets[at]
            for axis in range(bucket.gone - 1, -1, -1):
                known = [result[variable].take(rows) for variable in bucket.scope[axis + 1 :]]
                result[bucket.scope[axis]][rows] = self.run.drawn(at, axis, known, rng.random(len(rows)))
        return result


@dataclass
class Rejuvenated:
    """Draws with all evidence in, how many independent ones they are worth, and the log of its mean weight."""

    crowd: Crowd
    effective: float
    log_mean_weight: float


@dataclass(frozen=True)
class Change:
    """Faults outside the tables to be turned in some draws, no two the same: which, where, their dice (each,), whether
    they are there then; and the log of the odds of it (draw,)."""

    faults: Ints
    draws: Ints
    dice: Array
    there: Bools
    log_odds: Array


class Rejuvenation:
    """Moves draws on.

    Parameters
    ----------
    branches : Branches
    opened : callable
        From a crowd and other states for it to the crowd with those.
    weight : callable
        Log of the chance of the evidence outside, in each draw of a crowd (draw,).
    chance : callable
        From a crowd to the chance of each fault outside the tables in each draw (instance, draw); never 0 or 1.
    rng : Generator
    """

    def __init__(
        self,
        branches: Branches,
        opened: Callable[[Crowd, Ints], Crowd],
        weight: Callable[[Crowd], Array],
        chance: Callable[[Crowd], Array],
        rng: np.random.Generator,
    ) -> None:
        self.branches, self.opened, self.weight, self.rng = branches, opened, weight, rng
        self.chance = chance
        self.tried = np.zeros(0)

    def __call__(self, crowd: Crowd) -> Rejuvenated:
        """From draws without the evidence outside to draws with it."""
        power, log_mean = 0.0, 0.0
        log_weight = self.weight(crowd)
        for _ in range(MOST_STEPS):
            step = self._step(log_weight, 1.0 - power)
            power += step
            gained = step * log_weight
            top = float(gained.max())
            log_mean += top + float(np.log(np.exp(gained - top).mean()))
            rows = self._chosen(gained)
            crowd, log_weight = crowd.taken(rows), log_weight[rows]
            self.tried = self._share_tried(crowd)
            for _ in range(MOVES):
                crowd, log_weight = self._moved(crowd, log_weight, power)
            if power >= 1.0:
                break
        worth = 0.0
        for _ in range(MOST_ROUNDS):
            for _ in range(LAST_MOVES):
                crowd, log_weight = self._moved(crowd, log_weight, power)
            worth = self._worth(crowd)
            if worth >= WORTH_ENOUGH * len(crowd):
                break
        return Rejuvenated(crowd, worth, log_mean)

    def _step(self, log_weight: Array, most: float) -> float:
        """How much further the power can climb with half of each population still worth something."""

        def enough(step: float) -> bool:
            scaled = step * log_weight.reshape(POPULATIONS, -1)
            weight = np.exp(scaled - scaled.max(axis=1, keepdims=True))
            worth = weight.sum(axis=1) ** 2 / np.square(weight).sum(axis=1)
            return bool(worth.min() >= KEEP_WORTH * weight.shape[1])

        if enough(most):
            return most
        low, high = 0.0, most
        for _ in range(20):
            middle = 0.5 * (low + high)
            low, high = (middle, high) if enough(middle) else (low, middle)
        return max(low, most / MOST_STEPS / 100.0)

    def _chosen(self, log_weight: Array) -> Ints:
        """Rows of each population, as often as they weigh."""
        blocks = log_weight.reshape(POPULATIONS, -1)
        size = blocks.shape[1]
        rows = np.empty(blocks.shape, dtype=np.intp)
        for number, block in enumerate(blocks):
            weight = np.exp(block - block.max())
            climbing = np.cumsum(weight) / weight.sum()
            found = np.searchsorted(climbing, (np.arange(size) + self.rng.random()) / size)
            rows[number] = number * size + np.minimum(found, size - 1)
        return rows.ravel()

    def _moved(self, crowd: Crowd, log_weight: Array, power: float) -> tuple[Crowd, Array]:
        """One branch of every draw drawn again, and some faults outside put there or taken away."""
        states = self.branches.redrawn(crowd.states, self.rng)
        moved = self.opened(crowd, states)
        new = self.weight(moved)
        kept = self._kept(power * (new - log_weight))
        crowd, log_weight = crowd.where(kept, moved), np.where(kept, new, log_weight)
        for change in (self._flipped, self._exchanged) * (TRIED if len(crowd.dice) else 0):
            log_weight = self._tried(crowd, log_weight, power, change(crowd))
        return crowd, log_weight

    def _kept(self, log_ratio: Array) -> Bools:
        kept: Bools = np.log(np.maximum(self.rng.random(len(log_ratio)), 1e-300)) < log_ratio
        return kept

    def _tried(self, crowd: Crowd, log_weight: Array, power: float, change: Change) -> Array:
        """Turn faults outside in place, and turn them back where that is not kept; the log of the weight then."""
        at = change.faults, change.draws
        before, was = crowd.dice[at], crowd.there[at]
        crowd.dice[at], crowd.there[at] = change.dice, change.there
        new = self.weight(crowd)
        kept = self._kept(power * (new - log_weight) + change.log_odds)
        back = ~kept[change.draws]
        undone = change.faults[back], change.draws[back]
        crowd.dice[undone], crowd.there[undone] = before[back], was[back]
        return np.where(kept, new, log_weight)

    def _share_tried(self, crowd: Crowd) -> Array:
        """How often each fault outside is tried (instance,): oftener where it is there in some draws."""
        often = crowd.there.mean(axis=1)
        share = np.sqrt(often * (1.0 - often)) + 0.1 * np.sqrt(self.chance(crowd).mean(axis=1))
        result: Array = share / max(float(share.sum()), 1e-300)
        return result

    def _picked(self, draws: int) -> Ints:
        picked = np.searchsorted(np.cumsum(self.tried), self.rng.random(draws))
        return np.minimum(picked, len(self.tried) - 1)

    def _turned(self, chance: Array, on: Bools) -> Array:
        """Dice under which a fault of that chance is there, or is not."""
        fresh = self.rng.random(len(chance))
        return np.where(on, chance * fresh, chance + (1.0 - chance) * fresh)

    def _flipped(self, crowd: Crowd) -> Change:
        """One fault outside the tables of each draw put there, or taken away."""
        draws, which = np.arange(len(crowd)), self._picked(len(crowd))
        chance, there = self.chance(crowd)[which, draws], crowd.there[which, draws]
        dice = self._turned(chance, ~there)
        return Change(which, draws, dice, ~there, np.where(there, -1.0, 1.0) * _log_odds(chance))

    def _exchanged(self, crowd: Crowd) -> Change:
        """One fault that is there taken away and another put there instead."""
        chance, come = self.chance(crowd), self._picked(len(crowd))
        some, gone = self._one_there(crowd.there)
        free = ~crowd.there[come[some], some]
        some, gone = some[free], gone[free]
        come = come[some]
        out, into = chance[gone, some], chance[come, some]
        off, on = np.zeros(len(some), dtype=bool), np.ones(len(some), dtype=bool)
        log_odds = np.zeros(len(crowd))
        log_odds[some] = _log_odds(into) - _log_odds(out) + np.log(self.tried[gone]) - np.log(self.tried[come])
        return Change(
            np.concatenate([gone, come]),
            np.concatenate([some, some]),
            np.concatenate([self._turned(out, off), self._turned(into, on)]),
            np.concatenate([off, on]),
            log_odds,
        )

    def _one_there(self, there: Bools) -> tuple[Ints, Ints]:
        """Draws in which some fault outside is there, and one of those that are, any alike often."""
        present, draw = np.divmod(np.flatnonzero(there), there.shape[1])
        present = present[np.argsort(draw.astype(np.min_scalar_type(there.shape[1])), kind="stable")]
        count = there.view(np.uint8).sum(axis=0, dtype=np.uint16).astype(np.intp)
        picked = np.cumsum(count) - count + (self.rng.random(len(count)) * count).astype(np.intp)
        draws = np.flatnonzero(count)
        return draws, present[picked[draws]]

    def _worth(self, crowd: Crowd) -> float:
        """How many independent draws these are worth, by how far the populations disagree on all faults together."""
        there = np.concatenate([crowd.inside, crowd.there])
        share = there.reshape(len(there), POPULATIONS, -1).mean(axis=2)
        mean = share.mean(axis=1)
        between = float((share.var(axis=1, ddof=1) / POPULATIONS).sum())
        alone = float((mean * (1.0 - mean)).sum())
        return min(alone / between, float(len(crowd))) if between > 0.0 else float(len(crowd))


def _log_odds(chance: Array) -> Array:
    result: Array = np.log(chance) - np.log1p(-chance)
    return result
