"""What a check shows on a simulated car: a word or a number drawn from what the library says of the true level."""

from __future__ import annotations

import math

import numpy as np

from knowngood.belief.clues import chance_set
from knowngood.belief.elimination import Array
from knowngood.belief.likelihood import METER_SHARE, OPEN
from knowngood.evidence import Value
from knowngood.library.records import Code, Ladder, ReadingKind, Spread

DIGITS = 3


def is_number(kind: ReadingKind) -> bool:
    """Whether the reading is a number rather than a word."""
    return bool(kind.spread) or bool(kind.per_step)


def drawn_word(kind: ReadingKind, ladder: Ladder, state: int, rng: np.random.Generator) -> str:
    """A word of the reading at a level of its ladder (by index)."""
    chance = np.array([kind.chance[ladder.levels[state]].get(word, 0.0) for word in kind.words])
    return kind.words[_pick(chance, rng.random())]


def _pick(chance: Array, where: float) -> int:
    below = np.cumsum(chance / chance.sum()) <= where
    return min(int(below.sum()), len(chance) - 1)


def drawn_number(kind: ReadingKind, ladder: Ladder, state: int, scale: float, rng: np.random.Generator) -> Value:
    """A number of the reading at a level or step (by index), gross errors and the meter's own included.

    Parameters
    ----------
    kind : ReadingKind
    ladder : Ladder
        That the reading stands on.
    state : int
        Level or step, by index.
    scale : float [base unit]
        The healthy level of this car, for a relative reading; else 1.
    rng : Generator
    """
    states = len(ladder.levels) if ladder.combine == "worst" else ladder.high - ladder.low + 1
    if states > 1 and rng.random() < kind.gross:
        state = int(rng.choice([other for other in range(states) if other != state]))
    if ladder.combine == "sum":
        return _shown(kind.offset + kind.per_step * (state + ladder.low) + kind.noise * float(rng.normal()))
    return _of_spread(kind.spread[ladder.levels[state]], scale, rng)


def _of_spread(spread: Spread, scale: float, rng: np.random.Generator) -> Value:
    where = float(rng.random())
    if where < spread.zero:
        return Value(number=0.0, sense="none seen")
    if where < spread.zero + spread.open:
        return Value(number=OPEN, sense="over")
    if spread.at is not None and spread.spread is not None:
        true = scale * (spread.at + spread.spread * float(rng.normal()))
    else:
        low, high = scale * (spread.low or 0.0), scale * (spread.high or 0.0)
        share = float(rng.random())
        true = low * (high / low) ** share if low > 0.0 else low + (high - low) * share
    return _shown(true * (1.0 + METER_SHARE * float(rng.normal())))


def _shown(number: float) -> Value:
    """A number with three digits, as an instrument shows it."""
    if number == 0.0:
        return Value(number=0.0, step=0.01)
    step = 10.0 ** (math.floor(math.log10(abs(number))) - DIGITS + 1)
    return Value(number=round(number / step) * step, step=step)


def code_chance(code: Code, ladder: Ladder, state: int) -> float:
    """Chance that a code is set at a level or step (by index) of its ladder."""
    return chance_set(code, ladder.levels[state] if ladder.combine == "worst" else state + ladder.low)
