"""Charging a coil against numerical integration (scipy) and computed figures; turns by common practice."""

import pytest
from scipy.integrate import solve_ivp

from knowngood.measure.coil import charging_current, energy_share, secondary_kv, stored_energy, time_to_current


@pytest.mark.parametrize(
    ("time_ms", "amps", "millijoules"),
    [
        pytest.param(1.0, 3.727, 24.3, id="r3.18-1ms"),
        pytest.param(2.0, 6.959, 84.7, id="r3.18-2ms"),
        pytest.param(3.0, 9.760, 166.7, id="r3.18-3ms"),
    ],
)
def test_charging(time_ms: float, amps: float, millijoules: float) -> None:
    """0.5 Ω, 3.5 mH, 14 V: current and energy; scipy integrates L di/dt = V - R i to the same."""
    current, _ = charging_current(14.0, 0.5, 3.5, time_ms)
    solved = solve_ivp(lambda t, i: (14.0 - 0.5 * i) / 3.5, (0.0, time_ms), [0.0], rtol=1e-10, atol=1e-12)
    assert current == pytest.approx(amps, abs=6e-4)
    assert current == pytest.approx(solved.y[0, -1], rel=1e-8)
    assert stored_energy(current, 3.5)[0] == pytest.approx(millijoules, abs=0.06)


@pytest.mark.parametrize(
    ("volts", "milliseconds"),
    [
        pytest.param(9.0, 3.447, id="r3.18-9V"),
        pytest.param(10.5, 2.838, id="r3.18-10.5V"),
        pytest.param(12.0, 2.414, id="r3.18-12V"),
        pytest.param(14.0, 2.014, id="r3.18-14V"),
    ],
)
def test_time_to_seven_amps(volts: float, milliseconds: float) -> None:
    """Same coil, 7 A, at low and full battery."""
    assert time_to_current(volts, 0.5, 3.5, 7.0)[0] == pytest.approx(milliseconds, abs=6e-4)


def test_energy_share_against_integration() -> None:
    """Both voltages integrated by scipy for the same time."""
    ends = [
        solve_ivp(lambda t, i, v=volts: (v - 0.5 * i) / 3.5, (0.0, 2.0), [0.0], rtol=1e-10, atol=1e-12).y[0, -1]
        for volts in (9.0, 14.0)
    ]
    assert energy_share(9.0)[0] == pytest.approx((ends[0] / ends[1]) ** 2, rel=1e-8)


@pytest.mark.parametrize(
    ("end", "turns"),
    [
        pytest.param("low", 50, id="r3.19-50"),
        pytest.param("value", 100, id="r3.19-100"),
        pytest.param("high", 200, id="r3.19-200"),
    ],
)
def test_turns(end: str, turns: float) -> None:
    """50 to 200 to 1, about 100 usual (common practice)."""
    assert getattr(secondary_kv(400.0), end) == pytest.approx(0.4 * turns)
