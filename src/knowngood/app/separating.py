"""What would tell the two leading rivals apart: the quickest check that does.

Two suspects are rivals where they answer for the same: both behind what was found is rarer than were they nothing to
each other. A bad ground and a dead injector that are each nearly sure are no rivals, and nothing is to be told apart.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

import numpy as np

from knowngood.app.fault_words import fault_words
from knowngood.app.state import State
from knowngood.app.suspects import Suspected, suspected
from knowngood.app.tasks import access_graph, checks_of
from knowngood.library.separation import TOLD_APART
from knowngood.planner.separation import LEAST

LOOKED_AT = 6  # suspects among which rivals are looked for
RIVALS = 0.5  # both are behind it at most this much as often as two that have nothing to do with each other
LEAST_EXPECTED = 20.0  # draws in which such two would both be behind it; of fewer nothing is said


@dataclass(frozen=True)
class Apart:
    """Two suspects, and the check that tells them apart, with its minutes, those of what comes off among them.

    ``check``: its id; empty where nothing tells them apart.
    """

    first: str
    second: str
    check: str = ""
    name: str = ""
    minutes: float = 0.0


def what_separates(state: State) -> Apart | None:
    """Of the checks that can be made now, the quickest with an outcome that speaks three times for one of the two.

    Each suspect is taken alone on an otherwise good car, as in :mod:`knowngood.planner.separation`; swaps and spares,
    which change the car to look at it, are left out. ``None`` while there are no two rivals.
    """
    rivals = leading_rivals(state)
    if rivals is None:
        return None
    first_two = [one.leading for one in rivals]
    present = np.zeros((2, len(state.belief.faults)), dtype=bool)
    for row, at in enumerate(first_two):
        present[row, state.belief.model.column[at]] = True
    checks = [check for check in checks_of(state) if check.after is None and not check.tools_missing]
    asks = list(dict.fromkeys(ask for check in checks for ask in check.asks))
    spoken = {
        ask: float(np.abs(np.diff(np.log(np.maximum(table, LEAST)), axis=1)).max())
        for ask, table in zip(asks, state.belief.likelihoods(asks, present), strict=True)
    }
    access = access_graph(state)
    telling = [
        (check.minutes + access.open_minutes(check.access), check.id, check.name)
        for check in checks
        if max(spoken[ask] for ask in check.asks) >= np.log(TOLD_APART)
    ]
    one, other = (fault_words(state, at) for at in first_two)
    if not telling:
        return Apart(one, other)
    minutes, check_id, name = min(telling)
    return Apart(one, other, check_id, name, minutes)


def leading_rivals(state: State) -> tuple[Suspected, Suspected] | None:
    """The first two suspects that answer for the same; ``None`` where no two do."""
    scenarios, column = state.scenarios, state.belief.model.column
    matters = scenarios.present if scenarios.matters is None else scenarios.matters
    first = suspected(state)[:LOOKED_AT]
    behind = [matters[:, [column[at] for at in one.every]].any(axis=1) for one in first]
    chance = [float(scenarios.weight @ each) for each in behind]
    pairs = sorted(combinations(range(len(first)), 2), key=lambda pair: (sum(pair), pair))
    for one, other in pairs:
        apart = chance[one] * chance[other]
        both = float(scenarios.weight @ (behind[one] & behind[other]))
        if apart * len(scenarios.weight) >= LEAST_EXPECTED and both <= RIVALS * apart:
            return first[one], first[other]
    return None
