"""Tyres, wheels, speed, tightening: there and back, and monotone."""

from hypothesis import given
from hypothesis import strategies as st

from knowngood.measure.road_speed import gear_fit, geared_speed, highest_lawful_shown, speed_shown, timed_speed
from knowngood.measure.tightening import force_of_torque, torque_for_force
from knowngood.measure.tyre import TyreSize, overall_diameter, read_size, rolling_circumference, size_change
from knowngood.measure.wheel_fit import backspacing, fitment_change
from tests.unit.measure.scatter import scatter

SIZES = st.builds(
    TyreSize,
    st.integers(21, 65).map(lambda fives: 5.0 * fives),
    st.integers(5, 18).map(lambda fives: 5.0 * fives),
    st.integers(12, 22).map(float),
    st.just("radial"),
)


@given(SIZES)
def test_side_wall_there_and_back(size: TyreSize) -> None:
    """What is written is what is read."""
    assert read_size(f"{size.width_mm:.0f}/{size.aspect_pct:.0f}R{size.rim_in:.0f} 91V") == size


@given(SIZES, SIZES)
def test_change_and_back_is_no_change(old: TyreSize, new: TyreSize) -> None:
    """The factors multiply to one, and a larger wheel shows less."""
    there, back = size_change(old, new), size_change(new, old)
    assert abs(there.shown_over_true * back.shown_over_true - 1.0) < 1e-12
    assert (there.shown_error_pct < 0.0) == (there.ride_height_mm > 0.0) or there.ride_height_mm == 0.0


@given(SIZES, st.booleans())
def test_rolled_distance_is_under_pi(size: TyreSize, worn: bool) -> None:
    """Range in order."""
    rolled = rolling_circumference(overall_diameter(size.width_mm, size.aspect_pct, size.rim_in)[0], worn=worn)
    assert 0.0 < rolled.low < rolled.value < rolled.high


@given(st.floats(5.0, 250.0), st.floats(-0.2, 0.4))
def test_one_verdict_for_each_pair_of_speeds(true: float, over: float) -> None:
    """With exact readings the rule alone decides."""
    shown = true * (1.0 + over)
    verdict = speed_shown(shown, true, shown_se_kmh=0.0, true_se_kmh=0.0).verdict
    expected = (
        "lawful" if true <= shown <= highest_lawful_shown(true) else "shows too " + ("little" if over < 0 else "much")
    )
    assert verdict == expected


@given(st.floats(1000.0, 6000.0), st.floats(0.6, 4.0), st.floats(2.5, 5.0), st.floats(1500.0, 2500.0))
def test_gear_found_again(rpm: float, ratio: float, final: float, mm: float) -> None:
    """The speed made from a gear fits it."""
    kmh, _ = geared_speed(rpm, ratio, final, mm)
    fit = gear_fit(rpm, kmh, [ratio * 1.6, ratio, ratio * 0.7], final, mm)
    assert (fit.gear, fit.verdict) == (2, "fits")


@given(st.floats(4, 12), st.floats(-20, 60), st.floats(4, 12), st.floats(-20, 60))
def test_faces_follow_backspacing(old_in: float, old_et: float, new_in: float, new_et: float) -> None:
    """Inner face by backspacing, outer by what is left of the width."""
    change = fitment_change(old_in, old_et, new_in, new_et)
    assert abs(change.inward_mm - (backspacing(new_in, new_et)[0] - backspacing(old_in, old_et)[0])) < 1e-9
    assert abs(change.inward_mm + change.outward_mm - 25.4 * (new_in - old_in)) < 1e-9


@given(st.floats(4.0, 24.0), st.floats(1.0, 200.0), st.sampled_from(["dry", "oiled"]))
def test_torque_and_force(thread: float, force: float, state: str) -> None:
    """There and back, and oil always takes less torque for the force."""
    torque = torque_for_force(thread, force, state)
    assert abs(force_of_torque(thread, torque.value, state).value / force - 1.0) < 1e-12
    assert torque_for_force(thread, force, "oiled").value < torque_for_force(thread, force, "dry").value


@given(st.floats(300.0, 3000.0), st.floats(15.0, 120.0))
def test_error_of_a_timed_speed_is_what_throws_scatter(metres: float, seconds: float) -> None:
    """Within 5 % over distances and times."""
    errors = (0.01 * metres, 0.02 * seconds)
    _, se = timed_speed(metres, seconds, distance_se_m=errors[0], time_se_s=errors[1])
    thrown = scatter(lambda m, s: timed_speed(m, s)[0], (metres, seconds), errors)
    assert abs(se / thrown - 1.0) < 0.05
