"""Tightening."""

import pytest

from knowngood.errors import KnownGoodError
from knowngood.measure.tightening import CAUTIONS, force_of_torque, torque_for_force


def test_there_and_back() -> None:
    """The range of force behind the middle torque holds the force it was made from."""
    torque = torque_for_force(12.0, 40.0)
    assert force_of_torque(12.0, torque.value).holds(40.0)
    assert force_of_torque(12.0, torque.low).high == pytest.approx(40.0)


def test_maker_wins() -> None:
    """The first caution defers to the maker."""
    assert CAUTIONS[0] == "The car maker's torque and sequence win."


def test_refusals() -> None:
    """Word for word."""
    with pytest.raises(KnownGoodError) as refused:
        torque_for_force(12.0, 40.0, "rusty")
    assert str(refused.value) == "No friction is known for a thread that is 'rusty'. Give one of: dry, oiled."
    with pytest.raises(KnownGoodError, match=r"Thread diameter is 0 mm\."):
        force_of_torque(0.0, 96.0)
