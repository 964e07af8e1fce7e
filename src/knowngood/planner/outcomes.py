"""What a check can show: its outcomes, or the commonest patterns of a row, with their chance in each fault set."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from knowngood.belief.protocol import Array, Ask, Belief, Bools
from knowngood.planner.problem import CheckAt

MOST_PATTERNS = 10
REST = "something else"


@dataclass(frozen=True)
class Shown:
    """Outcomes of one check: names, and chance in each fault set (outcome, scenario)."""

    names: tuple[str, ...]
    like: Array


def likelihoods(belief: Belief, asks: Sequence[Ask], present: Bools) -> dict[Ask, Array]:
    """Chance of each outcome of each reading in each fault set; one pass where the belief can share work."""
    together = getattr(belief, "likelihoods", None)
    if together is not None:
        return dict(zip(asks, together(asks, present), strict=True))
    return {ask: belief.likelihood(ask, present) for ask in asks}


def shown_by(belief: Belief, check: CheckAt, like: dict[Ask, Array], weight: Array) -> Shown:
    """Outcomes of a check of one or several readings.

    A row of readings has too many outcomes to price: its commonest patterns are kept, each with its exact chance, and
    the rest is one more outcome. What is common is told by taking, in each fault set, each reading's likeliest outcome.
    """
    if len(check.asks) == 1:
        ask = check.asks[0]
        return Shown(belief.outcomes(ask), like[ask])
    winners = np.stack([like[ask].argmax(axis=0) for ask in check.asks])
    patterns, where = np.unique(winners, axis=1, return_inverse=True)
    mass = np.bincount(where.reshape(-1), weights=weight)
    kept = np.argsort(-mass)[:MOST_PATTERNS]
    names, rows = [], []
    names_of = [belief.outcomes(ask) for ask in check.asks]
    usual = patterns[:, kept[0]]
    for column in kept:
        pattern = patterns[:, column]
        row = np.ones_like(weight)
        for position, ask in enumerate(check.asks):
            row = row * like[ask][pattern[position]]
        rows.append(row)
        names.append(_pattern_name(check.asks, names_of, pattern, usual))
    rest = np.maximum(1.0 - np.sum(rows, axis=0), 0.0)
    return Shown((*names, REST), np.vstack([*rows, rest]))


def _pattern_name(asks: Sequence[Ask], names_of: Sequence[tuple[str, ...]], pattern: Array, usual: Array) -> str:
    """``cylinder 5 none, others tight``: what differs from the common pattern is said place by place."""
    shown = [names[int(state)] for names, state in zip(names_of, pattern, strict=True)]
    if len({ask.place for ask in asks}) == 1:
        return ", ".join(f"{ask.reading.replace('_', ' ')} {name}" for ask, name in zip(asks, shown, strict=True))
    if len(asks) == 2:
        return ", ".join(f"{ask.place} {name}" for ask, name in zip(asks, shown, strict=True))
    common = max(set(shown), key=shown.count)
    odd = [f"{ask.place} {name}" for ask, name in zip(asks, shown, strict=True) if name != common]
    return f"all {common}" if not odd else f"{', '.join(odd)}, the others {common}"
