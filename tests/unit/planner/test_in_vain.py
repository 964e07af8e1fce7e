"""What a repair made before any check adds, by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from knowngood.planner.candidates import in_vain_of
from knowngood.planner.pricing import Pricing
from knowngood.planner.problem import AccessGraph, AccessTime, Repair
from tests.naive.toy_belief import Toy, independent
from tests.unit.planner.small import repair, told

OTHERS = [f"f{index}" for index in range(11)]  # with them there are more sets than draws
DRAWN = 400


def belief() -> Toy:
    """A plug that is off in 3 of 10, a dead sensor in 5 of 10, eleven others."""
    return independent({"plug_off": 0.3, "dead": 0.5, **dict.fromkeys(OTHERS, 0.1)}, {})


def priced(*repairs: Repair) -> tuple[Pricing, dict[str, float]]:
    """The pricing, and what each repair adds."""
    others = [repair(name, 30.0) for name in OTHERS]
    pricing = Pricing(told(belief(), [*repairs, *others]), seed=1, most=DRAWN)
    return pricing, dict(zip([one.id for one in pricing.board.repairs], in_vain_of(pricing), strict=True))


def chance(pricing: Pricing, *names: str) -> float:
    """Share of the draws in which one of these is there."""
    columns = [column for column, at in enumerate(pricing.problem.belief.faults) if at.fault in names]
    return float(pricing.weight @ (pricing.scenarios.present[:, columns] > 0).any(axis=1))


def sensor(money: float, **more: object) -> Repair:
    """A new sensor, which comes with a plug that is pushed on."""
    at = {each.fault: each for each in belief().faults}
    return replace(repair("dead", money), id="new", fixes=(at["dead"], at["plug_off"]), **more)


def test_a_repair_that_is_the_only_cure_adds_its_price_where_nothing_is_wrong() -> None:
    """60 x (1 - chance); that it works in 8 of 10 only is paid by whoever looks first, too."""
    for works in (1.0, 0.8):
        pricing, adds = priced(replace(repair("dead", 60.0), id="new", works=works))
        assert adds["new"] == pytest.approx(60.0 * (1.0 - chance(pricing, "dead")))


def test_a_part_adds_most_of_its_price_where_a_cheaper_cure_would_do() -> None:
    """A new sensor at 60 for a plug that is off, which 3 put right: 57 of it were for nothing."""
    pricing, adds = priced(sensor(60.0), replace(repair("plug_off", 3.0), id="push"))
    dead, either = chance(pricing, "dead"), chance(pricing, "dead", "plug_off")
    assert adds["new"] == pytest.approx(60.0 - 60.0 * dead - 3.0 * (either - dead))
    assert adds["push"] == pytest.approx(3.0 * (1.0 - chance(pricing, "plug_off")))


def test_a_cheap_try_that_seldom_works_adds_what_it_fails() -> None:
    """Cleaning at 5 that works in 1 of 5 beside a part at 20 for sure: 25 until it works, so the part is the cheaper
    way, and what cleaning spares is a fifth of 20."""
    pricing, adds = priced(replace(repair("dead", 20.0), id="new"), replace(repair("dead", 5.0), id="clean", works=0.2))
    assert adds["clean"] == pytest.approx(5.0 - 0.2 * 20.0 * chance(pricing, "dead"))


def test_what_comes_off_is_paid_anyway_where_it_is_needed() -> None:
    """A cover of 20 before a repair of 60: 80 x (1 - chance)."""
    access = AccessGraph({"cover": AccessTime(15.0, 5.0)})
    behind = replace(repair("dead", 60.0), id="new", access=("cover",))
    others = [repair(name, 30.0) for name in OTHERS]
    pricing = Pricing(told(belief(), [behind, *others], access=access), seed=1, most=DRAWN)
    row = [one.id for one in pricing.board.repairs].index("new")
    assert in_vain_of(pricing)[row] == pytest.approx(80.0 * (1.0 - chance(pricing, "dead")))


def test_what_the_shop_pays_back_is_taken_off() -> None:
    """Of 60 the shop pays 40 back where nothing was wrong."""
    pricing, adds = priced(replace(repair("dead", 60.0), id="new", refund=40.0))
    assert adds["new"] == pytest.approx(20.0 * (1.0 - chance(pricing, "dead")))


def test_where_all_sets_are_known_it_is_not_said() -> None:
    """There checks are planned through, and nothing has to be taken for granted."""
    small = independent({"dead": 0.5}, {})
    pricing = Pricing(told(small, [repair("dead", 60.0)]), seed=1, most=DRAWN)
    assert np.isinf(in_vain_of(pricing)).all()
