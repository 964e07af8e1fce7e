"""What would tell the two leading suspects apart: the quickest checks that do."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from knowngood.app.next_steps import fault_words
from knowngood.app.state import State
from knowngood.app.suspects import suspected
from knowngood.app.tasks import checks_of
from knowngood.planner.separation import LEAST, TELLS

SHOWN = 2


@dataclass(frozen=True)
class Apart:
    """Two suspects, and the checks that tell them apart: (id of the check, name, minutes); none where nothing does."""

    first: str
    second: str
    checks: tuple[tuple[str, str, float], ...]


def what_separates(state: State) -> Apart | None:
    """Of the checks that can be made now, the quickest whose outcome speaks three times for one of the two leading.

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
    found: dict[str, tuple[str, str, float]] = {}
    for check in sorted(checks, key=lambda check: check.minutes):
        if max(spoken[ask] for ask in check.asks) >= np.log(TELLS):
            found.setdefault(check.id, (check.id, check.name, check.minutes))
    one, other = (fault_words(state, at) for at in first_two)
    return Apart(one, other, tuple(found.values())[:SHOWN])
