"""Crank-speed orders."""

import pytest

from knowngood.errors import NotMeasurable
from knowngood.measure.crank_orders import roughness, speed_loss, torque_orders


def test_nothing_is_left_when_all_are_dead() -> None:
    """An engine that does not fire has no gas torque lines."""
    assert torque_orders(4, {1, 2, 3, 4}) == ()


def test_one_cylinder_fires_at_the_half_order() -> None:
    """A healthy single has every half order, and none of them is a fault."""
    assert [line.order for line in torque_orders(1, highest_order=1.5)] == [0.5, 1.0, 1.5]


def test_speeding_up_is_negative() -> None:
    """A shorter segment after a longer one is no slowing."""
    assert roughness(38.0, 37.0)[0] < 0.0


def test_place_outside_the_firing_order() -> None:
    """Word for word."""
    with pytest.raises(NotMeasurable) as refused:
        torque_orders(4, {5})
    assert str(refused.value) == "Place 5 is not in a firing order of 4. Count places from 1 to 4 in firing order."


def test_roughness_by_hand() -> None:
    """0.010 s, then 0.011 s: 0.001 over 0.010 cubed."""
    assert roughness(10.0, 11.0)[0] == pytest.approx(1000.0, rel=1e-9)


@pytest.mark.parametrize(
    ("work", "inertia", "rpm"), [(0.0, 0.2, 800), (-1.0, 0.2, 800), (100.0, 0.0, 800), (100.0, 0.2, 0)]
)
def test_loss_of_nothing_is_refused(work: float, inertia: float, rpm: float) -> None:
    """No work lost, nothing that turns, or no turning."""
    with pytest.raises(NotMeasurable):
        speed_loss(work, inertia, rpm)
