"""Joints and paths under load."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from knowngood.errors import NotMeasurable
from knowngood.measure.joint import drop_at_current, joint_resistance, path_loss
from tests.unit.measure.scatter import scatter


@given(st.floats(0.0, 5.0), st.floats(0.0, 5.0), st.floats(1.0, 300.0))
def test_more_loss_is_more_resistance(one: float, other: float, current: float) -> None:
    """At one current."""
    low, high = sorted((one, other))
    assert joint_resistance(low, current)[0] <= joint_resistance(high, current)[0]


@given(st.floats(-5.0, 5.0), st.floats(1.0, 300.0))
def test_swapped_probes_are_not_a_fault(drop: float, current: float) -> None:
    """Either sign, of either reading."""
    assert joint_resistance(drop, current) == joint_resistance(-drop, -current)


@pytest.mark.parametrize(
    ("drop", "current", "drop_se", "current_se"), [(0.42, 105.0, 0.01, 0.1), (0.3, 20.0, 0.02, 1.0)]
)
def test_error_is_what_throws_scatter(drop: float, current: float, drop_se: float, current_se: float) -> None:
    """Within 5 % of thrown readings."""
    _, se = joint_resistance(drop, current, drop_se_v=drop_se, current_se_a=current_se)
    assert se == pytest.approx(scatter(lambda v, i: v / i, (drop, current), (drop_se, current_se)), rel=0.05)


def test_unloaded_joint_is_refused() -> None:
    """It shows no drop however bad it is."""
    with pytest.raises(NotMeasurable) as refused:
        joint_resistance(0.42, 0.2)
    assert str(refused.value) == (
        "Current is 0.2 A with a standard error of 0.1 A: less than three of them. "
        "Measure again with a finer instrument or a larger value."
    )


@pytest.mark.parametrize("bad", [float("nan"), float("inf")])
def test_reading_that_is_none_is_refused(bad: float) -> None:
    """Dirty readings are named."""
    with pytest.raises(NotMeasurable, match=r"^Voltage lost is "):
        joint_resistance(bad, 100.0)


def test_worst_part_of_a_path_is_named() -> None:
    """The strap, not the cable."""
    loss = path_loss([0.05, -0.40, 0.02], 100.0)
    assert (loss.worst, loss.total_v) == (2, pytest.approx(0.47))
    assert sum(loss.ohms) == pytest.approx(loss.total_ohm)
    assert loss.worst_share == pytest.approx(0.40 / 0.47)


def test_error_of_a_path_is_what_throws_scatter() -> None:
    """Within 5 % of thrown readings."""
    loss = path_loss([0.05, 0.40, 0.02], 100.0, current_se_a=3.0)
    thrown = scatter(lambda a, b, c, i: (a + b + c) / i, (0.05, 0.4, 0.02, 100.0), (0.01, 0.01, 0.01, 3.0))
    assert loss.total_se_ohm == pytest.approx(thrown, rel=0.05)


def test_path_without_loss_is_refused() -> None:
    """The load is off."""
    with pytest.raises(NotMeasurable) as refused:
        path_loss([0.0, 0.0], 100.0)
    assert str(refused.value) == "Nothing is lost anywhere on the path. Check that the load runs while you measure."


@given(st.floats(0.01, 1.0), st.floats(5.0, 50.0), st.floats(5.0, 300.0))
def test_loss_goes_with_the_current(drop: float, measured: float, wanted: float) -> None:
    """Ohm's law both ways."""
    there, _ = drop_at_current(drop, measured, wanted)
    assert there == pytest.approx(drop * wanted / measured)


def test_error_at_another_current_is_what_throws_scatter() -> None:
    """Within 5 % of thrown readings."""
    _, se = drop_at_current(0.06, 20.0, 150.0, current_se_a=0.5)
    assert se == pytest.approx(scatter(lambda v, i: 150.0 * v / i, (0.06, 20.0), (0.01, 0.5)), rel=0.05)


def test_path_is_judged_with_the_errors_of_one_joint() -> None:
    """0.01 V and 0.1 A where nothing else is said, as for a single joint."""
    assert path_loss([0.1, 0.3], 20.0) == path_loss([0.1, 0.3], 20.0, drop_se_v=0.01, current_se_a=0.1)
    assert path_loss([0.1, 0.3], 20.0) != path_loss([0.1, 0.3], 20.0, drop_se_v=0.01, current_se_a=1.0)
