"""Sensors that give a share of their supply: a manifold sensor's table (common practice); rails from memory."""

import pytest

from knowngood.measure.sensors_rail import line_through, line_value, rail_verdict

POINTS = [(20.0, 0.79), (46.66, 1.84), (101.32, 4.0)]


@pytest.mark.parametrize(("kpa", "volts"), [pytest.param(*row, id=f"r5.10-{row[0]}kPa") for row in POINTS])
def test_manifold_sensor(kpa: float, volts: float) -> None:
    """A line through the ends meets the point between within its rounding, 0.005 V or 0.13 kPa."""
    line = line_through((0.79, 20.0), (4.0, 101.32))
    assert line_value(line, volts)[0] == pytest.approx(kpa, abs=0.13)


@pytest.mark.parametrize(
    ("first", "second", "slope"),
    [
        pytest.param(0, 2, 0.03947, id="r5.10-slope"),
        pytest.param(0, 1, 0.03938, id="r5.10-lower-chord"),
        pytest.param(1, 2, 0.03952, id="upper-chord"),
    ],
)
def test_slopes(first: int, second: int, slope: float) -> None:
    """Volt a kPa between each pair of points; the upper chord is computed here, the others as noted with the table."""
    (k0, v0), (k1, v1) = POINTS[first], POINTS[second]
    assert 1.0 / line_through((v0, k0), (v1, k1)).slope == pytest.approx(slope, abs=6e-6)


@pytest.mark.parametrize(
    ("volts", "word"),
    [
        pytest.param(0.24, "at ground", id="r5.09-ground-from-memory"),
        pytest.param(0.5, "working", id="r5.09-low-from-memory"),
        pytest.param(4.5, "working", id="r5.09-high-from-memory"),
        pytest.param(4.76, "at supply", id="r5.09-supply-from-memory"),
    ],
)
def test_rails(volts: float, word: str) -> None:
    """0.5 to 4.5 V of 5 V; under 0.25 or over 4.75 V is open or shorted (all from memory)."""
    assert rail_verdict(volts).word == word
