"""What a dead cylinder does to the speed of the crank: orders, amplitudes, and how large it should be.

Order k happens k times per crank revolution. A four-stroke engine repeats every two revolutions, so everything sits at
multiples of one half. Even firing distances only; a narrow pulse of combustion torque stands for the gas.
"""

from __future__ import annotations

import cmath
import math
from collections.abc import Collection
from dataclasses import dataclass

from knowngood.errors import NotMeasurable
from knowngood.measure.carried import with_error
from knowngood.measure.given import above_zero, finite, whole

PULSE_DEG = 100.0
"""Width of the raised-cosine torque pulse of one firing; sets the fall of amplitude with order (model)."""


@dataclass(frozen=True, slots=True)
class OrderLine:
    """One order: its amplitude for firing pulses of height 1, and its phase [deg of its own turn]."""

    order: float
    amplitude: float
    phase_deg: float


def order_frequency(order: float, speed_rpm: float, *, speed_se_rpm: float = 10.0) -> tuple[float, float]:
    """Frequency of an order.

    Parameters
    ----------
    order : float
        Times per crank revolution.
    speed_rpm : float [1/min]
        Engine speed.
    speed_se_rpm : float [1/min]
        One standard error of the speed; 10 1/min is what a shown speed wanders at idle.

    Returns
    -------
    frequency_hz, se : tuple of float [Hz], [Hz]

    Raises
    ------
    NotMeasurable
        Order or speed not above zero.

    Notes
    -----
    Cannot tell: anything while the speed changes by more than a few per cent over the record.

    Examples
    --------
    >>> frequency_hz, se = order_frequency(0.5, 800)
    >>> f"{frequency_hz:.2f} ± {se:.2f} Hz"
    '6.67 ± 0.08 Hz'
    """
    times = above_zero("Order", order, "")
    return with_error(lambda rpm: times * rpm / 60.0, (above_zero("Engine speed", speed_rpm, "rpm"),), (speed_se_rpm,))


def order_of_firing(cylinders: int) -> float:
    """The order at which an even-firing four-stroke engine fires: half its cylinders.

    Parameters
    ----------
    cylinders : int
        Cylinders of the engine.

    Returns
    -------
    order : float

    Raises
    ------
    NotMeasurable
        No cylinder.

    Notes
    -----
    Cannot tell: uneven firing distances, which put lines at every half order of a healthy engine.

    Examples
    --------
    >>> order_of_firing(6)
    3.0
    """
    return whole("Number of cylinders", cylinders, 1) / 2.0


def torque_orders(cylinders: int, dead: Collection[int] = (), *, highest_order: float = 4.0) -> tuple[OrderLine, ...]:
    """Orders of the gas torque with some firing positions dead.

    Every firing is the same raised-cosine pulse of height 1; a dead one is left out.

    Parameters
    ----------
    cylinders : int
        Cylinders of the engine, evenly spaced firings.
    dead : collection of int
        Places in the firing order that do not fire, 1 for the first; not cylinder numbers.
    highest_order : float
        Last order returned.

    Returns
    -------
    lines : tuple of OrderLine
        Half order and its multiples; lines under 1e-9 are left out.

    Raises
    ------
    NotMeasurable
        No cylinder, a place outside the firing order, or a highest order that is not above zero.

    Notes
    -----
    Cannot tell: the number of the cylinder without a mark for the first one; inertia torque adds whole orders at high
    speed; a gearbox or mount resonance adds lines of its own.

    References
    ----------
    common_practice : gas torque repeats every two revolutions; even firing cancels all but multiples of half the
        number of cylinders.

    Examples
    --------
    >>> [line.order for line in torque_orders(4)]
    [2.0, 4.0]
    >>> half = torque_orders(4, dead={1})[0]
    >>> half.order, round(half.amplitude, 3)
    (0.5, 0.137)
    """
    n = whole("Number of cylinders", cylinders, 1)
    outside = [place for place in dead if not 1 <= place <= n]
    if outside:
        raise NotMeasurable(
            f"Place {outside[0]} is not in a firing order of {n}.", f"Count places from 1 to {n} in firing order."
        )
    lines = []
    for half_orders in range(1, int(2 * above_zero("Highest order", highest_order, "")) + 1):
        order = half_orders / 2.0
        total = sum(
            cmath.exp(-2j * math.pi * half_orders * (place - 1) / n) for place in range(1, n + 1) if place not in dead
        )
        amplitude = abs(total) * _pulse_amplitude(order)
        if amplitude > 1e-9:
            lines.append(OrderLine(order, amplitude, math.degrees(cmath.phase(total)) % 360.0))
    return tuple(lines)


def phase_step_deg(cylinders: int) -> float:
    """Step of the half order's phase from one place in the firing order to the next.

    Parameters
    ----------
    cylinders : int
        Cylinders of the engine.

    Returns
    -------
    step_deg : float [deg]
        Degrees of the half order's own turn.

    Raises
    ------
    NotMeasurable
        No cylinder.

    Notes
    -----
    Cannot tell: the place when the phase is not known to a third of this step, or when two cylinders are dead.

    Examples
    --------
    >>> phase_step_deg(8)
    45.0
    """
    return 360.0 / whole("Number of cylinders", cylinders, 1)


def speed_ripple(
    torque_nm: float,
    order: float,
    inertia_kgm2: float,
    speed_rpm: float,
    *,
    torque_se_nm: float = 0.0,
    inertia_se_kgm2: float = 0.0,
    speed_se_rpm: float = 10.0,
) -> tuple[float, float]:
    """Amplitude of the speed ripple that a torque ripple of one order makes.

    Parameters
    ----------
    torque_nm : float [N·m]
        Amplitude of the torque at this order.
    order : float
        Times per crank revolution.
    inertia_kgm2 : float [kg·m²]
        Crank, flywheel and what is fixed to them.
    speed_rpm : float [1/min]
        Mean engine speed.
    torque_se_nm, inertia_se_kgm2, speed_se_rpm : float [N·m], [kg·m²], [1/min]
        One standard error of each; torque and inertia are taken as given when nothing is said.

    Returns
    -------
    ripple_rad_s, se : tuple of float [rad/s], [rad/s]

    Raises
    ------
    NotMeasurable
        A number is not finite, or order, inertia or speed is not above zero.

    Notes
    -----
    Cannot tell: anything near a resonance of the driveline, or for a crank that twists.

    References
    ----------
    newton_rotation : torque = inertia x angular acceleration, for one sine of the torque.

    Examples
    --------
    >>> ripple_rad_s, se = speed_ripple(20.0, 0.5, 0.2, 800, inertia_se_kgm2=0.02)
    >>> f"{ripple_rad_s:.2f} ± {se:.2f} rad/s"
    '2.39 ± 0.24 rad/s'
    """
    inertia, speed = above_zero("Inertia", inertia_kgm2, "kg·m²"), above_zero("Engine speed", speed_rpm, "rpm")
    times = above_zero("Order", order, "")
    return with_error(
        lambda torque, mass, rpm: torque / (mass * times * rpm * math.pi / 30.0),
        (abs(finite("Torque", torque_nm, "N·m")), inertia, speed),
        (torque_se_nm, inertia_se_kgm2, speed_se_rpm),
    )


def speed_loss(
    work_lost_j: float, inertia_kgm2: float, speed_rpm: float, *, work_se_j: float = 0.0, inertia_se_kgm2: float = 0.0
) -> tuple[float, float]:
    """Drop of engine speed over one firing that failed, without help from the other cylinders.

    Parameters
    ----------
    work_lost_j : float [J]
        Work the firing should have done.
    inertia_kgm2 : float [kg·m²]
        Crank, flywheel and what is fixed to them.
    speed_rpm : float [1/min]
        Mean engine speed.
    work_se_j, inertia_se_kgm2 : float [J], [kg·m²]
        One standard error of each; both are taken as given when nothing is said.

    Returns
    -------
    drop_rad_s, se : tuple of float [rad/s], [rad/s]

    Raises
    ------
    NotMeasurable
        A number is not above zero.

    Notes
    -----
    Cannot tell: the drop of a running engine with the clutch engaged; the driveline then adds inertia.

    Examples
    --------
    >>> drop_rad_s, se = speed_loss(100.0, 0.2, 800)
    >>> f"{drop_rad_s:.1f} rad/s"
    '6.0 rad/s'
    """
    above_zero("Work lost", work_lost_j, "J")
    above_zero("Inertia", inertia_kgm2, "kg·m²")
    turning = above_zero("Engine speed", speed_rpm, "rpm") * math.pi / 30.0
    return with_error(
        lambda work, inertia: work / (inertia * turning), (work_lost_j, inertia_kgm2), (work_se_j, inertia_se_kgm2)
    )


def roughness(first_ms: float, next_ms: float, *, time_se_ms: float = 0.0) -> tuple[float, float]:
    """Roughness of one firing from two neighbouring segment times.

    (T2 - T1) / T1³: in proportion to the slowing of the crank, so that idle and fast running compare.

    Parameters
    ----------
    first_ms, next_ms : float [ms]
        Time of the crank segment of one firing, and of the next.
    time_se_ms : float [ms]
        One standard error of each time; they are taken as given when nothing is said.

    Returns
    -------
    index, se : tuple of float [1/s²], [1/s²]
        Positive when the crank slows.

    Raises
    ------
    NotMeasurable
        A time is not above zero.

    Notes
    -----
    Cannot tell: a misfire from a rough road or an uneven crank wheel; compare the same teeth one revolution later. No
    threshold fits all engines: disable one cylinder and see the step on this one.

    References
    ----------
    sae_900232 : SAE 900232 (1990), misfire detection from crank speed (form from memory, paper not seen).

    Examples
    --------
    >>> index, se = roughness(37.5, 38.3, time_se_ms=0.01)
    >>> f"{index:.1f} ± {se:.1f} 1/s²"
    '15.2 ± 0.3 1/s²'
    """
    above_zero("First segment time", first_ms, "ms")
    above_zero("Next segment time", next_ms, "ms")
    return with_error(lambda one, two: 1e6 * (two - one) / one**3, (first_ms, next_ms), (time_se_ms, time_se_ms))


def cranking_ripple(cylinders: int, cranking_rpm: float, *, cranking_se_rpm: float = 5.0) -> tuple[float, float]:
    """Frequency of the humps of starter current while cranking: one per compression.

    Parameters
    ----------
    cylinders : int
        Cylinders of the engine.
    cranking_rpm : float [1/min]
        Cranking speed.
    cranking_se_rpm : float [1/min]
        One standard error of the cranking speed.

    Returns
    -------
    frequency_hz, se : tuple of float [Hz], [Hz]

    Raises
    ------
    NotMeasurable
        No cylinder, or a speed not above zero.

    Notes
    -----
    Cannot tell: compression in bar. The humps compare cylinders with each other; equal wear everywhere stays unseen.

    References
    ----------
    us_5663493 : US 5,663,493, relative compression from starter current.

    Examples
    --------
    >>> frequency_hz, se = cranking_ripple(6, 200)
    >>> f"{frequency_hz:.1f} ± {se:.2f} Hz"
    '10.0 ± 0.25 Hz'
    """
    return order_frequency(order_of_firing(cylinders), cranking_rpm, speed_se_rpm=cranking_se_rpm)


def _pulse_amplitude(order: float) -> float:
    """Amplitude at an order of one raised-cosine pulse of height 1 in 720 degrees."""
    turns = order * PULSE_DEG / 360.0  # turns of this order inside the pulse; no half order makes a whole one
    share = 2.0 * (PULSE_DEG / 2.0) / 720.0
    return share * abs(math.sin(math.pi * turns) / (math.pi * turns * (1.0 - turns**2)))
