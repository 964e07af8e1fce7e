"""Expected compression against worked examples and a numerical twin.

Sources: a textbook example of an engine of ratio 7.5 with n = 1.3; a page on static and dynamic compression ratio
(stroke and rod of its example from memory); slider-crank geometry; ISO 2533.
"""

import math

import numpy
import pytest
from scipy.integrate import solve_ivp

from knowngood.measure.compression_expected import (
    dynamic_ratio,
    expected_gauge,
    gauge_at_altitude,
    ideal_gauge,
    piston_travel,
)

PSI = 6.894757293168361
INCH = 25.4


@pytest.mark.parametrize(("absolute", "gauge"), [pytest.param(201.8, 187.1, id="r2.10")])
def test_textbook_example(absolute: float, gauge: float) -> None:
    """7.5 to 1, n = 1.3, 14.7 psi: 201.8 psia, 187.1 psi on the gauge."""
    shown = ideal_gauge(7.5, 1.3, air_kpa=14.7 * PSI)[0] / PSI
    assert shown == pytest.approx(gauge, abs=0.06)
    assert shown + 14.7 == pytest.approx(absolute, abs=0.06)
    assert ideal_gauge(7.5, 1.3, air_kpa=100.0)[0] / 100.0 + 1.0 == pytest.approx(13.727, abs=6e-4)


@pytest.mark.parametrize("angle", [pytest.param(90.0, id="r2.11-90"), pytest.param(250.0, id="r2.11-250")])
def test_piston_travel_against_coordinates(angle: float) -> None:
    """The pin found as the crossing of a circle about the crank pin with the bore axis."""
    throw, rod = 44.0, 148.0
    x, y = throw * math.sin(math.radians(angle)), throw * math.cos(math.radians(angle))
    roots = numpy.roots([1.0, -2.0 * y, x * x + y * y - rod * rod])
    assert piston_travel(angle, 88.0, 148.0)[0] == pytest.approx(throw + rod - max(roots.real), rel=1e-12)


@pytest.mark.parametrize("risen_in", [pytest.param(0.9053, id="r2.12")])
def test_intake_closing_example(risen_in: float) -> None:
    """70° after bottom dead centre, stroke 3.48 in, rod 5.7 in: the piston has risen 0.9053 in."""
    travel = piston_travel(250.0, 3.48 * INCH, 5.7 * INCH)[0] / INCH
    assert 3.48 - travel == pytest.approx(risen_in, abs=6e-5)


@pytest.mark.parametrize(
    ("closing", "ratio"),
    [
        pytest.param(0.0, 9.50, id="r2.13-0"),
        pytest.param(30.0, 9.09, id="r2.13-30"),
        pytest.param(50.0, 8.36, id="r2.13-50"),
        pytest.param(70.0, 7.27, id="r2.13-70"),
    ],
)
def test_dynamic_ratio(closing: float, ratio: float) -> None:
    """Ratio 9.5, stroke 88 mm, rod 148 mm."""
    assert dynamic_ratio(9.5, closing, stroke_mm=88.0, rod_mm=148.0)[0] == pytest.approx(ratio, abs=0.006)


@pytest.mark.parametrize(
    ("closing", "exponent", "bar"),
    [
        pytest.param(30.0, 1.2, 13.31, id="r2.14-30-1.2"),
        pytest.param(30.0, 1.3, 16.84, id="r2.14-30-1.3"),
        pytest.param(50.0, 1.2, 11.93, id="r2.14-50-1.2"),
        pytest.param(50.0, 1.3, 15.00, id="r2.14-50-1.3"),
        pytest.param(70.0, 1.2, 9.95, id="r2.14-70-1.2"),
        pytest.param(70.0, 1.3, 12.35, id="r2.14-70-1.3"),
    ],
)
def test_expected_gauge(closing: float, exponent: float, bar: float) -> None:
    """Same engine at sea level, and inside the bracket handed out."""
    ratio = dynamic_ratio(9.5, closing, stroke_mm=88.0, rod_mm=148.0)[0]
    assert ideal_gauge(ratio, exponent)[0] / 100.0 == pytest.approx(bar, abs=0.006)
    assert expected_gauge(9.5, closing, stroke_mm=88.0, rod_mm=148.0).holds(100.0 * bar)


@pytest.mark.parametrize("factor", [pytest.param(0.8345, id="r2.15")])
def test_altitude_scaling(factor: float) -> None:
    """1500 m: 0.8345 of the sea level reading."""
    assert gauge_at_altitude(1000.0, measured_m=0.0, wanted_m=1500.0)[0] / 1000.0 == pytest.approx(factor, abs=6e-5)


def test_without_loss_is_the_adiabatic_integral() -> None:
    """dp/dV = -1.4 p/V integrated from closing to top gives the closed form with n = 1.4."""
    ratio = dynamic_ratio(9.5, 50.0, stroke_mm=88.0, rod_mm=148.0)[0]
    solved = solve_ivp(lambda v, p: -1.4 * p / v, (ratio, 1.0), [101.325], rtol=1e-10, atol=1e-9)
    assert ideal_gauge(ratio, 1.4)[0] == pytest.approx(solved.y[0, -1] - 101.325, rel=1e-6)
