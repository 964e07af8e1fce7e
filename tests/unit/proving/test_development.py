"""Where a development car's money goes."""

from __future__ import annotations

from knowngood.proving.development import rows_of, spent, steps_of, sums_of
from knowngood.proving.policies import Outcome
from knowngood.proving.simulated import Prices
from knowngood.proving.simulated_bay import CHECKS, NEEDED, ROAD, Account


def outcome(way: str, minutes: float) -> Outcome:
    account = Account(wrong_parts=1)
    account.pay(CHECKS, "look", minutes)
    account.pay(NEEDED, "replace hose", 6.0, 30.0)
    account.pay(ROAD, "road test", 20.0)
    return Outcome(1001, way, account, account.total(Prices()), 3, 1, "miss", ("hose_split @ engine",))


def test_every_cent_is_under_a_heading() -> None:
    """At 40 an hour: 12 minutes of checks are 8, the hose 4 and 30, the road test 13.33; together the total."""
    one = outcome("ours", 12.0)
    assert one.account is not None
    by_heading = spent(one.account, Prices())
    assert (by_heading[CHECKS], by_heading[NEEDED]) == (8.0, 34.0)
    assert abs(sum(by_heading.values()) - one.total) < 1e-9


def test_tables_name_car_way_and_money() -> None:
    """A line a step, a line a car and way, a line a way."""
    by_way = {way: {1001: outcome(way, minutes)} for way, minutes in (("knows", 0.0), ("ours", 12.0), ("voi1", 30.0))}
    assert "behind it: hose_split @ engine" in steps_of(by_way["ours"][1001])[0]
    assert [line.split()[:3] for line in rows_of(by_way, [1001])[1:]] == [
        ["1001", "knows", "47"],
        ["1001", "ours", "55"],
        ["1001", "voi1", "67"],
    ]
    assert "over knows 1.17 wrong parts 1.00: access 0, checks 8" in sums_of(by_way, [1001])[1]
