"""Starter circuit."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowngood.errors import NotMeasurable
from knowngood.measure.starter import battery_resistance, check_cranking, starter_loss
from tests.unit.measure.scatter import scatter


@given(st.floats(0.0, 3.0), st.floats(0.0, 3.0))
def test_loss_by_the_ampere_rises_with_the_loss(one: float, other: float) -> None:
    """At one current."""
    low, high = sorted((one, other))
    assert starter_loss(low, 150.0).v_per_100_a <= starter_loss(high, 150.0).v_per_100_a


@pytest.mark.parametrize(("drop", "word"), [(0.9, "over"), (0.1, "within"), (0.31, "cannot tell")])
def test_loss_against_the_rule(drop: float, word: str) -> None:
    """0.30 V is allowed at 150 A."""
    assert starter_loss(drop, 150.0).word == word


def test_error_of_the_loss_is_what_throws_scatter() -> None:
    """Within 5 % of thrown readings."""
    loss = starter_loss(0.5, 150.0)
    thrown = scatter(lambda v, i: 100.0 * v / i, (0.5, 150.0), (0.01, 5.0))
    assert loss.se_v_per_100_a == pytest.approx(thrown, rel=0.05)


def test_error_of_the_battery_is_what_throws_scatter() -> None:
    """Within 5 % of thrown readings."""
    _, se = battery_resistance(12.6, 10.2, 200.0)
    thrown = scatter(lambda v0, v1, i: (v0 - v1) / i, (12.6, 10.2, 200.0), (0.02, 0.02, 5.0))
    assert se == pytest.approx(thrown, rel=0.05)


def test_voltage_that_did_not_fall_is_refused() -> None:
    """The starter did not turn, or the reading is late."""
    with pytest.raises(NotMeasurable, match=r"^Fall of the voltage is 0\.05 V with a standard error of 0\.0282843 V"):
        battery_resistance(12.60, 12.55, 200.0)


def test_long_crank_waits() -> None:
    """30 s at most, two minutes of rest."""
    with pytest.raises(NotMeasurable) as refused:
        check_cranking(40.0, 10.0)
    assert str(refused.value) == (
        "Cranked 40 s, rested 10 s: at most 30 s, then rest in proportion. Wait until 120 s have passed."
    )
    with pytest.raises(NotMeasurable, match=r"Wait until 40 s have passed\.$"):
        check_cranking(10.0, 20.0)
    check_cranking(10.0, 41.0)


def test_long_crank_after_a_rest_says_what_to_do() -> None:
    """Waiting longer does not help who rested an hour."""
    with pytest.raises(NotMeasurable) as refused:
        check_cranking(40.0, 3600.0)
    assert str(refused.value) == (
        "Cranked 40 s, rested 3600 s: at most 30 s, then rest in proportion. "
        "It has rested enough; turn it 30 s at most."
    )
