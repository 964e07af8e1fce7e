"""Lead and plug resistances (common practice)."""

import pytest

from knowngood.measure.lead import lead_kind, lead_per_metre, lead_row, plug_resistor

FOOT_MM = 304.8


@pytest.mark.parametrize(
    ("kohm_m", "kohm_ft"), [pytest.param(10.0, 3.0, id="r3.12-low"), pytest.param(23.0, 7.0, id="r3.12-high")]
)
def test_carbon_lead(kohm_m: float, kohm_ft: float) -> None:
    """10 to 23 kΩ/m, which is 3 to 7 kΩ a foot."""
    assert lead_kind(1000.0 * kohm_m) == ("carbon",)
    assert lead_per_metre(1000.0 * kohm_ft, FOOT_MM)[0] / 1000.0 == pytest.approx(kohm_m, rel=0.02)


@pytest.mark.parametrize("kohm_m", [pytest.param(2.2, id="r3.13-low"), pytest.param(8.0, id="r3.13-high")])
def test_wire_wound_lead(kohm_m: float) -> None:
    """2.2 to 8 kΩ/m."""
    assert lead_kind(1000.0 * kohm_m) == ("wire wound",)


@pytest.mark.parametrize(("kohm_ft", "kohm_m"), [pytest.param(12.0, 39.0, id="r3.14")])
def test_ceiling(kohm_ft: float, kohm_m: float) -> None:
    """12 kΩ a foot, 39 kΩ/m, attributed by a workshop page to a standard that was not seen."""
    per_metre, _ = lead_per_metre(1000.0 * kohm_ft, FOOT_MM)
    assert per_metre / 1000.0 == pytest.approx(kohm_m, rel=0.02)
    assert lead_kind(1.01 * 1000.0 * kohm_m) == ("over the ceiling",)
    assert lead_kind(0.99 * 1000.0 * kohm_m) == ()


@pytest.mark.parametrize("kohm", [pytest.param(30.0, id="r3.15")])
def test_reject(kohm: float) -> None:
    """Over 30 kΩ a lead goes, whatever its length."""
    assert lead_row([25000.0, 1000.0 * kohm, 28000.0]).over_limit == ()
    assert lead_row([25000.0, 1001.0 * kohm, 28000.0]).over_limit == (2,)


@pytest.mark.parametrize(
    ("ohms", "word"), [pytest.param(5000.0, "resistor", id="r3.16-5k"), pytest.param(0.5, "no resistor", id="r3.16-0")]
)
def test_resistor_plug(ohms: float, word: str) -> None:
    """About 5 kΩ terminal to tip, or about nothing."""
    assert plug_resistor(ohms) == word
