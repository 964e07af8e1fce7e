"""Clean drives: monotone in everything, and the plan meets its limit."""

from hypothesis import assume, given
from hypothesis import strategies as st

from knowngood.measure.proof import chance_left, clean_drives_from_history, clean_drives_needed, clean_run_needed

CHANCE = st.floats(0.01, 0.99)


@given(CHANCE, CHANCE, st.integers(0, 50))
def test_each_clean_drive_lowers_the_chance(before: float, shows: float, drives: int) -> None:
    """And a fault that shows more often is cleared sooner."""
    now = chance_left(before, shows, drives)
    assert chance_left(before, shows, drives + 1) < now <= before + 1e-12
    assert chance_left(before, shows * 0.9, drives) >= now


@given(CHANCE, st.floats(0.02, 0.95), st.floats(0.002, 0.5))
def test_plan_meets_its_limit_and_no_shorter_one_does(before: float, shows: float, wanted: float) -> None:
    """The number is the smallest."""
    plan = clean_drives_needed(before, shows, wanted)
    assert abs(chance_left(before, shows, plan.drives) - plan.chance_left) < 1e-12
    assert plan.chance_left <= wanted * (1 + 1e-9)
    assert plan.drives == 0 or plan.chance_one_short > wanted * (1 - 1e-9)


@given(st.floats(0.05, 0.6), st.integers(1, 10), st.integers(0, 40), st.floats(0.01, 0.3))
def test_rarer_shows_ask_for_more_drives(before: float, shown: int, clean: int, wanted: float) -> None:
    """The same shows in more drives make the fault rarer, and the plan longer."""
    assume(before > wanted)
    one = clean_drives_from_history(before, shown, shown + clean, wanted).drives
    other = clean_drives_from_history(before, shown, shown + clean + 5, wanted).drives
    assert one <= other


@given(CHANCE, st.integers(1, 30), st.floats(1.0, 1e4), st.floats(0.001, 0.5), st.floats(1.1, 10.0))
def test_run_scales_with_the_distance(before: float, shown: int, km: float, wanted: float, factor: float) -> None:
    """Ten times the distance for the same shows asks for ten times the clean run."""
    run = clean_run_needed(before, shown, km, wanted)
    longer = clean_run_needed(before, shown, km * factor, wanted)
    assert abs(longer.distance_km - factor * run.distance_km) <= 1e-9 * max(1.0, longer.distance_km)
    assert clean_run_needed(before, shown + 1, km, wanted).distance_km <= run.distance_km
