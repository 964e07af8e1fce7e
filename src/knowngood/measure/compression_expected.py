"""What a healthy cylinder should read: from ratio, valve timing and altitude, as a bracket.

The bracket is wide on purpose. Compare cylinders first; an absolute figure catches only wear that all share.
"""

from __future__ import annotations

import math

from knowngood.measure.altitude import standard_pressure
from knowngood.measure.bracket import Bracket
from knowngood.measure.given import above_zero, between, not_below_zero

EXPONENT_LOW, EXPONENT_HIGH = 1.2, 1.3
"""Exponent of a cranking compression; 1.4 would be without any loss of heat (textbook example)."""


def piston_travel(angle_deg: float, stroke_mm: float, rod_mm: float) -> float:
    """How far the piston is below top dead centre.

    Parameters
    ----------
    angle_deg : float [deg]
        Crank angle from top dead centre.
    stroke_mm, rod_mm : float [mm]
        Stroke, and length of the connecting rod between its centres.

    Returns
    -------
    travel_mm : float [mm]

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
    >>> round(piston_travel(180.0, 88.0, 148.0), 3)
    88.0
    """
    throw = 0.5 * above_zero("Stroke", stroke_mm, "mm")
    rod = throw + above_zero("Rod length less crank throw", rod_mm - throw, "mm")
    angle = math.radians(between("Crank angle", angle_deg, -720.0, 720.0, "°"))
    return throw * (1.0 - math.cos(angle)) + rod - math.sqrt(rod**2 - (throw * math.sin(angle)) ** 2)


def dynamic_ratio(ratio: float, closing_deg: float, *, stroke_mm: float, rod_mm: float) -> float:
    """Compression ratio that counts: from where the intake valve closes, not from bottom dead centre.

    Parameters
    ----------
    ratio : float
        Compression ratio of the geometry, 4 to 20.
    closing_deg : float [deg]
        Intake valve closing, degrees after bottom dead centre, 0 to 120.
    stroke_mm, rod_mm : float [mm]
        Stroke and rod length.

    Returns
    -------
    dynamic_ratio : float

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
    >>> round(dynamic_ratio(9.5, 50.0, stroke_mm=88.0, rod_mm=148.0), 2)
    8.36
    """
    static = between("Compression ratio", ratio, 4.0, 20.0, "")
    closing = between("Intake valve closing", closing_deg, 0.0, 120.0, "° after bottom dead centre")
    return 1.0 + (static - 1.0) * piston_travel(180.0 + closing, stroke_mm, rod_mm) / stroke_mm


def ideal_gauge(ratio: float, exponent: float, *, air_kpa: float = 101.325) -> float:
    """Gauge pressure of a cylinder that compresses by a ratio and loses nothing past its seals.

    Parameters
    ----------
    ratio : float
        Ratio that counts, 1 to 20.
    exponent : float
        1 (all heat lost) to 1.4 (none).
    air_kpa : float [kPa]
        Absolute pressure of the air around.

    Returns
    -------
    pressure_kpa : float [kPa]

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
    >>> round(ideal_gauge(7.5, 1.3) / 6.894757, 1)
    187.0
    """
    compressed = between("Ratio", ratio, 1.0, 20.0, "") ** between("Exponent", exponent, 1.0, 1.4, "")
    return between("Absolute air pressure", air_kpa, 50.0, 110.0, "kPa") * (compressed - 1.0)


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
        return ideal_gauge(dynamic_ratio(ratio, inside, stroke_mm=stroke_mm, rod_mm=rod_mm), exponent, air_kpa=air_kpa)

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
