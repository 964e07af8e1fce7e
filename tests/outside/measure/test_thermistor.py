"""Thermistors against published tables (common practice), and against scipy's solver.

Sources: one maker's table of a 2.5 kΩ coolant sensor; a generic 10 kΩ table, ±4.7 % (its Beta of 3977 K is from
memory); Steinhart and Hart 1968.
"""

import math

import numpy
import pytest
from scipy.optimize import brentq

from knowngood.measure.sensors_coolant import COOLANT_2K5, coolant_curve
from knowngood.measure.thermistor import beta_of, beta_resistance, beta_temperature, resistance_of, temperature_of

NOMINAL = [
    (-40, 48805), (-30, 27414), (-20, 15971), (-10, 9620), (0, 5975), (10, 3816), (20, 2502), (25, 2044), (30, 1679),
    (40, 1152), (50, 806.9), (60, 575.8), (70, 418.1), (80, 308.6), (90, 231.2), (100, 175.7), (110, 135.2),
    (120, 105.4), (130, 83.1), (140, 66.2),
]  # fmt: skip


@pytest.mark.parametrize(("degrees", "ohms"), [pytest.param(*row, id=f"r5.01-{row[0]}C") for row in NOMINAL])
def test_table_of_the_coolant_sensor(degrees: float, ohms: float) -> None:
    """Every row is kept, and lies within 0.02 K of the curve through three of them."""
    assert (degrees, ohms) in COOLANT_2K5
    assert temperature_of(coolant_curve(), ohms)[0] == pytest.approx(degrees, abs=0.0205)


@pytest.mark.parametrize(
    ("name", "value"),
    [
        pytest.param("a", 1.33594907e-3, id="r5.02-a"),
        pytest.param("b", 2.55980843e-4, id="r5.02-b"),
        pytest.param("c", 1.50844818e-7, id="r5.02-c"),
    ],
)
def test_coefficients(name: str, value: float) -> None:
    """From -20, 25 and 100 °C; numpy solves the three equations to the same."""
    assert getattr(coolant_curve(), name) == pytest.approx(value, rel=1e-8)
    logs = [math.log(ohm) for _, ohm in ((-20, 15971.0), (25, 2044.0), (100, 175.7))]
    matrix = [[1.0, log, log**3] for log in logs]
    solved = numpy.linalg.solve(matrix, [1.0 / (t + 273.15) for t in (-20.0, 25.0, 100.0)])
    assert getattr(coolant_curve(), name) == pytest.approx(solved["abc".index(name)], rel=1e-7)


@pytest.mark.parametrize("degrees", [-35.0, 5.0, 77.0, 135.0])
def test_inverse_against_a_root_finder(degrees: float) -> None:
    """brentq on the equation gives Cardano's resistance."""
    curve = coolant_curve()

    def off(log: float) -> float:
        return curve.a + curve.b * log + curve.c * log**3 - 1.0 / (degrees + 273.15)

    assert resistance_of(curve, degrees)[0] == pytest.approx(math.exp(brentq(off, 2.0, 13.0, xtol=1e-12)), rel=1e-9)


@pytest.mark.parametrize(
    ("cold", "hot", "beta"),
    [
        pytest.param(25, 100, 3640.1, id="r5.03-25-100"),
        pytest.param(20, 80, 3611.0, id="r5.03-20-80"),
        pytest.param(0, 100, 3594.5, id="r5.03-0-100"),
    ],
)
def test_beta(cold: int, hot: int, beta: float) -> None:
    """Beta depends on the two points it is taken from."""
    table = dict(NOMINAL)
    assert beta_of((cold, table[cold]), (hot, table[hot]))[0] == pytest.approx(beta, abs=0.06)


@pytest.mark.parametrize(
    ("degrees", "error_k"),
    [
        pytest.param(-40, 3.5, id="r5.03--40C"),
        pytest.param(0, 0.9, id="r5.03-0C"),
        pytest.param(50, -0.4, id="r5.03-50C"),
        pytest.param(140, 1.5, id="r5.03-140C"),
    ],
)
def test_error_of_the_beta_model(degrees: int, error_k: float) -> None:
    """What one Beta costs away from its two points."""
    found, _ = beta_temperature(3640.1, (25.0, 2044.0), dict(NOMINAL)[degrees])
    assert found - degrees == pytest.approx(error_k, abs=0.06)


GENERIC = [
    (20, 12490, 12555), (25, 10000, 10000), (30, 8057, 8025), (55, 2986, 2954), (60, 2488, 2463), (90, 917.7, 918.6),
    (95, 788.5, 791.6), (100, 680, 684.9),
]  # fmt: skip


@pytest.mark.parametrize(("degrees", "ohms", "by_beta"), [pytest.param(*row, id=f"r5.06-{row[0]}C") for row in GENERIC])
def test_generic_ten_kilohm(degrees: float, ohms: float, by_beta: float) -> None:
    """Beta 3977 K gives the computed figure, within the table's ±4.7 %."""
    found = beta_resistance(3977.0, (25.0, 10000.0), degrees)[0]
    assert found == pytest.approx(by_beta, rel=2e-4)
    assert found == pytest.approx(ohms, rel=0.047)
