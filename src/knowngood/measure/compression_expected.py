"""What a healthy cylinder should read: from ratio, valve timing and altitude, as a bracket.

The bracket is wide on purpose. Compare cylinders first; an absolute figure catches only wear that all share.
"""

from __future__ import annotations

import math

from knowngood.measure.altitude import standard_pressure
from knowngood.measure.bracket import Bracket
from knowngood.measure.carried import with_error
from knowngood.measure.constant import SEA_LEVEL_KPA
from knowngood.measure.given import above_zero, between, not_below_zero

EXPONENT_LOW, EXPONENT_HIGH = 1.2, 1.3
"""Exponent of a cranking compression; 1.4 would be without any loss of heat (textbook example)."""


def piston_travel(
    angle_deg: float,
    stroke_mm: float,
    rod_mm: float,
    *,
    angle_se_deg: float = 1.0,
    stroke_se_mm: float = 0.05,
    rod_se_mm: float = 0.1,
) -> tuple[float, float]:
    """How far the piston is below top dead centre.

    Parameters
    ----------
    angle_deg : float [deg]
        Crank angle from top dead centre.
    stroke_mm, rod_mm : float [mm]
        Stroke, and length of the connecting rod between its centres.
    angle_se_deg, stroke_se_mm, rod_se_mm : float [deg], [mm], [mm]
        One standard error of each: a degree wheel, a data sheet or a caliper.

    Returns
    -------
    travel_mm, se : tuple of float [mm], [mm]

    Raises
    ------
    NotMeasurable
        A number is not finite, not above zero, or the rod is no longer than the crank throw.

    Notes
    -----
    Cannot tell: the effect of a pin set off the centre of the bore, about a degree.

    References
    ----------
    geometry : slider-crank mechanism.

    Examples
    --------
    >>> travel_mm, se = piston_travel(90.0, 88.0, 148.0)
    >>> f"{travel_mm:.1f} ± {se:.1f} mm"
    '50.7 ± 0.8 mm'
    """
    _check_crank(stroke_mm, rod_mm)
    angle = between("Crank angle", angle_deg, -720.0, 720.0, "°")
    return with_error(_travel_mm, (angle, stroke_mm, rod_mm), (angle_se_deg, stroke_se_mm, rod_se_mm))


def dynamic_ratio(
    ratio: float,
    closing_deg: float,
    *,
    stroke_mm: float,
    rod_mm: float,
    ratio_se: float = 0.2,
    closing_se_deg: float = 5.0,
) -> tuple[float, float]:
    """Compression ratio that counts: from where the intake valve closes, not from bottom dead centre.

    Parameters
    ----------
    ratio : float
        Compression ratio of the geometry, 4 to 20.
    closing_deg : float [deg]
        Intake valve closing, degrees after bottom dead centre, 0 to 120.
    stroke_mm, rod_mm : float [mm]
        Stroke and rod length.
    ratio_se, closing_se_deg : float, [deg]
        One standard error of each; makers give the closing at different lifts, 5° is the least to assume.

    Returns
    -------
    dynamic_ratio, se : tuple of float

    Raises
    ------
    NotMeasurable
        A number is not finite or outside its span.

    Notes
    -----
    Cannot tell: what leaks past a valve that is nearly shut; at cranking speed the effective closing is earlier
    than the last contact.

    References
    ----------
    geometry : 1 + (ratio - 1) * travel / stroke.

    Examples
    --------
    >>> ratio, se = dynamic_ratio(9.5, 50.0, stroke_mm=88.0, rod_mm=148.0)
    >>> f"{ratio:.2f} ± {se:.2f}"
    '8.36 ± 0.29'
    """
    static = between("Compression ratio", ratio, 4.0, 20.0, "")
    closing = between("Intake valve closing", closing_deg, 0.0, 120.0, "° after bottom dead centre")
    _check_crank(stroke_mm, rod_mm)

    def effective(squeeze: float, angle: float) -> float:
        return 1.0 + (squeeze - 1.0) * _travel_mm(180.0 + angle, stroke_mm, rod_mm) / stroke_mm

    return with_error(effective, (static, closing), (ratio_se, closing_se_deg))


def ideal_gauge(
    ratio: float,
    exponent: float,
    *,
    air_kpa: float = SEA_LEVEL_KPA,
    ratio_se: float = 0.2,
    exponent_se: float = 0.05,
    air_se_kpa: float = 1.0,
) -> tuple[float, float]:
    """Gauge pressure of a cylinder that compresses by a ratio and loses nothing past its seals.

    Parameters
    ----------
    ratio : float
        Ratio that counts, 1 to 20.
    exponent : float
        1 (all heat lost) to 1.4 (none).
    air_kpa : float [kPa]
        Absolute pressure of the air around.
    ratio_se, exponent_se, air_se_kpa : float, exponent, [kPa]
        One standard error of each; 0.05 spans exponents of 1.2 to 1.3 about 1.25.

    Returns
    -------
    pressure_kpa, se : tuple of float [kPa], [kPa]

    Raises
    ------
    NotMeasurable
        A number is not finite or outside its span.

    Notes
    -----
    Cannot tell: the room in the gauge hose, the speed of the starter, heat and leakage: see `expected_gauge`.

    References
    ----------
    textbook : polytropic compression, p = p0 * ratio^n.

    Examples
    --------
    >>> pressure_kpa, se = ideal_gauge(7.5, 1.3)
    >>> f"{pressure_kpa:.0f} ± {se:.0f} kPa"
    '1290 ± 149 kPa'
    """
    counts = between("Ratio", ratio, 1.0, 20.0, "")
    power = between("Exponent", exponent, 1.0, 1.4, "")
    air = between("Absolute air pressure", air_kpa, 50.0, 110.0, "kPa")
    return with_error(
        lambda squeeze, bend, outside: outside * (squeeze**bend - 1.0),
        (counts, power, air),
        (ratio_se, exponent_se, air_se_kpa),
    )


def expected_gauge(
    ratio: float,
    closing_deg: float,
    *,
    stroke_mm: float,
    rod_mm: float,
    altitude_m: float = 0.0,
    closing_doubt_deg: float = 10.0,
) -> Bracket:
    """What a healthy cylinder should read when cranked warm with the throttle open.

    The exponent runs from 1.2 to 1.3 and the closing angle by the doubt given; the middle is not a promise.

    Parameters
    ----------
    ratio : float
        Compression ratio, 4 to 20.
    closing_deg, closing_doubt_deg : float [deg]
        Intake valve closing after bottom dead centre, and how far it may be off.
    stroke_mm, rod_mm : float [mm]
        Stroke and rod length.
    altitude_m : float [m]
        Where the car stands.

    Returns
    -------
    Bracket [kPa]
        Gauge pressure: low, middle, high.

    Raises
    ------
    NotMeasurable
        A number is not finite or outside its span.

    Notes
    -----
    Cannot tell: better than about 15 to 20 % (from memory): gauge hose, starter speed, heat. The maker's figure wins.

    References
    ----------
    textbook : polytropic compression from intake valve closing.
    iso_2533 : ISO 2533:1975 for the air pressure at the altitude.

    Examples
    --------
    >>> found = expected_gauge(9.5, 50.0, stroke_mm=88.0, rod_mm=148.0)
    >>> f"{found.low:.0f} to {found.high:.0f} kPa"
    '1101 to 1603 kPa'
    """
    doubt = not_below_zero("Doubt of the closing angle", closing_doubt_deg, "°")
    air_kpa, _ = standard_pressure(altitude_m)

    def read(angle: float, exponent: float) -> float:
        inside = min(max(angle, 0.0), 120.0)
        counts, _ = dynamic_ratio(ratio, inside, stroke_mm=stroke_mm, rod_mm=rod_mm)
        return ideal_gauge(counts, exponent, air_kpa=air_kpa)[0]

    between("Intake valve closing", closing_deg, 0.0, 120.0, "° after bottom dead centre")
    middle = 0.5 * (EXPONENT_LOW + EXPONENT_HIGH)
    return Bracket(
        read(closing_deg + doubt, EXPONENT_LOW), read(closing_deg, middle), read(closing_deg - doubt, EXPONENT_HIGH)
    )


def gauge_at_altitude(
    pressure_kpa: float, *, measured_m: float, wanted_m: float, pressure_se_kpa: float = 20.0
) -> tuple[float, float]:
    """What the same cylinder would read at another altitude.

    Parameters
    ----------
    pressure_kpa, pressure_se_kpa : float [kPa]
        Gauge reading and its standard error.
    measured_m, wanted_m : float [m]
        Altitude of the reading, and the one wanted (0: the one most specifications mean).

    Returns
    -------
    pressure_kpa, se : tuple of float [kPa], [kPa]
        The weather at both places is in the error.

    Raises
    ------
    NotMeasurable
        A number is not finite, the reading is negative, or an altitude is outside -500 to 5000 m.

    Notes
    -----
    Cannot tell: anything about a starter that also turns slower in the cold up there.

    References
    ----------
    iso_2533 : ISO 2533:1975; gauge pressures scale with the air pressure when ratio and exponent stay.

    Examples
    --------
    >>> scaled_kpa, se = gauge_at_altitude(1000.0, measured_m=1500.0, wanted_m=0.0)
    >>> f"{scaled_kpa:.0f} ± {se:.0f} kPa"
    '1198 ± 35 kPa'
    """
    reading = not_below_zero("Compression", pressure_kpa, "kPa")
    error = not_below_zero("Gauge error", pressure_se_kpa, "kPa")
    here, here_se = standard_pressure(measured_m)
    there, there_se = standard_pressure(wanted_m)
    scale = there / here
    return reading * scale, math.hypot(error * scale, reading * scale * math.hypot(here_se / here, there_se / there))


def _check_crank(stroke_mm: float, rod_mm: float) -> None:
    """Refuse a rod that could not pass the crank."""
    throw = 0.5 * above_zero("Stroke", stroke_mm, "mm")
    above_zero("Rod length less crank throw", rod_mm - throw, "mm")


def _travel_mm(angle_deg: float, stroke_mm: float, rod_mm: float) -> float:
    throw, angle = 0.5 * stroke_mm, math.radians(angle_deg)
    return throw * (1.0 - math.cos(angle)) + rod_mm - math.sqrt(rod_mm**2 - (throw * math.sin(angle)) ** 2)
