"""Coils."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowngood.errors import NotMeasurable
from knowngood.measure.coil import (
    charging_current,
    energy_share,
    secondary_kv,
    stored_energy,
    time_to_current,
    winding_at_20c,
    winding_word,
)
from tests.unit.measure.scatter import scatter

ERRORS = (0.05, 0.03, 0.1)


@given(st.floats(6.0, 16.0), st.floats(0.2, 3.0), st.floats(1.0, 10.0), st.floats(0.0, 20.0), st.floats(0.0, 20.0))
def test_current_only_rises(volts: float, ohm: float, henry: float, one: float, other: float) -> None:
    """It never falls while the switch is closed and never exceeds volts over ohms."""
    early, late = sorted((one, other))
    found = [charging_current(volts, ohm, henry, time)[0] for time in (early, late)]
    assert 0.0 <= found[0] <= found[1] + 1e-12 <= volts / ohm + 1e-9


@given(st.floats(8.0, 16.0), st.floats(0.2, 1.0), st.floats(1.0, 10.0), st.floats(0.1, 0.9))
def test_time_and_current_undo_each_other(volts: float, ohm: float, henry: float, share: float) -> None:
    """The time to a current is the time at which it flows."""
    wanted = share * volts / (ohm + 0.03) * 0.95
    time_ms, _ = time_to_current(volts, ohm, henry, wanted)
    assert charging_current(volts, ohm, henry, time_ms)[0] == pytest.approx(wanted, rel=1e-9)


def test_error_of_the_current_is_what_throws_scatter() -> None:
    """Within 5 % of thrown circuits."""
    _, se = charging_current(14.0, 0.5, 3.5, 2.0)
    thrown = scatter(lambda v, r, h: v / r * (1.0 - math.exp(-2.0 * r / h)), (14.0, 0.5, 3.5), ERRORS)
    assert se == pytest.approx(thrown, rel=0.05)


def test_error_of_the_time_is_what_throws_scatter() -> None:
    """Within 5 % of thrown circuits."""
    _, se = time_to_current(10.5, 0.5, 3.5, 7.0)
    thrown = scatter(lambda v, r, h: -h / r * math.log(1.0 - 7.0 * r / v), (10.5, 0.5, 3.5), ERRORS)
    assert se == pytest.approx(thrown, rel=0.05)


def test_error_of_the_energy_is_what_throws_scatter() -> None:
    """Within 5 % of thrown currents."""
    _, se = stored_energy(7.0, 3.5)
    assert se == pytest.approx(scatter(lambda i: 1.75 * i * i, (7.0,), (0.2,)), rel=0.05)


def test_error_of_the_share_is_what_throws_scatter() -> None:
    """Within 5 % of thrown voltages."""
    _, se = energy_share(9.0, battery_se_v=0.2)
    assert se == pytest.approx(scatter(lambda low, usual: (low / usual) ** 2, (9.0, 14.0), (0.2, 0.05)), rel=0.05)


def test_error_of_the_winding_is_what_throws_scatter() -> None:
    """Within 5 % of thrown readings and temperatures."""
    _, se = winding_at_20c(0.62, 80.0)
    thrown = scatter(lambda r, t: r / (1.0 + 0.00393 * (t - 20.0)), (0.62, 80.0), (0.05, 5.0))
    assert se == pytest.approx(thrown, rel=0.05)


@given(st.floats(6.0, 14.0), st.floats(0.5, 5.0))
def test_share_of_energy_is_that_of_the_full_circuit(volts: float, time_ms: float) -> None:
    """The shortcut gives what charging the same coil for the same time gives."""
    low, usual = (charging_current(v, 0.6, 4.0, time_ms)[0] for v in (volts, 14.0))
    assert energy_share(volts)[0] == pytest.approx((low / usual) ** 2)


@pytest.mark.parametrize(
    ("ohms", "word"),
    [(0.6, "inside"), (0.3, "under"), (1.5, "over"), (0.45, "cannot tell"), (math.inf, "open")],
)
def test_winding_against_its_span(ohms: float, word: str) -> None:
    """Within two standard errors of an end nobody can tell."""
    assert winding_word(ohms, 0.5, 0.8, ohms_se=0.03) == word


def test_current_that_never_flows_is_refused() -> None:
    """9 V over 1.5 Ω is 6 A."""
    with pytest.raises(NotMeasurable) as refused:
        time_to_current(9.0, 1.5, 3.5, 7.0)
    assert str(refused.value) == (
        "7 A at 9 V and 1.5 Ω: no more than 6.00 A ever flows. "
        "Check the voltage at the coil and the resistance of its circuit."
    )


def test_turns_out_of_order_are_refused() -> None:
    """Least to greatest."""
    with pytest.raises(NotMeasurable) as refused:
        secondary_kv(400.0, turns=300.0)
    assert str(refused.value) == "Turns 50, 300, 200. Give them from least to greatest."


def test_span_the_wrong_way_round_is_refused() -> None:
    """Smaller end first."""
    with pytest.raises(NotMeasurable) as refused:
        winding_word(0.5, 0.8, 0.5)
    assert str(refused.value) == "The span is 0.8 to 0.5 Ω. Give the smaller end first."


@pytest.mark.parametrize(
    ("ohms", "word"), [(0.43, "under"), (0.57, "inside"), (0.73, "inside"), (0.75, "cannot tell"), (0.87, "over")]
)
def test_both_ends_of_the_span_are_held_alike(ohms: float, word: str) -> None:
    """Two standard errors of 0.03 Ω to either side of 0.5 and of 0.8 Ω."""
    assert winding_word(ohms, 0.5, 0.8, ohms_se=0.03) == word
