"""The best possible plan for a small car by plain recursion: every action tried in every state, nothing left out."""

from __future__ import annotations

import numpy as np

from knowngood.proving.small_cars import Case, State, actions, results


def optimum(case: Case) -> float:
    """Expected cost of the best possible plan."""
    known: dict[State, float] = {}

    def best(state: State) -> float:
        if state not in known:
            least = np.inf
            for action in actions(case, state):
                cost, then = results(case, state, action)
                least = min(least, cost + sum(chance * best(after) for chance, after in then if after is not None))
            known[state] = float(least)
        return known[state]

    return best(case.begin())
