"""Crankshaft wheels (common practice for 60 - 2; 36 - 1 from memory)."""

import pytest

from knowngood.measure.sensors_wheel import rpm_of_teeth, tooth_time, wheel


@pytest.mark.parametrize(
    ("positions", "missing", "teeth", "pitch", "uncut"),
    [pytest.param(60, 2, 58, 6.0, 12.0, id="r5.11"), pytest.param(36, 1, 35, 10.0, 10.0, id="r5.12-from-memory")],
)
def test_wheels(positions: int, missing: int, teeth: int, pitch: float, uncut: float) -> None:
    """Teeth, pitch and the angle left uncut."""
    found = wheel(positions, missing)
    assert (found.teeth, found.pitch_deg, found.uncut_deg) == (teeth, pitch, uncut)


@pytest.mark.parametrize(("rpm", "ms"), [pytest.param(800.0, 1.25, id="r5.11-800rpm")])
def test_time_of_a_tooth(rpm: float, ms: float) -> None:
    """800 1/min is 1.25 ms a tooth, and on the full pitch the speed is the frequency."""
    assert tooth_time(rpm, 60)[0] == pytest.approx(ms)
    assert rpm_of_teeth(1000.0 / ms, 60)[0] == pytest.approx(rpm)
