"""Air pressure that goes with an altitude."""

from __future__ import annotations

from knowngood.measure.given import between

SEA_LEVEL_KPA = 101.325
SEA_LEVEL_K = 288.15
LAPSE_K_M = 0.0065
EXPONENT = 5.25588


def standard_pressure(altitude_m: float) -> tuple[float, float]:
    """Air pressure of the standard atmosphere at an altitude.

    Parameters
    ----------
    altitude_m : float [m]
        Height above sea level, -500 to 5000 m.

    Returns
    -------
    pressure_kpa, se : tuple of float [kPa], [kPa]
        The standard error, 1.5 % of the pressure, is the weather at one place (from memory).

    Raises
    ------
    NotMeasurable
        The altitude is not finite or outside -500 to 5000 m.

    Notes
    -----
    Cannot tell: today's pressure. A barometer, or the manifold sensor with the engine off, beats this.

    References
    ----------
    iso_2533 : ISO 2533:1975, Standard atmosphere, troposphere layer.

    Examples
    --------
    >>> pressure_kpa, se = standard_pressure(1500)
    >>> f"{pressure_kpa:.2f} ± {se:.1f} kPa"
    '84.56 ± 1.3 kPa'
    """
    height_m = between("Altitude", altitude_m, -500.0, 5000.0, "m")
    pressure_kpa = SEA_LEVEL_KPA * (1.0 - LAPSE_K_M * height_m / SEA_LEVEL_K) ** EXPONENT
    return pressure_kpa, 0.015 * pressure_kpa
