"""What checks are worth, by hand: one of three faults, A .5, B .3, C .2, repaired for 30, 40 and 50; proofs are free.

Without looking: 30 + .5 x 40 + .2 x 50 = 60. Whoever is told which it is pays 15 + 12 + 10 = 37.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from knowngood.planner.pricing import NO_CHECK, Option, Pricing
from knowngood.planner.problem import AccessGraph, AccessTime, CheckAt, swapped
from tests.naive.toy_belief import fault, one_of
from tests.unit.planner.small import check, nothing, repair, shows, told, which

COVER = AccessGraph({"cover": AccessTime(6.0, 4.0)})
READINGS = {
    "which": which("A", "B", "C"),
    "a": shows("A"),
    "b": shows("B"),
    "c": shows("C"),
    "coin": (("heads", "tails"), nothing),
}


def pricing(*checks: CheckAt, **more: Any) -> Pricing:
    belief = one_of({"A": 0.5, "B": 0.3, "C": 0.2}, READINGS)
    repairs = [repair("A", 30.0), repair("B", 40.0), repair("C", 50.0)]
    return Pricing(told(belief, repairs, checks, **more), seed=1, most=1000)


def options(priced: Pricing) -> list[Option]:
    """Every check with plans of its own."""
    checks = priced.problem.checks
    return priced.priced([(index, priced.shown(each)) for index, each in enumerate(checks)])


def test_without_looking() -> None:
    """In the order of chance over cost, to the last; nobody can pay less than who knows."""
    priced = pricing()
    assert priced.base == pytest.approx(60.0)
    assert priced.least == pytest.approx(37.0)
    assert priced.unlooked == pytest.approx(60.0)


def test_check_that_tells_all() -> None:
    """5 for the check, then the one repair that is needed."""
    (option,) = options(pricing(check("which", 5.0)))
    assert option.own == pytest.approx(5.0)
    assert option.chance == pytest.approx([0.5, 0.3, 0.2])
    assert option.left == pytest.approx([15.0, 12.0, 10.0])
    assert option.cost == pytest.approx(42.0)


def test_check_that_tells_one_from_the_rest() -> None:
    """A: .5 x 30; not A: B first, .5 x (40 + .4 x 50)."""
    (option,) = options(pricing(check("a", 2.0)))
    assert option.left == pytest.approx([15.0, 30.0])
    assert option.cost == pytest.approx(47.0)


@pytest.mark.parametrize(("opened", "own"), [((), 15.0), (("cover",), 5.0)])
def test_what_must_be_opened_for_a_check_is_in_its_price(opened: tuple[str, ...], own: float) -> None:
    """Opening and closing, 6 and 4; nothing where it is open already."""
    access = AccessGraph(COVER.steps, frozenset(opened))
    (option,) = options(pricing(check("which", 5.0, access=("cover",)), access=access))
    assert option.own == pytest.approx(own)


def test_what_may_break_on_the_way_is_in_the_price() -> None:
    """Opening and closing, 6 and 4, and 2 on average for what breaks; nothing of it where it is open already."""
    step = replace(COVER.steps["cover"], risk=2.0)
    for opened, own in (((), 17.0), (("cover",), 5.0)):
        access = AccessGraph({"cover": step}, frozenset(opened))
        (option,) = options(pricing(check("which", 5.0, access=("cover",)), access=access))
        assert option.own == pytest.approx(own)


def test_shortlist_leaves_out_what_tells_nothing() -> None:
    """A coin is on no shortlist, however cheap; a swap of parts is looked at like a reading."""
    faults = tuple(map(fault, "ABC"))
    swap = check("a", 4.0, after=swapped(faults, faults[:1], faults[1:2]))
    priced = pricing(check("coin", 0.1), check("which", 5.0), check("a", 2.0), check("bc", 9.0, "b", "c"), swap)
    assert {index for index, _ in priced.shortlist(10)} == {1, 2, 3, 4}


def test_shortlist_begins_with_what_saves_most() -> None:
    """Knowing all for 5 or by a row for 9 saves 23, asking for A for 2 saves 15: first what is left over most, then, on
    a longer list, what saves most for its money."""
    priced = pricing(check("bc", 9.0, "b", "c"), check("a", 2.0), check("which", 5.0))
    assert [index for index, _ in priced.shortlist(2)] == [2, 0]
    assert [index for index, _ in priced.shortlist(3)] == [2, 1, 0]


def test_plan_found_for_an_outcome_serves_whoever_does_not_look() -> None:
    """After a coin one goes on as before, for 60; a plan for which a cover is off is no plan with the cover on."""
    behind = check("behind", 1.0, "coin", access=("cover",))
    priced = pricing(check("coin", 1.0), behind, access=COVER)
    for index, base in ((1, 1000.0), (0, 60.0)):
        priced.base = 1000.0
        priced.priced([(index, priced.shown(priced.problem.checks[index]))])
        assert priced.base == pytest.approx(base)


def test_second_check_where_it_is_worth_its_price() -> None:
    """Not A: B asked for 2 leaves .5 x (2 + .6 x 40 + .4 x 50) = 23 instead of 30; nothing more is asked after A."""
    priced = pricing(check("a", 2.0), check("b", 2.0))
    both = options(priced)
    priced.pair_up(both, 3, 2)
    yes, no = both[0].seconds[0], both[0].seconds[1]
    assert yes == pytest.approx({NO_CHECK: 15.0})
    assert no == pytest.approx({NO_CHECK: 30.0, 1: 23.0})
    assert (both[0].second(0), both[0].second(1)) == (NO_CHECK, 1)
    assert both[0].cost == pytest.approx(2.0 + 15.0 + 23.0)


@pytest.mark.parametrize(("first", "left"), [((), 28.0), (("cover",), 23.0)])
def test_second_check_pays_for_what_the_first_did_not_open(first: tuple[str, ...], left: float) -> None:
    """.5 x 10 more behind a cover, unless the first check was behind it too."""
    priced = pricing(check("a", 2.0, access=first), check("b", 2.0, access=("cover",)), access=COVER)
    both = options(priced)
    priced.pair_up(both, 3, 2)
    assert both[0].seconds[1] == pytest.approx({NO_CHECK: 30.0, 1: left})


def test_checks_behind_one_cover_are_read_in_one_go() -> None:
    """Three at 2 each, the cover at 10 once; all is known then. Where it is open already there is no such bundle."""
    three = [check(name, 2.0, access=("cover",)) for name in "abc"]
    priced = pricing(*three, access=COVER)
    ((indices, option),) = priced.bundles(options(priced))
    assert sorted(indices) == [0, 1, 2]
    assert option.own == pytest.approx(16.0)
    assert option.cost == pytest.approx(16.0 + 37.0)
    is_open = pricing(*three, access=AccessGraph(COVER.steps, frozenset({"cover"})))
    assert is_open.bundles(options(is_open)) == []


def test_fault_that_an_outcome_raises_most() -> None:
    """Of those that must be put right only."""
    must = frozenset({fault("B"), fault("C")})
    priced, only = pricing(check("a", 2.0)), pricing(check("a", 2.0), must=must)
    yes, no = priced.shown(priced.problem.checks[0]).like
    raised, fallen = priced.leading(yes, 0.5)
    assert (raised.at, raised.chance, raised.by) == (fault("A"), pytest.approx(1.0), pytest.approx(0.5))
    assert (fallen.at, fallen.chance, fallen.by) == (fault("B"), pytest.approx(0.0), pytest.approx(-0.3))
    raised, fallen = priced.leading(no, 0.5)
    assert (raised.at, raised.chance, raised.by) == (fault("B"), pytest.approx(0.6), pytest.approx(0.3))
    assert (fallen.at, fallen.chance, fallen.by) == (fault("A"), pytest.approx(0.0), pytest.approx(-0.5))
    assert only.leading(yes, 0.5)[0].at in must
