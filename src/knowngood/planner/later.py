"""Checks after a repair or a proof: what makes a repair worth doing before any check.

From how things stand, a few beginnings are tried: the plan without checks up to
its first proof, each likely repair alone, with a proof after it and without,
and a proof at once. After each, the best checks are priced as they would be
then; repairs already made no longer show in their answers.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from knowngood.belief.protocol import Bools
from knowngood.planner.beginnings import Beginning, beginnings
from knowngood.planner.outcomes import Shown, likelihoods, shown_by
from knowngood.planner.plans import plan
from knowngood.planner.pricing import Option, Pricing
from knowngood.planner.starts import Starts, joined

HEADS = 3


@dataclass(frozen=True)
class Later:
    """A beginning with a check after it.

    Parameters
    ----------
    head : int or str
        The first repair, or the proof.
    check : int
        Index of the check.
    cost : float
        Expected money to the end.
    reach : float
        Chance that the check is made.
    """

    head: int | str
    check: int
    cost: float
    reach: float


def price_later(pricing: Pricing, options: Sequence[Option], heads: Sequence[int]) -> list[Later]:
    """Expected money when some work, or a proof, comes first and one of the checks right after.

    Parameters
    ----------
    pricing : Pricing
    options : sequence of Option
        Checks to try; each keeps its own least price in ``later``.
    heads : sequence of int
        Repairs worth beginning with.
    """
    begun = beginnings(pricing, heads[:HEADS])
    if not options or not begun:
        return []
    problem, rows, owns = pricing.problem, [], []
    for begin, shown_then in zip(begun, _shown(pricing, options, begun), strict=True):
        for option, shown in zip(options, shown_then, strict=True):
            check = problem.checks[option.index]
            owns.append(problem.check_cost(check) + pricing.opening(check, begin.then.opened[0]))
            then = begin.then.repeated(len(shown.names))
            rows.append(Starts(pricing.joint(shown.like), then.opened | pricing.mask(check), then.left, then.stopped))
    cost = plan(pricing.board, joined(rows), [pricing.style]).cost
    ends = np.cumsum([len(each) for each in rows])[:-1]
    sums = [float(each.sum()) for each in np.split(cost, ends)]
    result = []
    for number, (own, left) in enumerate(zip(owns, sums, strict=True)):
        begin, option = begun[number // len(options)], options[number % len(options)]
        total = begin.paid + own * begin.going + left
        option.later = min(option.later, total)
        result.append(Later(begin.head, option.index, total, begin.going))
    return result


def _shown(pricing: Pricing, options: Sequence[Option], begun: Sequence[Beginning]) -> list[list[Shown]]:
    """Outcomes of the checks after each beginning, all worked out in one pass."""
    belief = pricing.problem.belief
    sets = [_present_after(pricing, begin, bool(begin.then.stopped.any())) for begin in begun]
    present, count = np.concatenate(sets), len(pricing.weight)
    checks = [pricing.problem.checks[option.index] for option in options]
    asks = list(dict.fromkeys(ask for check in checks if check.after is None for ask in check.asks))
    plain = likelihoods(belief, asks, present) if asks else {}
    tables = [
        plain if check.after is None else likelihoods(belief, check.asks, check.after(present)) for check in checks
    ]
    result = []
    for begin in range(len(begun)):
        own = slice(begin * count, (begin + 1) * count)
        result.append(
            [
                shown_by(belief, check, {ask: table[ask][:, own] for ask in check.asks}, pricing.priced_in_pool)
                for check, table in zip(checks, tables, strict=True)
            ]
        )
    return result


def _present_after(pricing: Pricing, begin: Beginning, proved: bool) -> Bools:
    """The fault sets after the repairs; where a failed proof says that one did not work, the set as it was."""
    present = pricing.scenarios.present.copy()
    column = pricing.problem.column
    fixed = {column[fault] for row in begin.repairs for fault in pricing.board.repairs[row].fixes}
    gone = np.array(sorted(fixed), dtype=np.intp)
    changed = begin.then.stopped[0][pricing.board.pattern] < 0.5 if proved else np.ones(len(present), dtype=bool)
    present[np.ix_(np.flatnonzero(changed), gone)] = False
    return present
