"""Tyre sizes: worked examples."""

import pytest

from knowngood.measure.tyre import overall_diameter, read_size, rolling_circumference, size_change, turns_per_km


def diameter(size: str) -> float:
    read = read_size(size)
    return overall_diameter(read.width_mm, read.aspect_pct, read.rim_in)[0]


@pytest.mark.parametrize(
    ("size", "mm"),
    [
        pytest.param("185/70R14", 24.197 * 25.4, id="r11.01-185/70R14"),
        pytest.param("195/50R15", 22.677 * 25.4, id="r11.01-195/50R15"),
        pytest.param("205/55R16", 631.9, id="r11.01-205/55R16"),
        pytest.param("225/45R17", 634.3, id="r11.01-225/45R17"),
        pytest.param("225/40R18", 637.2, id="r11.01-225/40R18"),
        pytest.param("195/65R15", 634.5, id="r11.01-195/65R15"),
        pytest.param("265/70R16", 777.4, id="r11.01-265/70R16"),
    ],
)
def test_overall_diameter(size: str, mm: float) -> None:
    """25.4 rim + 2 W A / 100 (first two: a worked example in inches)."""
    assert diameter(size) == pytest.approx(mm, abs=0.06)


@pytest.mark.parametrize(("factor", "percent"), [pytest.param(1.0670139, 6.7, id="r11.02")])
def test_speed_error(factor: float, percent: float) -> None:
    """24.19685 / 22.67717 in: 6.7 % more shown (worked example)."""
    change = size_change(read_size("185/70R14"), read_size("195/50R15"))
    assert change.shown_over_true == pytest.approx(factor, abs=1e-6)
    assert change.shown_error_pct == pytest.approx(percent, abs=0.05)


@pytest.mark.parametrize(
    ("build", "low", "high"),
    [
        pytest.param("radial", 1927.3, 1985.2, id="r11.03-radial-factor-from-memory"),
        pytest.param("bias", 2.99 * 631.9, 1985.2, id="r11.03-bias-factor-from-memory"),
    ],
)
def test_rolling_circumference(build: str, low: float, high: float) -> None:
    """3.05 D radial, 2.99 D bias (factors from memory) against pi D; 518.9 turns a kilometre."""
    rolled = rolling_circumference(diameter("205/55R16"), build)
    assert rolled.value == pytest.approx(low, abs=0.06)
    assert rolled.high == pytest.approx(high, abs=0.06)
    assert turns_per_km(1927.3)[0] == pytest.approx(518.9, abs=0.05)
