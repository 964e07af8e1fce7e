"""Crank-speed orders: textbook order analysis, checked against a plain Fourier transform."""

import itertools
import math

import numpy
import pytest

from knowngood.measure.crank_orders import (
    OrderLine,
    cranking_ripple,
    order_frequency,
    order_of_firing,
    phase_step_deg,
    roughness,
    speed_loss,
    speed_ripple,
    torque_orders,
)


def line(lines: tuple[OrderLine, ...], order: float) -> float:
    return next((found.amplitude for found in lines if found.order == order), 0.0)


@pytest.mark.parametrize(
    ("order", "rpm", "hertz"),
    [
        pytest.param(0.5, 600, 5.0, id="r10.01-600"),
        pytest.param(0.5, 800, 6.67, id="r10.01-800"),
        pytest.param(0.5, 2000, 16.67, id="r10.01-2000"),
        pytest.param(order_of_firing(4), 800, 26.7, id="r10.01-firing-4"),
        pytest.param(order_of_firing(6), 800, 40.0, id="r10.01-firing-6"),
        pytest.param(order_of_firing(8), 800, 53.3, id="r10.01-firing-8"),
    ],
)
def test_order_frequencies(order: float, rpm: float, hertz: float) -> None:
    """f = order rpm / 60."""
    assert order_frequency(order, rpm)[0] == pytest.approx(hertz, abs=0.04)


@pytest.mark.parametrize("cylinders", [pytest.param(n, id=f"r10.02-{n}") for n in (4, 6, 8)])
def test_one_cylinder_makes_the_half_order(cylinders: int) -> None:
    """One disturbance in two revolutions is the half order and its multiples (common practice; maker text)."""
    assert [found.order for found in torque_orders(cylinders, {1})] == [0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 4.0]


@pytest.mark.parametrize(
    ("cylinders", "orders"),
    [
        pytest.param(4, [2.0, 4.0, 6.0], id="r10.04-4"),
        pytest.param(6, [3.0, 6.0, 9.0], id="r10.04-6"),
        pytest.param(8, [4.0, 8.0], id="r10.04-8"),
    ],
)
def test_healthy_even_fire(cylinders: int, orders: list[float]) -> None:
    """Even firing cancels all but n/2, n, 3n/2."""
    found = [found.order for found in torque_orders(cylinders, highest_order=9.0)]
    assert found[: len(orders)] == orders
    assert all(order % (cylinders / 2) == 0.0 for order in found)


@pytest.mark.parametrize("cylinders", [pytest.param(n, id=f"r10.03-{n}") for n in (4, 6, 8)])
def test_gas_torque_repeats_every_two_revolutions(cylinders: int) -> None:
    """Whatever is dead, all lines are multiples of one half (common practice)."""
    assert all((2 * found.order).is_integer() for found in torque_orders(cylinders, {1, 3}))


@pytest.mark.parametrize(
    ("cylinders", "healthy", "one_dead"),
    [
        pytest.param(4, 0.4534, 0.3401, id="r10.05-firing-4"),
        pytest.param(6, 0.5209, 0.4341, id="r10.05-firing-6"),
        pytest.param(8, 0.4641, 0.4061, id="r10.05-firing-8"),
    ],
)
def test_firing_order_falls(cylinders: int, healthy: float, one_dead: float) -> None:
    """By (n - 1) / n with one dead."""
    order = order_of_firing(cylinders)
    assert line(torque_orders(cylinders), order) == pytest.approx(healthy, abs=6e-5)
    assert line(torque_orders(cylinders, {2}), order) == pytest.approx(one_dead, abs=6e-5)


@pytest.mark.parametrize("cylinders", [pytest.param(n, id=f"r10.05-low-{n}") for n in (4, 6, 8)])
def test_low_orders_of_one_dead(cylinders: int) -> None:
    """0.5: .137, 1: .132, 1.5: .124, 2.5: .101, the same for 4, 6 and 8 cylinders."""
    lines = torque_orders(cylinders, {1})
    found = [line(lines, order) for order in (0.5, 1.0, 1.5, 2.5)]
    assert found == pytest.approx([0.137, 0.132, 0.124, 0.101], abs=6e-4)


def test_orders_against_a_fourier_transform() -> None:
    """The same amplitudes from the torque written out over 720 degrees and transformed."""
    degrees = numpy.arange(7200) / 10.0
    torque = numpy.zeros(7200)
    for place in (0, 1, 3, 4, 5):  # place 3 of a six dead
        from_centre = (degrees - place * 120.0 + 360.0) % 720.0 - 360.0
        torque += numpy.where(abs(from_centre) < 50.0, 0.5 * (1.0 + numpy.cos(2 * math.pi * from_centre / 100.0)), 0.0)
    amplitudes = 2.0 * abs(numpy.fft.rfft(torque)) / 7200.0
    lines = torque_orders(6, {3})
    assert [line(lines, k / 2) for k in range(1, 9)] == pytest.approx(list(amplitudes[1:9]), abs=1e-6)


@pytest.mark.parametrize(
    ("torque", "order", "rpm", "share"),
    [
        pytest.param(20.0, 1.0, 800, 0.5, id="r10.06-twice-the-order"),
        pytest.param(20.0, 0.5, 1600, 0.5, id="r10.06-twice-the-speed"),
    ],
)
def test_low_orders_and_speeds_weigh_more(torque: float, order: float, rpm: float, share: float) -> None:
    """Amplitude of speed = torque / (J k w) (torque = J dw/dt)."""
    base = speed_ripple(20.0, 0.5, 0.2, 800)[0]
    assert base == pytest.approx(20.0 / (0.2 * 0.5 * 800 * math.pi / 30))
    assert speed_ripple(torque, order, 0.2, rpm)[0] / base == pytest.approx(share)


@pytest.mark.parametrize("cylinders", [pytest.param(n, id=f"r10.07-{n}") for n in (4, 6, 8)])
def test_dead_pair_one_turn_apart(cylinders: int) -> None:
    """Shared coil: 0.5, 1.5, 2.5 vanish, order 1 doubles to .264."""
    lines = torque_orders(cylinders, {1, 1 + cylinders // 2})
    assert [line(lines, order) for order in (0.5, 1.5, 2.5)] == [0.0, 0.0, 0.0]
    assert line(lines, 1.0) == pytest.approx(0.264, abs=6e-4)


@pytest.mark.parametrize(
    ("cylinders", "step"),
    [pytest.param(4, 90.0, id="r10.08-4"), pytest.param(6, 60.0, id="r10.08-6"), pytest.param(8, 45.0, id="r10.08-8")],
)
def test_phase_names_the_place(cylinders: int, step: float) -> None:
    """The half order's phase moves by 360 / n from place to place."""
    assert phase_step_deg(cylinders) == step
    phases = [torque_orders(cylinders, {place})[0].phase_deg for place in range(1, cylinders + 1)]
    moves = [(one - other) % 360.0 for one, other in itertools.pairwise(phases)]
    assert moves == pytest.approx([step] * (cylinders - 1))


@pytest.mark.parametrize(("first", "following", "index"), [pytest.param(37.5, 38.3, 15.2, id="r10.09-from-memory")])
def test_segment_roughness(first: float, following: float, index: float) -> None:
    """(T2 - T1) / T1^3 (form from memory; the arithmetic is checked)."""
    assert roughness(first, following)[0] == pytest.approx(index, abs=0.05)


@pytest.mark.parametrize("braking", [1.0, 10.0, 50.0])
def test_roughness_by_kinematics(braking: float) -> None:
    """Constant deceleration from 800 rpm: the index is the deceleration over the segment's angle (textbook)."""
    angle, turning = math.pi, 800.0 * math.pi / 30.0
    times = [(turning - math.sqrt(turning**2 - 2.0 * braking * n * angle)) / braking for n in (1, 2)]
    index, _ = roughness(1000.0 * times[0], 1000.0 * (times[1] - times[0]))
    assert index == pytest.approx(braking / angle, rel=3.0 * braking * angle / turning**2)


@pytest.mark.parametrize(("rad_s", "rpm"), [pytest.param(6.0, 57.0, id="r10.11")])
def test_size_of_effect(rad_s: float, rpm: float) -> None:
    """100 J, 0.2 kg m2, 800 rpm (worked)."""
    drop, _ = speed_loss(100.0, 0.2, 800)
    assert drop == pytest.approx(rad_s, abs=0.05)
    assert drop * 30 / math.pi == pytest.approx(rpm, abs=0.5)


@pytest.mark.parametrize(
    ("cylinders", "hertz"),
    [
        pytest.param(4, 6.67, id="r10.12-4"),
        pytest.param(6, 10.0, id="r10.12-6"),
        pytest.param(8, 13.3, id="r10.12-8"),
    ],
)
def test_cranking_ripple(cylinders: int, hertz: float) -> None:
    """n/2 rpm/60 at 200 rpm (US 5,663,493)."""
    assert cranking_ripple(cylinders, 200)[0] == pytest.approx(hertz, abs=0.04)
