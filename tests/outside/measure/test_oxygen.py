"""Zirconia cell against Nernst's equation with CODATA constants (scipy), and the usual ends of a narrow band signal."""

import math

import pytest
from scipy.constants import R, physical_constants

from knowngood.errors import NotMeasurable
from knowngood.measure.oxygen import narrow_band_word, nernst_mv

TABLE = [
    (600.0, 1e-2, 57.0),
    (600.0, 1e-20, 837.0),
    (700.0, 1e-2, 64.0),
    (700.0, 1e-20, 933.0),
    (350.0, 1e-2, 41.0),
    (350.0, 1e-20, 597.0),
]


@pytest.mark.parametrize(
    ("degrees", "oxygen", "millivolts"), [pytest.param(*row, id=f"r5.07-{row[0]:.0f}C-{row[1]:g}") for row in TABLE]
)
def test_cell_voltage(degrees: float, oxygen: float, millivolts: float) -> None:
    """(RT/4F) ln(0.209 / p)."""
    assert nernst_mv(oxygen, degrees)[0] == pytest.approx(millivolts, abs=0.6)
    faraday = physical_constants["Faraday constant"][0]
    there = 1000.0 * R * (degrees + 273.15) / (4.0 * faraday) * math.log(0.209 / oxygen)
    assert nernst_mv(oxygen, degrees)[0] == pytest.approx(there, rel=1e-9)


@pytest.mark.parametrize(
    ("volts", "word"),
    [
        pytest.param(0.1, "lean", id="r5.08-lean"),
        pytest.param(0.9, "rich", id="r5.08-rich"),
        pytest.param(0.45, "in between", id="r5.08-middle"),
        pytest.param(1.275, "rich", id="r5.08-most"),
    ],
)
def test_narrow_band(volts: float, word: str) -> None:
    """About 0.1 V lean, 0.9 V rich, 0.45 V at the middle (common practice); 0 to 1.275 V can be shown (SAE J1979)."""
    assert narrow_band_word(volts) == word


@pytest.mark.parametrize("degrees", [pytest.param(350.0, id="r5.08-cold")])
def test_cold_cell(degrees: float) -> None:
    """Below about 350 °C it is not usable (from memory)."""
    assert nernst_mv(1e-2, degrees)[0] > 0.0
    with pytest.raises(NotMeasurable):
        nernst_mv(1e-2, degrees - 1.0)
