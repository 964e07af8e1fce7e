"""Boiling points."""

import math
from collections.abc import Callable

import pytest

from knowngood.errors import KnownGoodError
from knowngood.measure import boiling
from knowngood.measure.boiling import boiling_point, glycol_vapour_pressure, water_boiling, water_vapour_pressure


def test_answer_is_a_root() -> None:
    """At the boiling point the two vapour pressures, each times its share, add up to the pressure."""
    boiling_c, _ = boiling_point(200.0, 40.0)
    glycol = 0.4 * 1.1135 / 62.068
    share = glycol / (glycol + 0.6 * 0.9982 / 18.015)
    total = (1 - share) * water_vapour_pressure(boiling_c)[0] + share * glycol_vapour_pressure("ethylene", boiling_c)[0]
    assert total == pytest.approx(200.0, rel=1e-9)


def test_glycol_has_a_model_error_and_water_none() -> None:
    """0.4 °C with glycol."""
    assert boiling_point(101.325)[1] == 0.0
    assert boiling_point(101.325, 50.0, "propylene")[1] == 0.4


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (lambda: boiling_point(101.3, 50, "sugar"), "No glycol is called 'sugar'. Give one of: ethylene, propylene."),
        (
            lambda: boiling_point(1.1, 50),
            "Pressure is 1.1 kPa: outside 20 to 600 kPa. Check the reading and its unit.",
        ),
        (
            lambda: boiling_point(101.3, 95),
            "Glycol is 95 %: outside 0 to 90 %. Check the reading and its unit.",
        ),
        (
            lambda: water_vapour_pressure(-5.0),
            "Water temperature is -5 °C: outside 0 to 370 °C. Check the reading and its unit.",
        ),
        (
            lambda: water_boiling(0.0),
            "Pressure is 0 kPa: outside 1 to 20000 kPa. Check the reading and its unit.",
        ),
    ],
)
def test_refusals(ask: Callable[[], object], words: str) -> None:
    """Word for word; bar typed for kilopascals is met."""
    with pytest.raises(KnownGoodError) as refused:
        ask()
    assert str(refused.value) == words


def test_search_that_does_not_end_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the search finds no boiling point it says so; no number is given."""
    monkeypatch.setattr(boiling, "_mixture_kpa", lambda kelvin, share, glycol: 101.3 + math.cbrt(kelvin - 370.0))
    with pytest.raises(KnownGoodError) as refused:
        boiling_point(101.3, 50.0)
    assert str(refused.value) == "No boiling point found at 101.3 kPa with 50 % glycol. Check the numbers."
