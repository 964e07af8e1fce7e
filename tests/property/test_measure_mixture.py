"""Trims and air: monotone where physics is, and there and back."""

from hypothesis import given, settings
from hypothesis import strategies as st

from knowngood.measure.air_flow import expected_air_flow, volumetric_efficiency
from knowngood.measure.fuel_blend import air_for_blend, blend_trim, ethanol_from_trim
from knowngood.measure.trim import bank_split, meter_trim, pressure_trim, total_trim, trim_standing
from knowngood.measure.trim_pattern import trim_pattern
from knowngood.measure.unmetered_air import hole_from_leak, intake_leak_flow, leak_from_trim, leak_trim
from tests.unit.measure.scatter import scatter

TRIM = st.floats(-40.0, 40.0)
NEAR = 1e-6


@given(TRIM, TRIM, st.floats(0.1, 5.0))
def test_total_rises_with_both_and_does_not_care_which(short: float, long: float, more: float) -> None:
    """Short and long trim can change places."""
    total = total_trim(short, long)[0]
    assert abs(total_trim(long, short)[0] - total) < NEAR
    assert total_trim(short + more, long)[0] > total
    assert total_trim(short, long + more)[0] > total


@given(TRIM, st.floats(0.1, 10.0))
def test_chance_beyond_is_a_chance_and_symmetric(trim: float, se: float) -> None:
    """The same for adding and taking away."""
    standing = trim_standing(trim, se)
    assert 0.0 <= standing.beyond_chance <= 1.0
    assert abs(standing.beyond_chance - trim_standing(-trim, se).beyond_chance) < NEAR


@given(TRIM, TRIM)
def test_banks_turned_round(one: float, two: float) -> None:
    """Changing the banks changes the names in the verdict and nothing else."""
    turn = {"bank 1": "bank 2", "bank 2": "bank 1"}
    verdict = bank_split(one, two).verdict
    assert bank_split(two, one).verdict == turn.get(verdict, verdict)


@given(st.floats(0.2, 1.8), st.floats(1.001, 1.2))
def test_a_meter_or_pump_that_gives_less_makes_trim_rise(share: float, more: float) -> None:
    """Both fall as the share rises, and cross zero at one."""
    assert meter_trim(share * more)[0] < meter_trim(share)[0]
    assert pressure_trim(300.0 * share * more, 300.0)[0] < pressure_trim(300.0 * share, 300.0)[0]
    assert (meter_trim(share)[0] > 0.0) == (share < 1.0) or abs(share - 1.0) < NEAR


@given(st.floats(0.3, 6.0), st.floats(20.0, 99.0), st.floats(1.0, 1.5))
def test_leak_grows_with_the_hole_and_never_with_manifold_pressure(hole: float, kpa: float, more: float) -> None:
    """And the hole is found again from the leak."""
    flow = intake_leak_flow(hole, kpa)[0]
    assert abs(intake_leak_flow(hole * more, kpa)[0] / flow / more**2 - 1.0) < NEAR
    assert intake_leak_flow(hole, min(kpa * more, 101.0))[0] <= flow * (1.0 + NEAR)
    assert abs(hole_from_leak(flow, kpa)[0] - hole) < NEAR


@given(st.floats(0.05, 3.0), st.floats(1.0, 60.0))
def test_leak_there_and_back(leak: float, metered: float) -> None:
    """The trim of a leak names that leak."""
    trim = leak_trim(leak, metered)[0]
    assert abs(leak_from_trim(trim, metered, trim_se_pct=trim / 10.0)[0] - leak) < NEAR


@given(
    st.floats(0.6, 6.0), st.floats(500.0, 7000.0), st.floats(20.0, 250.0), st.floats(-30.0, 80.0), st.floats(0.3, 1.2)
)
def test_filling_there_and_back(litre: float, rpm: float, kpa: float, celsius: float, filling: float) -> None:
    """The flow expected for a filling gives that filling."""
    flow = expected_air_flow(litre, rpm, kpa, celsius, filling=filling)[0]
    assert abs(volumetric_efficiency(flow, litre, rpm, kpa, celsius)[0] - filling) < NEAR
    assert expected_air_flow(litre, rpm, kpa, celsius + 5.0, filling=filling)[0] < flow


@given(st.floats(0.0, 99.0))
def test_more_ethanol_needs_less_air_and_more_fuel(ethanol: float) -> None:
    """And the trim names the share again."""
    assert air_for_blend(ethanol + 1.0)[0] < air_for_blend(ethanol)[0]
    trim = blend_trim(ethanol)
    assert trim.low <= trim.value
    if trim.value > 0.1:
        assert abs(ethanol_from_trim(trim.value, trim_se_pct=0.01)[0] - ethanol) < 1e-4


@given(st.floats(-0.9, 0.9), st.floats(-25.0, 25.0), st.permutations([2.5, 4.0, 7.0, 12.0, 25.0]))
def test_pattern_without_noise(leak: float, scale: float, flows: list[float]) -> None:
    """Order of readings does not matter; the coefficients of an exact leak and scale are found again."""
    trims = [100.0 * leak / flow + scale for flow in flows]
    found = trim_pattern(flows, trims, "air_flow")
    again = trim_pattern(sorted(flows), [100.0 * leak / flow + scale for flow in sorted(flows)], "air_flow")
    assert (found.verdict, found.patterns) == (again.verdict, again.patterns)
    assert abs(found.unmetered_g_s - leak) < NEAR
    assert found.verdict != "found" or found.patterns
    assert found.verdict == "found" or not found.patterns


@settings(max_examples=25)
@given(st.floats(0.5, 3.0), st.floats(30.0, 95.0), st.floats(0.01, 0.06))
def test_error_of_a_leak_is_what_throws_scatter(hole: float, kpa: float, share_se: float) -> None:
    """Within 5 % wherever the hole and the manifold pressure stand."""
    errors = (share_se * hole, 0.0, share_se * 0.8)
    _, se = intake_leak_flow(hole, kpa, hole_se_mm=errors[0], manifold_se_kpa=0.0, discharge_se=errors[2])
    thrown = scatter(lambda mm, inside, c: intake_leak_flow(mm, inside, discharge=c)[0], (hole, kpa, 0.8), errors)
    assert abs(se / thrown - 1.0) < 0.05
