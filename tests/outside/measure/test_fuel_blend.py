"""Air that petrol, ethanol and their blends need."""

import pytest

from knowngood.measure.fuel_blend import air_for_blend, air_for_formula, blend_trim, ethanol_from_trim

SEEN_E0, SEEN_E100 = 14.64, 9.0078  # by volume weighting, the rule of thumb


@pytest.mark.parametrize(
    ("ethanol", "air", "within"),
    [
        pytest.param(0.0, 14.7, 0.001, id="r6.10-E0"),
        pytest.param(10.0, 14.13, 0.04, id="r6.10-E10"),
        pytest.param(15.0, 13.8, 0.01, id="r6.10-E15"),
        pytest.param(85.0, 9.765, 0.06, id="r6.10-E85"),
        pytest.param(100.0, 9.008, 0.01, id="r6.10-E100"),
    ],
)
def test_ratios_seen(ethanol: float, air: float, within: float) -> None:
    """Published ratios differ among themselves by about 0.5 % (common practice)."""
    assert air_for_blend(ethanol)[0] == pytest.approx(air, abs=within)


@pytest.mark.parametrize(
    ("ethanol", "rule"), [pytest.param(10.0, 14.077, id="r6.11-E10"), pytest.param(85.0, 9.853, id="r6.11-E85")]
)
def test_volume_weighting_is_near_and_not_used(ethanol: float, rule: float) -> None:
    """x 9.0078 + (1 - x) 14.64 by volume is a rule of thumb; mixing by mass differs by under 0.5 %."""
    share = ethanol / 100.0
    assert share * SEEN_E100 + (1.0 - share) * SEEN_E0 == pytest.approx(rule, abs=0.001)
    assert air_for_blend(ethanol)[0] != pytest.approx(rule, abs=0.01)
    assert air_for_blend(ethanol)[0] == pytest.approx(rule, rel=0.005)


@pytest.mark.parametrize(
    ("ethanol", "air", "trim"),
    [
        pytest.param(5.0, 14.40, 2.1, id="r6.12-E5"),
        pytest.param(10.0, 14.10, 4.3, id="r6.12-E10"),
        pytest.param(15.0, 13.80, 6.5, id="r6.12-E15"),
        pytest.param(85.0, 9.81, 49.8, id="r6.12-E85"),
    ],
)
def test_mass_mixing(ethanol: float, air: float, trim: float) -> None:
    """Densities 0.745 and 0.789; the trim on an engine set for E0 (computed)."""
    assert air_for_blend(ethanol)[0] == pytest.approx(air, abs=0.006)
    shift = blend_trim(ethanol)
    assert shift.value == pytest.approx(trim, abs=0.06)
    assert shift.low < shift.value == shift.high
    assert ethanol_from_trim(shift.value, trim_se_pct=0.1)[0] == pytest.approx(ethanol, abs=1e-6)


@pytest.mark.parametrize(
    ("atoms", "air"),
    [
        pytest.param((8.0, 18.0, 0.0), 15.13, id="r6.13-iso-octane"),
        pytest.param((1.0, 1.85, 0.0), 14.57, id="r6.13-CH1.85"),
        pytest.param((2.0, 6.0, 1.0), 9.00, id="r6.13-ethanol"),
    ],
)
def test_from_formula(atoms: tuple[float, float, float], air: float) -> None:
    """Complete burning in air (computed from atomic masses)."""
    assert air_for_formula(*atoms) == pytest.approx(air, abs=0.006)
