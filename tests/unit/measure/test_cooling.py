"""Margin to boiling, thermostat and coolant temperature."""

import math
from collections.abc import Callable

import pytest

from knowngood.errors import NotMeasurable
from knowngood.measure.cooling import boiling_margin, coolant_standing, thermostat_test
from tests.unit.measure.scatter import scatter


def test_error_is_what_throws_scatter() -> None:
    """Coolant, cap and glycol thrown, weather and model added in quadrature: within 5 %."""
    margin = boiling_margin(112.0, 110.0, 50.0, 0.0)
    exact = {"coolant_se_c": 0.0, "cap_se_kpa": 0.0, "glycol_se_pct": 0.0}
    read = scatter(
        lambda c, cap, glycol: boiling_margin(c, cap, glycol, 0.0, **exact).margin_c,
        (112.0, 110.0, 50.0),
        (2.0, 7.0, 3.0),
    )
    rest = boiling_margin(112.0, 110.0, 50.0, 0.0, **exact).margin_se_c
    assert margin.margin_se_c == pytest.approx(math.hypot(read, rest), rel=0.05)


def test_open_system_has_no_cap_error() -> None:
    """Plain water without a cap: only the weather is left."""
    margin = boiling_margin(90.0, 0.0, 0.0)
    assert margin.pressure_kpa == pytest.approx(101.325)
    assert margin.boiling_se_c == pytest.approx(0.42, abs=0.03)
    assert boiling_margin(90.0, 0.0, 0.0).boils_chance < 1e-4 < boiling_margin(97.0, 0.0, 0.0).boils_chance


@pytest.mark.parametrize(
    ("opens", "start"),
    [(88.0, "as stamped"), (86.0, "cannot tell"), (80.0, "opens early"), (95.0, "opens late")],
)
def test_thermostat(opens: float, start: str) -> None:
    """2 °C either way of the stamp, and nothing is said within the thermometer's error of that."""
    verdict = thermostat_test(88.0, opens)
    assert verdict.start == start
    assert verdict.full == "not tested"


def test_cold_engine_is_given_time() -> None:
    """60 °C after five minutes is cold, after half an hour it is low."""
    assert coolant_standing(60.0, 5.0) == "still cold"
    assert coolant_standing(60.0, 30.0) == "low for a warm engine"


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (
            lambda: boiling_margin(239.0, 110.0, 50.0),
            "Coolant temperature is 239 °C: outside -40 to 200 °C. Check the reading and its unit.",
        ),
        (
            lambda: thermostat_test(190.0, 190.0),
            "Stamp is 190 °C: outside 60 to 120 °C. Check the reading and its unit.",
        ),
        (
            lambda: thermostat_test(88.0, 90.0, 85.0),
            "Fully open at 85 °C is not above the first gap at 90 °C. Heat slowly and stir.",
        ),
    ],
)
def test_refusals(ask: Callable[[], object], words: str) -> None:
    """Word for word; Fahrenheit is met."""
    with pytest.raises(NotMeasurable) as refused:
        ask()
    assert str(refused.value) == words


@pytest.mark.parametrize(("opens", "start"), [(86.0, "cannot tell"), (90.0, "cannot tell"), (89.75, "as stamped")])
def test_on_the_edge_itself_nobody_can_tell(opens: float, start: str) -> None:
    """Just 2 °C off the stamp, however good the thermometer."""
    assert thermostat_test(88.0, opens, thermometer_se_c=0.0).start == start
