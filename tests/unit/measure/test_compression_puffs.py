"""Puff by puff, and running."""

import pytest

from knowngood.errors import NotMeasurable
from knowngood.measure.compression_puffs import BuildUp, build_up, puff_pattern, running_compression, snap_pattern
from tests.unit.measure.scatter import scatter

SLOW = BuildUp(0.3, 0.02, 560.0, 28.0, True)
AT_ONCE = BuildUp(0.8, 0.02, 100.0, 28.0, False)


@pytest.mark.parametrize(
    ("grown", "wet_kpa", "parts"),
    [
        (SLOW, 1050.0, ("rings",)),
        (AT_ONCE, 820.0, ("valves or gasket",)),
        (SLOW, 820.0, ("rings", "valves or gasket")),
        (AT_ONCE, 1050.0, ("rings", "valves or gasket")),
        (SLOW, None, ("rings", "valves or gasket")),
    ],
)
def test_pattern_of_a_low_cylinder(grown: BuildUp, wet_kpa: float | None, parts: tuple[str, ...]) -> None:
    """Signs that disagree, or a missing wet test, keep both parts."""
    assert puff_pattern(grown, last_kpa=800.0, usual_kpa=1200.0, wet_kpa=wet_kpa) == parts


def test_good_cylinder_has_no_pattern() -> None:
    """A cylinder that is not low accuses nothing."""
    assert puff_pattern(SLOW, last_kpa=1100.0, usual_kpa=1200.0, wet_kpa=1300.0) == ()


def test_build_up_of_a_healthy_cylinder() -> None:
    """Half at the first puff, done at the last."""
    grown = build_up([620.0, 900.0, 1080.0, 1110.0])
    assert (round(grown.first_share, 3), grown.gained_kpa, grown.still_rising) == (0.559, 490.0, False)


def test_error_of_the_first_share_is_what_throws_scatter() -> None:
    """Within 5 % of thrown readings."""
    grown = build_up([620.0, 900.0, 1080.0, 1170.0], gauge_se_kpa=30.0)
    thrown = scatter(lambda first, last: first / last, (620.0, 1170.0), (30.0, 30.0))
    assert grown.first_share_se == pytest.approx(thrown, rel=0.05)


def test_gauge_that_falls_is_refused() -> None:
    """The gauge has a valve; a fall is the gauge."""
    with pytest.raises(NotMeasurable) as refused:
        build_up([620.0, 900.0, 700.0, 1170.0])
    assert str(refused.value) == (
        "The gauge fell from 900 to 700 kPa: it holds its highest value. "
        "Its valve leaks. Clean or replace it and measure again."
    )


def test_three_puffs_are_not_enough() -> None:
    """Four from zero."""
    with pytest.raises(NotMeasurable) as refused:
        build_up([620.0, 900.0, 1080.0])
    assert str(refused.value) == "Puffs: 3 given. At least 4 are needed."


def test_nothing_built_up_is_refused() -> None:
    """Noise has no build-up."""
    with pytest.raises(NotMeasurable, match=r"nothing built up\. Write the cylinder down as none seen\.$"):
        build_up([0.0, 10.0, 20.0, 30.0])


def test_running_shares_and_their_errors() -> None:
    """Within 5 % of thrown readings."""
    running = running_compression(1200.0, 450.0, 960.0)
    thrown = scatter(lambda snap, base: snap / base, (960.0, 1200.0), (20.0, 20.0))
    assert running.snap_share == pytest.approx(0.8)
    assert running.snap_share_se == pytest.approx(thrown, rel=0.05)


def test_running_test_needs_a_cylinder_that_seals() -> None:
    """A dead cylinder has no share."""
    with pytest.raises(NotMeasurable, match=r"^Cranking compression is 50 kPa, its standard error 20 kPa"):
        running_compression(50.0, 20.0, 30.0)


@pytest.mark.parametrize(("place", "pattern"), [(1, ""), (3, "air in"), (4, "exhaust out")])
def test_snap_against_the_row(place: int, pattern: str) -> None:
    """Low is air that does not get in, high is exhaust that does not get out."""
    assert snap_pattern([0.80, 0.82, 0.55, 1.05, 0.79], place) == pattern


def test_no_such_place_is_refused() -> None:
    """Places are counted from 1."""
    with pytest.raises(NotMeasurable) as refused:
        snap_pattern([0.8, 0.8, 0.8], 4)
    assert str(refused.value) == "Place 4 of 3 cylinders. Give 1 to 3."


def test_middle_of_an_odd_row_is_its_middle_one() -> None:
    """Of three the second: 0.95 is then 0.05 off and nothing; against the mean of the lower two it would be 0.2."""
    assert snap_pattern([0.60, 0.90, 0.95], 3) == ""
    assert snap_pattern([0.60, 0.90, 0.95], 1) == "air in"
