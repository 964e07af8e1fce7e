"""Wheel fitment: geometry, and the trade's rule for threads."""

import pytest

from knowngood.measure.wheel_fit import backspacing, effective_offset, fitment_change, thread_engagement


@pytest.mark.parametrize(
    ("over_flanges", "mm"), [pytest.param(False, 146.6, id="r11.06"), pytest.param(True, 159.3, id="r11.06-flanges")]
)
def test_backspacing(over_flanges: bool, mm: float) -> None:
    """8J ET45 (geometry; 12.7 mm more over the flanges)."""
    assert backspacing(8, 45, over_flanges=over_flanges)[0] == pytest.approx(mm, abs=0.05)


@pytest.mark.parametrize(("outward", "inward"), [pytest.param(34.05, 4.05, id="r11.07")])
def test_fitment_change(outward: float, inward: float) -> None:
    """6.5J ET50 to 8J ET35 (geometry), the same through backspacing."""
    change = fitment_change(6.5, 50, 8, 35)
    assert (change.outward_mm, change.inward_mm) == pytest.approx((outward, inward), abs=1e-9)
    assert backspacing(8, 35)[0] - backspacing(6.5, 50)[0] == pytest.approx(inward)


@pytest.mark.parametrize(
    ("thread", "pitch", "nut", "turns"),
    [
        pytest.param(12.0, 1.5, "steel", 8.0, id="r11.08-M12x1.5"),
        pytest.param(12.0, 1.25, "steel", 9.6, id="r11.08-M12x1.25"),
        pytest.param(14.0, 1.5, "steel", 9.3, id="r11.08-M14x1.5"),
        pytest.param(12.0, 1.5, "aluminium", 12.0, id="r11.08-aluminium"),
    ],
)
def test_thread_engagement(thread: float, pitch: float, nut: str, turns: float) -> None:
    """At least one diameter in steel, 1.5 in aluminium (common practice, club pages); turns = length / pitch."""
    assert thread_engagement(20.0, thread, pitch, nut).least_turns == pytest.approx(turns, abs=0.04)
    assert effective_offset(45, 20)[0] == 25.0
