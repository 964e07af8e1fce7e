"""Plug gaps in both units (25.4 mm an inch, exactly; pint agrees)."""

import pint
import pytest

from knowngood.measure.plug_gap import gap_verdict

INCHES = [
    (0.025, 0.635), (0.028, 0.711), (0.030, 0.762), (0.032, 0.813), (0.035, 0.889), (0.040, 1.016), (0.044, 1.118),
    (0.050, 1.270), (0.060, 1.524),
]  # fmt: skip


@pytest.mark.parametrize(("inch", "mm"), [pytest.param(*row, id=f"r3.11-{row[0]:.3f}") for row in INCHES])
def test_gap_in_both_units(inch: float, mm: float) -> None:
    """The usual gaps."""
    there = pint.UnitRegistry().Quantity(inch, "inch").to("mm").magnitude
    assert there == pytest.approx(mm, abs=6e-4)
    assert gap_verdict(there, 0.5, 1.6).gap_in == pytest.approx(inch, rel=1e-12)
