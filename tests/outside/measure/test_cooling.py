"""Thermostats and running temperatures of the trade."""

import pytest

from knowngood.measure.cooling import boiling_margin, coolant_standing, thermostat_test


@pytest.mark.parametrize(
    ("stamp", "kind"),
    [
        pytest.param(82.0, "usual", id="r9.13-82"),
        pytest.param(91.0, "usual", id="r9.13-91"),
        pytest.param(71.0, "low type", id="r9.13-71"),
        pytest.param(75.0, "low type", id="r9.13-75"),
        pytest.param(80.0, "mapped", id="r9.13-80"),
        pytest.param(110.0, "mapped", id="r9.13-110"),
        pytest.param(65.0, "unusual: look it up", id="r9.13-65"),
    ],
)
def test_stamps(stamp: float, kind: str) -> None:
    """82 to 91 °C usual, low types 71 to 75, mapped 80 to 110 (common practice)."""
    assert thermostat_test(stamp, stamp).kind == kind


@pytest.mark.parametrize(
    ("over", "word"),
    [
        pytest.param(5.0, "as it should be", id="r9.14-5"),
        pytest.param(10.0, "as it should be", id="r9.14-10"),
        pytest.param(15.0, "cannot tell", id="r9.14-15"),
        pytest.param(20.0, "opens too slowly", id="r9.14-20"),
    ],
)
def test_fully_open(over: float, word: str) -> None:
    """5 to 10 °C above the start, to about 15 in some texts (common practice)."""
    assert thermostat_test(88.0, 88.0, 88.0 + over).full == word


@pytest.mark.parametrize(
    ("celsius", "word"),
    [
        pytest.param(81.0, "low for a warm engine", id="r9.15-81"),
        pytest.param(82.0, "usual", id="r9.15-82"),
        pytest.param(99.0, "usual", id="r9.15-99"),
        pytest.param(105.0, "usual when hot or loaded", id="r9.15-105"),
        pytest.param(106.0, "too hot", id="r9.15-106"),
    ],
)
def test_running_coolant(celsius: float, word: str) -> None:
    """82 to 99 °C, to about 105 hot or loaded (common practice)."""
    assert coolant_standing(celsius, 30.0) == word


@pytest.mark.parametrize("celsius", [pytest.param(128.1, id="r9.08-margin-1500m")])
def test_margin_is_zero_at_the_published_point(celsius: float) -> None:
    """50 % ethylene glycol, 1.1 bar cap, 1500 m: boils at 128.1 °C, so nothing is left there."""
    margin = boiling_margin(celsius, 110.0, 50.0, 1500.0)
    assert margin.margin_c == pytest.approx(0.0, abs=0.06)
    assert margin.boils_chance == pytest.approx(0.5, abs=0.02)
