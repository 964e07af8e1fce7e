"""What moved the chances: how far each line speaks for or against a fault."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from knowngood.app.state import State
from knowngood.belief.elimination import Array
from knowngood.belief.exact import ExactBelief

LEAST_WEIGHT = 0.3  # of log odds in 10 log10; smaller moves are not worth a line
CLEAR = 3.0  # standard errors that a move found by draws must be away from none
LEAST_WORTH = 100.0  # draws' worth of what is left of them without a line; fewer say nothing of being without it
BLOCK = 10  # neighbouring draws, which may be of one origin: their errors are summed before they are squared
LEAST_CHANCE = 1e-4  # what draws tell of smaller chances, or of chances nearer to one, is nothing


def log_odds(chance: Array) -> Array:
    """10 log10 of odds, finite at 0 and 1."""
    clipped = np.clip(chance, 1e-15, 1.0 - 1e-15)
    result: Array = 10.0 * np.log10(clipped / (1.0 - clipped))
    return result


def moved_by_line(state: State, columns: Sequence[int], lines: Mapping[int, int]) -> list[dict[int, float]]:
    """How far each line moved some faults.

    Exact beliefs: the weights of a fault add up, in time order, from its chance before any line to its chance now.
    Drawn ones: the difference to the belief without that line, which does not add up; a move that is not clear of the
    error of the draws is left out.

    Parameters
    ----------
    columns : sequence of int
        Of the faults, in the order of the belief.
    lines : mapping entry index -> line number
        How the door that asks numbers the lines.

    Returns
    -------
    list of dict line number -> weight
        For each column; 10 log10 of odds, the farthest first, none under :data:`LEAST_WEIGHT`.
    """
    belief = state.belief
    bearing = sorted(entry for entry in belief.entries_in() if entry >= 0)
    numbers = list(dict.fromkeys(lines.get(entry, 0) for entry in bearing))
    moved = np.zeros((len(numbers), len(columns)))
    if belief.exact:
        weights = np.diff(log_odds(belief.chances_by_entry(bearing)[:, columns]), axis=0)
        for entry, weight in zip(bearing, weights, strict=True):
            moved[numbers.index(lines.get(entry, 0))] += weight
    else:
        there = belief.there_in_draws(columns)
        for row, number in enumerate(numbers):
            of_line = frozenset(entry for entry in bearing if lines.get(entry, 0) == number)
            moved[row] = _moved_in_draws(belief, of_line, there)
    return [
        {
            numbers[row]: float(weights[row])
            for row in np.argsort(-abs(weights), kind="stable")
            if abs(weights[row]) >= LEAST_WEIGHT
        }
        for weights in moved.T
    ]


def _moved_in_draws(belief: ExactBelief, entries: frozenset[int], there: Array) -> Array:
    """How far entries moved some faults (fault,), from their chances in each draw (fault, draw); 0 where the draws
    cannot tell."""
    even = np.full(there.shape[1], 1.0 / there.shape[1])
    weight = belief.draws.weights_without(entries)
    if 1.0 / float(weight @ weight) < LEAST_WORTH:
        return np.zeros(len(there))
    now, without = there @ even, there @ weight
    terms = weight * (there - without[:, None]) - even * (there - now[:, None])
    blocks = terms.reshape(len(there), -1, BLOCK).sum(axis=2)
    error = np.sqrt((blocks**2).sum(axis=1) * max(1.0, there.shape[1] / belief.draws_worth))
    clear = abs(now - without) > CLEAR * error
    least, most = LEAST_CHANCE, 1.0 - LEAST_CHANCE
    return np.where(clear, log_odds(np.clip(now, least, most)) - log_odds(np.clip(without, least, most)), 0.0)
