"""Plug gaps."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowngood.errors import NotMeasurable
from knowngood.measure.plug_gap import gap_verdict, gap_wear, odd_gaps
from tests.unit.measure.scatter import scatter


@pytest.mark.parametrize(
    ("gap", "low", "high", "word"),
    [
        (1.30, 1.00, 1.10, "over"),
        (0.80, 1.00, 1.10, "under"),
        (1.05, 0.90, 1.20, "inside"),
        (1.12, 1.00, 1.10, "cannot tell"),
        (1.02, 1.00, 1.10, "cannot tell"),
        (1.12, 1.10, 1.10, "inside"),
        (1.30, 1.10, 1.10, "over"),
    ],
)
def test_gap_against_its_window(gap: float, low: float, high: float, word: str) -> None:
    """A feeler tells no finer than its blades; a single figure is met within the reading error."""
    assert gap_verdict(gap, low, high).word == word


def test_how_far_outside_with_the_error_of_the_feeler() -> None:
    """0.2 mm over a window of 1.0 to 1.1, 0.1 mm under it, and nothing inside."""
    found = [gap_verdict(gap, 1.0, 1.1, gap_se_mm=0.02) for gap in (1.3, 0.9, 1.05)]
    assert [one.beyond_mm for one in found] == pytest.approx([0.2, 0.1, 0.0])
    assert [one.beyond_se_mm for one in found] == [0.02] * 3


@given(st.floats(0.3, 3.0))
def test_both_units_are_the_same_gap(gap: float) -> None:
    """25.4 mm an inch."""
    found = gap_verdict(gap, 0.9, 1.1)
    assert found.gap_in * 25.4 == pytest.approx(found.gap_mm)


def test_error_of_the_wear_is_what_throws_scatter() -> None:
    """Within 5 % of thrown readings."""
    wear = gap_wear(1.2, 1.0, 40000.0, 1.3)
    thrown = scatter(lambda now, new: (now - new) / 4.0, (1.2, 1.0), (0.03, 0.03))
    assert wear.per_10000_km_se_mm == pytest.approx(thrown, rel=0.05)
    assert wear.left_km == pytest.approx(20000.0)


def test_worn_out_plug_has_nothing_left() -> None:
    """Past the window is 0, not a negative distance."""
    assert gap_wear(1.5, 1.0, 40000.0, 1.3).left_km == 0.0


def test_growth_inside_the_reading_errors_is_refused() -> None:
    """0.05 mm by feeler is no wear."""
    with pytest.raises(NotMeasurable, match=r"^Growth of the gap is 0\.05 mm with a standard error of 0\.0424264 mm"):
        gap_wear(1.05, 1.0, 10000.0, 1.3)


def test_window_the_wrong_way_round_is_refused() -> None:
    """Smaller end first."""
    with pytest.raises(NotMeasurable) as refused:
        gap_verdict(1.0, 1.1, 0.9)
    assert str(refused.value) == "The window is 1.1 to 0.9 mm. Give the smaller end first."


def test_closed_plug_is_found_in_its_row() -> None:
    """A dropped plug."""
    assert odd_gaps([1.1, 1.12, 1.08, 0.4]) == (4,)
    assert odd_gaps([1.1, 1.12, 1.08, 1.15]) == ()


@pytest.mark.parametrize(
    ("gaps", "odd"),
    [
        ([1.0, 1.0, 1.3, 1.3, 1.3], (1, 2)),
        ([1.3, 1.3, 1.0, 1.0, 1.0], (1, 2)),
        ([1.0, 1.0, 1.3, 1.3], ()),
        ([1.0, 1.0, 1.4, 1.4], ()),
        ([1.0, 1.0, 1.5, 1.5], (1, 2, 3, 4)),
    ],
)
def test_gaps_are_held_against_the_middle(gaps: list[float], odd: tuple[int, ...]) -> None:
    """The middle one, or halfway between the two in the middle."""
    assert odd_gaps(gaps, gap_se_mm=0.01, allowed_mm=0.225) == odd


def test_gaps_inside_the_reading_error_are_not_odd() -> None:
    """Three standard errors of the gauge, where that is more than what is usual in a set."""
    assert odd_gaps([1.1, 1.1, 0.8, 1.1], gap_se_mm=0.05) == (3,)
    assert odd_gaps([1.1, 1.1, 0.8, 1.1], gap_se_mm=0.11) == ()
