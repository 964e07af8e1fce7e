"""Road speed."""

import pytest

from knowngood.errors import NotMeasurable
from knowngood.measure.road_speed import gear_fit, geared_speed, speed_shown, timed_speed
from tests.unit.measure.scatter import scatter

RATIOS = [3.6, 1.95, 1.3, 0.9]


def test_near_a_limit_nothing_is_said() -> None:
    """1 km/h under the true speed with an error of as much."""
    assert speed_shown(99.0, 100.0).verdict == "cannot tell"
    assert speed_shown(114.5, 100.0).verdict == "cannot tell"
    over = speed_shown(120.0, 100.0)
    assert over.verdict == "shows too much"
    assert (over.error_kmh, over.highest_lawful_kmh) == pytest.approx((20.0, 114.0))


@pytest.mark.parametrize(
    ("rpm", "gear", "verdict"),
    [(2990.0, 4, "fits"), (3400.0, 4, "slips"), (2700.0, 4, "between gears"), (4320.0, 3, "fits")],
)
def test_gears(rpm: float, gear: int, verdict: str) -> None:
    """96 km/h in third and fourth, with a slipping clutch, and with an engine too slow for any."""
    fit = gear_fit(rpm, 96.0, RATIOS, 4.0, 1927.0)
    assert (fit.gear, fit.verdict) == (gear, verdict)


def test_gear_and_speed_agree() -> None:
    """The speed that goes with a gear fits that gear."""
    for place, ratio in enumerate(RATIOS, start=1):
        kmh, _ = geared_speed(3000.0, ratio, 4.0, 1927.0)
        fit = gear_fit(3000.0, kmh, RATIOS, 4.0, 1927.0)
        assert fit.gear == place
        assert fit.off_pct == pytest.approx(0.0, abs=1e-9)


def test_error_is_what_throws_scatter() -> None:
    """Each error agrees with 4000 thrown readings within 5 %."""
    assert timed_speed(1000.0, 36.0)[1] == pytest.approx(
        scatter(lambda m, s: timed_speed(m, s)[0], (1000.0, 36.0), (5.0, 0.3)), rel=0.05
    )
    assert geared_speed(3000, 0.9, 4.0, 1927.0)[1] == pytest.approx(
        scatter(lambda n, mm: geared_speed(n, 0.9, 4.0, mm)[0], (3000.0, 1927.0), (10.0, 20.0)), rel=0.05
    )
    fit = gear_fit(3000.0, 96.0, [0.9], 4.0, 1927.0)
    assert fit.se_pct == pytest.approx(
        scatter(lambda n, v, mm: gear_fit(n, v, [0.9], 4.0, mm).off_pct, (3000.0, 96.0, 1927.0), (10.0, 1.0, 20.0)),
        rel=0.05,
    )


def test_refusals() -> None:
    """Word for word."""
    with pytest.raises(NotMeasurable) as refused:
        gear_fit(800.0, 2.0, RATIOS, 4.0, 1927.0)
    assert str(refused.value) == (
        "Road speed is 2 km/h with a standard error of 1 km/h: less than three of them. "
        "Measure again with a finer instrument or a larger value."
    )
    with pytest.raises(NotMeasurable, match="Gear ratios: 0 given"):
        gear_fit(800.0, 20.0, [], 4.0, 1927.0)
    with pytest.raises(NotMeasurable, match="Speed shown is -1 km/h"):
        speed_shown(-1.0, 10.0)
