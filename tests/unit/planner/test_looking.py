"""What looking on costs, by hand."""

from __future__ import annotations

import numpy as np
import pytest

from knowngood.planner.looking import Look, Looking, looking_with


def look(own: float, *after: tuple[float, float]) -> Look:
    return Look(own, np.array([chance for chance, _ in after]), np.array([waste for _, waste in after]))


def test_small_waste_is_paid_whole_and_large_waste_by_its_logarithm() -> None:
    """At 10 a nat: 0.1 of waste is paid but for a hundredth; ten times as much waste of 10,000 adds 10 ln 10."""
    looking = Looking(10.0)
    assert looking.paid(np.array([0.1]))[0] == pytest.approx(0.1, rel=0.01)
    less, more = looking.paid(np.array([1e4, 1e5]))
    assert more - less == pytest.approx(10.0 * np.log(10.0), rel=1e-3)


@pytest.mark.parametrize("waste", [0.0, 1.0, 30.0, 1000.0])
def test_share_is_the_slope_of_what_is_paid(waste: float) -> None:
    """By a difference of a millionth."""
    for looking in (Looking(7.0), Looking()):
        low, high = looking.paid(np.array([waste, waste + 1e-6]))
        assert looking.share(np.array([waste]))[0] == pytest.approx((high - low) / 1e-6, rel=1e-3)


def test_check_that_halves_the_waste_sets_the_price() -> None:
    """A check at 5 that leaves 1000 as 500 either way: a ln((a + 1000) / (a + 500)) = 5 gives 7.29 a nat."""
    found = looking_with(1000.0, [look(5.0, (0.5, 500.0), (0.5, 500.0))])
    a = found.per_nat
    assert a * np.log((a + 1000.0) / (a + 500.0)) == pytest.approx(5.0)
    assert a == pytest.approx(7.29, abs=0.01)


def test_row_of_checks_sets_the_price_by_its_average() -> None:
    """Four checks at 5, one at 12, each leaving a third: ln 170 / ln 3 = 4.7 of them are wanted, so all are counted."""
    third = ((0.5, 1000.0 / 3.0), (0.5, 1000.0 / 3.0))
    found = looking_with(1000.0, [*[look(5.0, *third) for _ in range(4)], look(12.0, *third)])
    a = found.per_nat
    nats = np.log((a + 1000.0) / (a + 1000.0 / 3.0))
    wanted = np.log1p(1000.0 / a)
    assert 4 * nats < wanted < 5 * nats
    assert a * 5 * nats == pytest.approx(4 * 5.0 + 12.0)


def test_checks_that_are_not_wanted_change_nothing() -> None:
    """One that leaves nothing is enough; a dearer one, and one that tells nothing, are not counted."""
    best = look(5.0, (0.5, 0.0), (0.5, 0.0))
    others = [look(50.0, (0.5, 500.0), (0.5, 500.0)), look(1.0, (0.5, 1000.0), (0.5, 1000.0))]
    assert looking_with(1000.0, [*others, best]) == looking_with(1000.0, [best])


def test_where_no_check_is_worth_its_price_all_waste_is_paid() -> None:
    """A check at 60 that saves 50, and no check at all."""
    dear = look(60.0, (0.5, 50.0), (0.5, 50.0))
    for looks in ([dear], []):
        assert looking_with(100.0, looks) == Looking()
