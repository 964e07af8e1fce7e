"""Injectors."""

from collections.abc import Callable

import pytest

from knowngood.errors import NotMeasurable
from knowngood.measure.injector import dead_time, duty, flow_at_pressure, pressure_across, rail_hold
from tests.unit.measure.scatter import scatter


def test_manifold_vacuum_helps() -> None:
    """At idle the manifold draws; on boost it pushes back."""
    assert pressure_across(300.0, 101.325)[0] == pytest.approx(300.0)
    assert pressure_across(300.0, 35.0)[0] > 300.0 > pressure_across(300.0, 180.0)[0]


def test_error_is_what_throws_scatter() -> None:
    """Each error agrees with 4000 thrown readings within 5 %."""
    flow = flow_at_pressure(200.0, 300.0, 250.0, flow_se_ml_min=4.0, from_se_kpa=3.0, to_se_kpa=8.0)
    assert flow[1] == pytest.approx(
        scatter(lambda q, a, b: flow_at_pressure(q, a, b)[0], (200.0, 300.0, 250.0), (4.0, 3.0, 8.0)), rel=0.05
    )
    assert duty(3.0, 800)[1] == pytest.approx(scatter(lambda p, n: duty(p, n)[0], (3.0, 800.0), (0.05, 10.0)), rel=0.05)
    line = dead_time(4.0, 10.0, 10.0, 30.0, 1000)
    for found, what in ((line.dead_time_se_ms, "dead_time_ms"), (line.flow_se_ml_min, "flow_ml_min")):
        thrown = scatter(
            lambda short, long, what=what: getattr(dead_time(4.0, short, 10.0, long, 1000), what),
            (10.0, 30.0),
            (0.2, 0.2),
        )
        assert found == pytest.approx(thrown, rel=0.05)


def test_batch_fire_counts_both_pulses() -> None:
    """Two pulses a cycle double the duty."""
    assert duty(3.0, 800, pulses_per_cycle=2)[0] == pytest.approx(2.0 * duty(3.0, 800)[0])


@pytest.mark.parametrize(
    ("later", "allowed", "verdict"),
    [(290.0, 50.0, "holds"), (245.0, 50.0, "cannot tell"), (200.0, 50.0, "leaks"), (200.0, None, "no limit given")],
)
def test_rail(later: float, allowed: float | None, verdict: str) -> None:
    """Within two standard errors of the limit nothing is said."""
    assert rail_hold(300.0, later, 5.0, allowed_loss_kpa=allowed).verdict == verdict


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (
            lambda: pressure_across(-90.0, 35.0),
            "Rail pressure is 23.675 kPa below the manifold. "
            "Give the rail as a gauge reading, the manifold as absolute.",
        ),
        (
            lambda: duty(30.0, 6000),
            "1 pulses of 30 ms are longer than two revolutions at 6000 rpm. "
            "Check whether the pulse is in ms, and how often the injector fires.",
        ),
        (
            lambda: dead_time(10.0, 30.0, 4.0, 10.0, 1000),
            "The long pulse of 4 ms is not over the short one. Run two different lengths.",
        ),
        (
            lambda: dead_time(4.0, 10.0, 4.0, 30.0, 1000),
            "The long pulse of 4 ms is not over the short one. Run two different lengths.",
        ),
        (
            lambda: dead_time(4.0, 10.0, 10.0, 10.2, 1000),
            "Difference of the amounts is 0.2 mL with a standard error of 0.282843 mL: less than three of them. "
            "Measure again with a finer instrument or a larger value.",
        ),
        (lambda: rail_hold(300.0, 200.0, 0.0), "Time between the readings is 0 min. Give a number above 0 in min."),
    ],
)
def test_refusals(ask: Callable[[], object], words: str) -> None:
    """Word for word."""
    with pytest.raises(NotMeasurable) as refused:
        ask()
    assert str(refused.value) == words


def test_little_that_drives_the_fuel_is_still_told() -> None:
    """Half a kilopascal is a pressure; none is refused."""
    assert pressure_across(0.0, 100.825)[0] == pytest.approx(0.5)
    with pytest.raises(NotMeasurable):
        pressure_across(0.0, 101.325)
