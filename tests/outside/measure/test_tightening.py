"""Tightening: the short formula, as a range."""

import math

import pytest

from knowngood.measure.tightening import CAUTIONS, RECHECK_KM, force_of_torque, torque_for_force


@pytest.mark.parametrize(
    ("state", "torque"),
    [
        pytest.param("dry", 96.0, id="r12.11-dry-from-memory"),
        pytest.param("oiled", 72.0, id="r12.11-oiled-from-memory"),
    ],
)
def test_torque_formula(state: str, torque: float) -> None:
    """T = K d F, M12 and 40 kN, K 0.20 dry and 0.15 oiled (factors from memory, arithmetic checked)."""
    found = torque_for_force(12.0, 40.0, state)
    assert found.value == pytest.approx(torque)
    assert found.low < torque < found.high
    assert force_of_torque(12.0, torque, state).value == pytest.approx(40.0)


@pytest.mark.parametrize(("state", "friction"), [("dry", 0.15), ("oiled", 0.105)])
def test_torque_by_thread_mechanics(state: str, friction: float) -> None:
    """An M12 bolt: pitch 1.75, flank diameter 10.863, seat 18 by 13.5 mm (ISO 724, ISO 273); friction common practice.

    Torque is what the pitch lifts, what the flanks of 60° rub and what the seat rubs (textbook).
    """
    lift, flanks = 1.75 / (2.0 * math.pi), 10.863 / 2.0 * friction / math.cos(math.radians(30.0))
    seat = friction * (18.0 + 13.5) / 4.0
    found = torque_for_force(12.0, 40.0, state)
    assert found.value == pytest.approx(40.0 * (lift + flanks + seat), rel=0.03)


@pytest.mark.parametrize("km", [pytest.param((50.0, 100.0), id="from-memory-only")])
def test_recheck(km: tuple[float, float]) -> None:
    """Wheels again after 50 to 100 km (from memory); the caution says the same numbers."""
    assert km == RECHECK_KM
    assert any(f"{km[0]:.0f} to {km[1]:.0f} km" in caution for caution in CAUTIONS)
