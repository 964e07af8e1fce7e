"""What a check can show: outcomes with their chance in each fault set.

Several readings taken in one go have far too many patterns of outcomes to price
each. They are taken in one by one, and after each the two groups of patterns
that lead to the same plans at the same cost are put together until few are
left. Every group is a real event with its exact chance, so that a check is
never worth more than it is; and what is put together is what makes the least
difference to the money.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from knowngood.belief.protocol import Array, Ask, Belief, Bools
from knowngood.planner.problem import CheckAt

MOST_OUTCOMES = 12
DIGITS = 8  # of money: what loses no more than that loses the same on every machine
NAMED_BY = 12  # digits of money: two groups whose money differs less are told apart by their order
OR_THE_LIKE = ", or the like"
ALL_GOOD = "all as it should be"

Pattern = tuple[int, ...]


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


def shown_by(
    belief: Belief, check: CheckAt, like: Mapping[Ask, Array], priced: Array, *, most: int = MOST_OUTCOMES
) -> Shown:
    """Outcomes of a check of one or several readings.

    Parameters
    ----------
    belief : Belief
        Names the outcomes.
    check : CheckAt
    like : mapping of Ask to array (outcome, s)
        Chance of each outcome of each reading in each fault set.
    priced : array (s, plan)
        Weighted cost of some plans in each fault set: what may be put together is told by it.
    most : int
        Groups to keep.
    """
    groups: list[tuple[Pattern, bool]] = [((), False)]
    table = np.ones((1, len(priced)))
    for ask in check.asks:
        one = like[ask]
        table = (table[:, None, :] * one[None, :, :]).reshape(-1, table.shape[1])
        groups = [((*pattern, outcome), mixed) for pattern, mixed in groups for outcome in range(len(one))]
        groups, table = _put_together(groups, table, priced, most)
    names_of = [belief.outcomes(ask) for ask in check.asks]
    names = tuple(_name(check, names_of, pattern) + (OR_THE_LIKE if mixed else "") for pattern, mixed in groups)
    return Shown(names, table)


def _put_together(
    groups: list[tuple[Pattern, bool]], table: Array, priced: Array, most: int
) -> tuple[list[tuple[Pattern, bool]], Array]:
    """Join the two groups that lose the least by it until ``most`` are left, named for the one with more to pay."""
    if len(groups) <= most:
        return groups, table
    costs = table @ priced
    money = costs.mean(axis=1)
    alive, gone = list(range(len(groups))), list[int]()
    groups, table = list(groups), table.copy()
    lowest = costs.min(axis=1)
    loss = (costs[:, None, :] + costs[None, :, :]).min(axis=2) - lowest[:, None] - lowest[None, :]
    np.fill_diagonal(loss, np.inf)
    loss = np.round(loss, DIGITS)
    while len(alive) > most:
        first, second = divmod(int(loss.argmin()), len(loss))
        one, other = sorted((first, second), key=lambda group: (-round(float(money[group]), NAMED_BY), group))
        table[one] += table[other]
        costs[one] += costs[other]
        money[one] += money[other]
        lowest[one] = costs[one].min()
        groups[one] = (groups[one][0], True)
        alive.remove(other)
        gone.append(other)
        row = np.round((costs[one] + costs).min(axis=1) - lowest[one] - lowest, DIGITS)
        row[[one, *gone]] = np.inf
        loss[one], loss[:, one] = row, row
        loss[other], loss[:, other] = np.inf, np.inf
    return [groups[group] for group in alive], table[alive]


def _name(check: CheckAt, names_of: Sequence[tuple[str, ...]], pattern: Pattern) -> str:
    """``cylinder 5 none, the others good``: what differs from the commonest word is said place by place.

    Of readings of several kinds, what differs from a healthy car.
    """
    asks = check.asks
    shown = [names[state] for names, state in zip(names_of, pattern, strict=True)]
    if len(asks) == 1:
        return shown[0]
    if len({ask.reading for ask in asks}) > 1:
        read = [(ask, name) for ask, name in zip(asks, shown, strict=True) if name != check.usual.get(ask.reading)]
        return ", ".join(_reading_word(ask, name, asks) for ask, name in read) or ALL_GOOD
    if len(asks) == 2:
        return ", ".join(f"{ask.place} {name}" for ask, name in zip(asks, shown, strict=True))
    common = Counter(shown).most_common(1)[0][0]
    odd = [f"{ask.place} {name}" for ask, name in zip(asks, shown, strict=True) if name != common]
    return f"all {common}" if not odd else f"{', '.join(odd)}, the others {common}"


def _reading_word(ask: Ask, name: str, asks: Sequence[Ask]) -> str:
    where = f" {ask.place}" if len({each.place for each in asks}) > 1 else ""
    return f"{ask.reading.replace('_', ' ')}{where} {name}"
