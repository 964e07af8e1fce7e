"""Steps by price; steps of one price are told apart by something firm.

Where two prices are as good as equal, the quicker one comes first, then the cheaper, then the one for which less
comes off, then the one that needs no other check after it, then its name.
"""

from __future__ import annotations

from collections.abc import Iterable

from knowngood.planner.candidates import Candidate
from knowngood.planner.steps import Step

ALIKE_SHARE = 1e-4  # prices within 0.01 % are one price


def in_firm_order(candidates: Iterable[Candidate]) -> list[Candidate]:
    """By price; those of one price by what tells them apart on every machine."""
    waiting = sorted(candidates, key=lambda one: (one.step.cost, _told_apart(one.step)))
    result: list[Candidate] = []
    while waiting:
        least = waiting[0].step.cost
        count = sum(one.step.cost <= least + ALIKE_SHARE * abs(least) for one in waiting)
        result += sorted(waiting[:count], key=lambda one: _told_apart(one.step))
        waiting = waiting[count:]
    return result


def _told_apart(step: Step) -> tuple[float, float, int, float, str, str]:
    """Minutes, money, things that come off, how often one looks on, names."""
    return (
        round(float(step.minutes), 3),
        round(float(step.money), 3),
        len(step.opens),
        round(sum(after.chance for after in step.after if after.check is not None), 3),
        step.action.id,
        str(step.action.place),
    )
