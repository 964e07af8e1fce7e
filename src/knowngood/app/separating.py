"""What would tell the two leading suspects apart: the quickest check that does."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from knowngood.app.fault_words import fault_words
from knowngood.app.state import State
from knowngood.app.suspects import suspected
from knowngood.app.tasks import access_graph, checks_of
from knowngood.planner.separation import LEAST, TELLS


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
    which change the car to look at it, are left out. ``None`` while there are no two suspects.
    """
    first_two = [one.leading for one in suspected(state)[:2] if one.there > 0.0]
    if len(first_two) < 2:
        return None
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
        if max(spoken[ask] for ask in check.asks) >= np.log(TELLS)
    ]
    one, other = (fault_words(state, at) for at in first_two)
    if not telling:
        return Apart(one, other)
    minutes, check_id, name = min(telling)
    return Apart(one, other, check_id, name, minutes)
