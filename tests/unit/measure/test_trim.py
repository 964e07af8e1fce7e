"""Fuel trims."""

from collections.abc import Callable

import pytest

from knowngood.errors import NotMeasurable
from knowngood.measure.trim import bank_split, meter_trim, pressure_trim, total_trim, trim_standing
from tests.unit.measure.scatter import scatter


def test_action_not_lean_or_rich() -> None:
    """+ is named by what the computer does."""
    assert [trim_standing(trim, 1.0).action for trim in (5.0, -5.0, 0.0)] == ["adds fuel", "takes fuel away", "neither"]


def test_chance_beyond() -> None:
    """At the limit it is one half, without error it is sure, and both sides count."""
    assert trim_standing(10.0, 1.0).beyond_chance == pytest.approx(0.5)
    assert trim_standing(10.5, 0.0).beyond_chance == 1.0
    assert trim_standing(0.0, 10.0).beyond_chance == pytest.approx(0.317, abs=0.001)


@pytest.mark.parametrize(
    ("banks", "verdict"),
    [
        ((2.0, 3.0), "usual"),
        ((15.0, 14.0), "both banks"),
        ((19.0, -19.0), "banks differ"),
        ((3.0, 14.0), "bank 2"),
        ((9.0, 12.0), "both banks"),
    ],
)
def test_banks(banks: tuple[float, float], verdict: str) -> None:
    """Shared, one, or both and different."""
    assert bank_split(*banks).verdict == verdict


def test_error_is_what_throws_scatter() -> None:
    """Each error agrees with 4000 thrown readings within 5 %."""
    assert total_trim(12.0, 6.0)[1] == pytest.approx(
        scatter(lambda s, lt: total_trim(s, lt)[0], (12.0, 6.0), (3.5, 0.2255)), rel=0.05
    )
    assert meter_trim(0.9, share_se=0.03)[1] == pytest.approx(
        scatter(lambda share: meter_trim(share)[0], (0.9,), (0.03,)), rel=0.05
    )
    assert pressure_trim(250.0, 300.0, pressure_se_kpa=8.0, wanted_se_kpa=4.0)[1] == pytest.approx(
        scatter(lambda p, w: pressure_trim(p, w)[0], (250.0, 300.0), (8.0, 4.0)), rel=0.05
    )


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (
            lambda: total_trim(125.0, 0.0),
            "Short trim is 125 %: outside -100 to 100 %. Check the reading and its unit.",
        ),
        (lambda: trim_standing(5.0, -1.0), "Standard error of the trim is -1 %. Give 0 or more in %."),
        (lambda: meter_trim(0.0), "Share that the meter reads is 0. Give a number above 0."),
        (
            lambda: pressure_trim(20.0, 300.0, pressure_se_kpa=10.0),
            "Fuel pressure is 20 kPa with a standard error of 10 kPa: less than three of them. "
            "Measure again with a finer instrument or a larger value.",
        ),
    ],
)
def test_refusals(ask: Callable[[], object], words: str) -> None:
    """Word for word; 125 is a trim about 100, to be turned at the door."""
    with pytest.raises(NotMeasurable) as refused:
        ask()
    assert str(refused.value) == words


def test_middle_of_both_banks_and_what_they_differ_by() -> None:
    """17 and 15 %: 16 in the middle, 2 apart; the middle is known twice as well as the difference."""
    found = bank_split(17.0, 15.0, bank_1_se_pct=3.0, bank_2_se_pct=4.0)
    assert (found.shared_pct, found.difference_pct) == pytest.approx((16.0, 2.0))
    assert (found.shared_se_pct, found.difference_se_pct) == pytest.approx((2.5, 5.0))
