"""Development cars: where ours loses money against others, car by car and heading by heading.

Their seeds are apart from the fresh ones, so single cars may be looked at and what is wrong be mended. A figure of
these cars says nothing of how good the planner is.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from knowngood.proving.policies import KNOWS, OURS, PLAIN, Outcome, compare
from knowngood.proving.simulated import Prices
from knowngood.proving.simulated_bay import HEADINGS, Account
from knowngood.proving.simulated_worlds import OWN

CARS = 12
WAYS = (KNOWS, OURS, PLAIN)


def spent(account: Account, prices: Prices) -> dict[str, float]:
    """Money by heading."""
    result = dict.fromkeys(HEADINGS, 0.0)
    for each in account.done:
        result[each.heading] += each.minutes * prices.per_minute + each.money
    return result


def develop(cars: int, ways: Sequence[str], first: int) -> str:
    """The ways on some development cars, those where ours loses most first; the steps of ours after each."""
    found = compare(range(first, first + cars), ways, OWN, Prices())
    by_way = {way: {one.seed: one for one in outcomes} for way, outcomes in found.items()}
    seeds = sorted(by_way[OURS], key=lambda seed: by_way[KNOWS][seed].total - by_way[OURS][seed].total)
    steps = [part for seed in seeds for part in steps_of(by_way[OURS][seed])]
    return "\n".join([*steps, "", *rows_of(by_way, seeds), "", *sums_of(by_way, seeds)])


def steps_of(outcome: Outcome) -> list[str]:
    """What was paid for on one car, in order."""
    assert outcome.account is not None
    prices = Prices()
    head = f"seed {outcome.seed}, {outcome.complaint}: {outcome.total:.0f}; behind it: {', '.join(outcome.causes)}"
    return [head] + [
        f"  {each.minutes * prices.per_minute + each.money:7.1f}  {each.heading:<18}  {each.name}"
        for each in outcome.account.done
    ]


def rows_of(by_way: dict[str, dict[int, Outcome]], seeds: Sequence[int]) -> list[str]:
    """A line a car and way: money in all and under each heading, and wrong parts."""
    result = [f"{'seed':<6}{'way':<18}{'total':>8}" + "".join(f"{name:>19}" for name in HEADINGS) + "  wrong parts"]
    for seed in seeds:
        for way, outcomes in by_way.items():
            one = outcomes[seed]
            assert one.account is not None
            by_heading = "".join(f"{money:>19.0f}" for money in spent(one.account, Prices()).values())
            result.append(f"{seed:<6}{way:<18}{one.total:>8.0f}{by_heading}  {one.account.wrong_parts}")
    return result


def sums_of(by_way: dict[str, dict[int, Outcome]], seeds: Sequence[int]) -> list[str]:
    """A line a way: the means of the same, and the share of the plain rule's excess."""
    knows = np.array([by_way[KNOWS][seed].total for seed in seeds])
    result = []
    for way, outcomes in by_way.items():
        accounts = [account for seed in seeds if (account := outcomes[seed].account) is not None]
        total = np.array([outcomes[seed].total for seed in seeds])
        means = {name: np.mean([spent(account, Prices())[name] for account in accounts]) for name in HEADINGS}
        wrong = np.mean([account.wrong_parts for account in accounts])
        by_heading = ", ".join(f"{name} {money:.0f}" for name, money in means.items())
        result.append(
            f"{way:<18} mean {total.mean():.0f} median {np.median(total):.0f}"
            f" over knows {total.mean() / knows.mean():.2f} wrong parts {wrong:.2f}: {by_heading}"
        )
    return result
