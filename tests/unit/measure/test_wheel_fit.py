"""Wheel fitment."""

import math

import pytest

from knowngood.errors import KnownGoodError
from knowngood.measure.wheel_fit import (
    FitmentChange,
    clearance_left,
    effective_offset,
    fitment_change,
    thread_engagement,
)


def test_same_wheel_changes_nothing() -> None:
    """No change in, no change out."""
    assert fitment_change(7, 40, 7, 40, old_offset_se_mm=0.0, new_offset_se_mm=0.0) == FitmentChange(
        0.0, 0.0, 0.0, 0.0, 0.0
    )


def test_spacer_moves_out_by_its_thickness() -> None:
    """A 15 mm spacer is 15 mm out, 15 mm away from the strut, and 30 mm of track."""
    change = fitment_change(7, 40, 7, effective_offset(40, 15)[0])
    assert (change.outward_mm, change.inward_mm, change.track_mm) == (15.0, -15.0, 30.0)


@pytest.mark.parametrize(
    ("room", "verdict"), [(18.0, "cannot tell"), (19.0, "enough"), (17.0, "too little"), (15.0, "touches")]
)
def test_clearance(room: float, verdict: str) -> None:
    """3 mm are wanted to anything fixed; a room measured to 0.2 mm."""
    assert clearance_left(room, 50.0, FitmentChange(15.0, -15.0, 30.0, 0.0, 0.0), room_se_mm=0.2).verdict == verdict


@pytest.mark.parametrize(
    ("room", "verdict"), [(21.0, "enough"), (20.0, "cannot tell"), (16.0, "cannot tell"), (15.0, "touches")]
)
def test_clearance_within_its_own_error_is_not_told(room: float, verdict: str) -> None:
    """A room of 5 mm that errs by 1.2 may be under 3: two standard errors, hypot(1.0, 0.7), are 2.4."""
    left = clearance_left(room, 50.0, FitmentChange(15.0, -15.0, 30.0, 0.7, 1.4))
    assert left.verdict == verdict
    assert (left.outer_mm, left.inner_mm) == pytest.approx((room - 15.0, 65.0))
    assert left.outer_se_mm == left.inner_se_mm == pytest.approx(math.hypot(1.0, 0.7))


def test_threads() -> None:
    """Eight turns of M12x1.5 hold in steel and not in aluminium."""
    assert thread_engagement(12.0, 12.0, 1.5).verdict == "enough"
    assert thread_engagement(12.0, 12.0, 1.5, "aluminium").verdict == "too little"


def test_refusals() -> None:
    """Word for word."""
    with pytest.raises(KnownGoodError) as refused:
        thread_engagement(12.0, 12.0, 1.5, "cheese")
    assert str(refused.value) == "No least engagement is known for 'cheese'. Give one of: steel, aluminium."
    with pytest.raises(KnownGoodError, match=r"Spacer is -5 mm\. Give 0 or more in mm\."):
        effective_offset(40, -5)
