"""A row of cylinders, oil in a cylinder."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowngood.errors import NotMeasurable
from knowngood.measure.compression import SPREAD_RULES, compression_row, oil_volume_gain, wet_gain
from tests.unit.measure.scatter import scatter


def test_one_low_cylinder_is_named() -> None:
    """175-175-170-40 psi: number 4, by far."""
    row = compression_row([1207.0, 1207.0, 1172.0, 276.0])
    assert (row.low, row.passes, row.doubtful) == ((4,), False, ())
    assert row.lowest_share == pytest.approx(276.0 / 1207.0)


def test_not_measured_is_not_zero() -> None:
    """An empty cell stays empty; a 0 that was seen counts."""
    row = compression_row([1200.0, None, 0.0, 1150.0])
    assert (row.not_measured, row.low, row.lowest_kpa) == ((2,), (3,), 0.0)
    assert row.mean_kpa == pytest.approx((1200.0 + 1150.0) / 3.0)


def test_place_near_the_rule_is_doubtful() -> None:
    """76 % with a coarse gauge is neither."""
    row = compression_row([1200.0, 912.0])
    assert (row.low, row.doubtful) == ((), (2,))
    assert compression_row([1200.0, 912.0], gauge_se_kpa=0.0).doubtful == ()


def test_rules_disagree_on_the_same_row() -> None:
    """Four rules, one row at 78 %: two pass, two do not."""
    verdicts = [compression_row([1200.0, 936.0], rule=rule).passes for rule in SPREAD_RULES]
    assert verdicts == [True, True, False, False]


@given(st.lists(st.floats(300.0, 1800.0), min_size=2, max_size=12), st.floats(0.5, 2.0))
def test_gauge_that_reads_wrong_everywhere_accuses_nobody_new(pressures: list[float], factor: float) -> None:
    """The ratio does not care about a common factor."""
    here = compression_row(pressures, gauge_se_kpa=0.0)
    there = compression_row([factor * value for value in pressures], gauge_se_kpa=0.0)
    assert here.lowest_share == pytest.approx(there.lowest_share)


@given(st.lists(st.floats(100.0, 1800.0), min_size=2, max_size=8), st.integers(0, 7), st.floats(0.1, 1.0))
def test_lower_cylinder_never_lifts_the_share(pressures: list[float], place: int, factor: float) -> None:
    """Lowering a cylinder that is not the best one only lowers the lowest share."""
    place %= len(pressures)
    if pressures[place] == max(pressures):
        return
    lowered = [value * factor if at == place else value for at, value in enumerate(pressures)]
    assert compression_row(lowered).lowest_share <= compression_row(pressures).lowest_share + 1e-12


def test_error_of_the_share_is_what_throws_scatter() -> None:
    """Within 5 % of thrown readings."""
    row = compression_row([1200.0, 800.0], gauge_se_kpa=25.0)
    thrown = scatter(lambda low, high: low / high, (800.0, 1200.0), (25.0, 25.0))
    assert row.lowest_share_se == pytest.approx(thrown, rel=0.05)


def test_error_of_the_wet_gain_is_what_throws_scatter() -> None:
    """Both readings and the scatter of a repeat."""
    _, se = wet_gain(690.0, 1030.0)
    thrown = scatter(lambda dry, wet, again: wet - dry + again, (690.0, 1030.0, 0.0), (20.0, 20.0, 15.0))
    assert se == pytest.approx(thrown, rel=0.05)


@given(st.floats(0.0, 10.0), st.floats(0.0, 10.0))
def test_more_oil_takes_more_room(one: float, other: float) -> None:
    """The volume part rises with the oil and is nothing without it."""
    low, high = sorted((one, other))
    gains = [oil_volume_gain(700.0, swept_ml=400.0, ratio=9.0, oil_ml=oil)[0] for oil in (low, high)]
    assert gains[0] <= gains[1] + 1e-9
    assert oil_volume_gain(700.0, swept_ml=400.0, ratio=9.0, oil_ml=0.0)[0] == pytest.approx(0.0)


def test_one_cylinder_is_refused() -> None:
    """There is nothing to compare with."""
    with pytest.raises(NotMeasurable) as refused:
        compression_row([1200.0, None])
    assert str(refused.value) == "Compression: 1 measured. Measure at least two cylinders, better all."


def test_dead_row_is_refused() -> None:
    """Nothing anywhere is the gauge or the cam drive."""
    with pytest.raises(NotMeasurable) as refused:
        compression_row([0.0, 0.0, 0.0, 0.0])
    assert str(refused.value) == (
        "Compression is 0 in every cylinder measured. "
        "Check the gauge, that the engine turns, and that the camshaft turns with it."
    )


def test_too_much_oil_is_refused() -> None:
    """A chamber full of oil locks the engine."""
    with pytest.raises(NotMeasurable) as refused:
        oil_volume_gain(700.0, swept_ml=250.0, ratio=11.0)
    assert str(refused.value) == (
        "15 ml of oil in a chamber of 25 ml: the engine may lock on it. Use a tablespoon (15 ml) or less."
    )


@pytest.mark.parametrize("bad", [float("nan"), -5.0, math.inf])
def test_reading_that_is_none_is_refused(bad: float) -> None:
    """Dirty readings are named."""
    with pytest.raises(NotMeasurable, match=r"^Compression is "):
        compression_row([1200.0, bad])


def test_doubt_about_a_fixed_floor_is_the_readings_own() -> None:
    """690 kPa is 690 kPa: only the reading errs. As a share of the highest, the highest errs too."""
    floor = SPREAD_RULES[1]
    assert compression_row([950.0, 735.0, 725.0], rule=floor).doubtful == (3,)
    assert compression_row([1200.0, 885.0, 875.0], rule=floor).doubtful == (2, 3)
