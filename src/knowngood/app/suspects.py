"""The suspects: kinds of fault with their places, and what moved them."""

from __future__ import annotations

import math

import numpy as np

from knowngood.app.answer import Because, PlaceChance, Suspect
from knowngood.app.state import State
from knowngood.belief.elimination import Array
from knowngood.belief.priors import LEAST
from knowngood.belief.protocol import FaultAt
from knowngood.library.records import Fault

UNLISTED = "unlisted"
SHOWN = 12
LEAST_BEHIND = 0.001  # shares of draws below this are one draw or two, and say nothing of the order
LEAST_WEIGHT = 0.3  # of log odds in 10 log10; smaller moves are not worth a line


def log_odds(chance: Array) -> Array:
    """10 log10 of the odds, with chances held inside 1e-12 and 1 - 1e-12."""
    held = np.clip(chance, LEAST, 1.0 - LEAST)
    return 10.0 * np.log10(held / (1.0 - held))


def kinds_in_order(state: State) -> list[tuple[str, float, list[FaultAt]]]:
    """Listed kinds of fault, those likeliest behind what was found first, then those likeliest there at all.

    Each with the exact chance that it is anywhere, and its places, the likeliest behind a finding first.
    """
    belief = state.belief
    chances = belief.chances()
    column = belief.model.column
    kinds: dict[str, list[FaultAt]] = {}
    for at in belief.faults:
        if not at.fault.startswith(UNLISTED):
            kinds.setdefault(at.fault, []).append(at)
    there = {
        fault: 1.0 - math.prod(1.0 - float(chances[column[at]]) for at in places) for fault, places in kinds.items()
    }
    behind = {fault: share for fault, share in state.kinds_behind.items() if share >= LEAST_BEHIND}
    order = sorted(kinds, key=lambda fault: (-behind.get(fault, 0.0), -there[fault], fault))[:SHOWN]
    return [
        (
            fault,
            belief.chance_of_any(kinds[fault]),
            sorted(kinds[fault], key=lambda at: (-float(state.behind[column[at]]), -float(chances[column[at]]), at)),
        )
        for fault in order
    ]


def chance_unlisted(state: State) -> float:
    """Chance that something no listed fault explains is there."""
    wanted = [at for at in state.belief.faults if at.fault.startswith(UNLISTED)]
    return state.belief.chance_of_any(wanted) if wanted else 0.0


def _range(fault: Fault, chance: float) -> tuple[float, float]:
    """The chance with the fault's own prior at either end of its range: odds scale with prior odds."""
    if not 0.0 < chance < 1.0:
        return chance, chance
    odds = chance / (1.0 - chance)

    def scaled(per_1000: float) -> float:
        end, middle = per_1000 / 1000.0, fault.chance.per_1000 / 1000.0
        new = odds * (end / (1.0 - end)) / (middle / (1.0 - middle))
        return new / (1.0 + new)

    return scaled(fault.chance.low), scaled(fault.chance.high)


def ledger(state: State) -> tuple[list[int], Array]:
    """Entries that bear on the belief, and how far each moved every fault: (entry, fault), 10 log10 of odds.

    Exact and additive in time order: prior log odds plus all weights are the present log odds. Where the belief is
    worked out by draws, each weight is the difference to the belief without that entry, which does not add up.
    """
    belief = state.belief
    bearing = sorted(entry for entry in belief.entries_in() if entry >= 0)
    if belief.exact:
        return bearing, np.diff(log_odds(belief.chances_by_entry(bearing)), axis=0)
    now = log_odds(np.maximum(belief.chances(), 1e-4))
    return bearing, np.array([now - log_odds(np.maximum(belief.chances_without(entry), 1e-4)) for entry in bearing])


def suspects_of(state: State, lines: dict[int, int], shown: int = SHOWN) -> list[Suspect]:
    """The likeliest kinds, with the lines that moved their likeliest place.

    Parameters
    ----------
    lines : dict entry index -> line number
        How the door that asks numbers the lines.
    """
    bearing, weights = ledger(state)
    chances = state.belief.chances()
    column = state.belief.model.column
    result = []
    for fault_id, chance, places in kinds_in_order(state)[:shown]:
        fault = state.library.faults[fault_id]
        moved: dict[int, float] = {}
        for row, entry in enumerate(bearing):
            line = lines.get(entry, 0)
            moved[line] = moved.get(line, 0.0) + float(weights[row, column[places[0]]])
        low, high = _range(fault, chance)
        part = state.library.parts.get(fault.part)
        texts = {lines.get(entry, 0): state.entries[entry].line for entry in bearing}
        result.append(
            Suspect(
                fault=fault_id,
                name=fault.name,
                part=part.name if part is not None else fault.part.replace("_", " "),
                chance=round(chance, 6),
                behind=round(state.kinds_behind.get(fault_id, 0.0), 4),
                low=round(low, 6),
                high=round(high, 6),
                places=[PlaceChance(str(at.place), round(float(chances[column[at]]), 6)) for at in places[:6]],
                because=[
                    Because(line, round(weight, 2), texts.get(line, ""))
                    for line, weight in sorted(moved.items(), key=lambda item: -abs(item[1]))
                    if abs(weight) >= LEAST_WEIGHT
                ],
                what=fault.what,
            )
        )
    return result
