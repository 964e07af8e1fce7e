"""Air pressure that goes with an altitude."""

from __future__ import annotations

import math

from knowngood.measure.carried import with_error
from knowngood.measure.constant import SEA_LEVEL_KPA
from knowngood.measure.given import between

SEA_LEVEL_K = 288.15
LAPSE_K_M = 0.0065
EXPONENT = 5.25588
WEATHER_SHARE = 0.015
"""Standard error of the pressure by the weather, as a share of it (from memory)."""


def standard_pressure(altitude_m: float, *, altitude_se_m: float = 10.0) -> tuple[float, float]:
    """Air pressure of the standard atmosphere at an altitude.

    Parameters
    ----------
    altitude_m : float [m]
        Height above sea level, -500 to 5000 m.
    altitude_se_m : float [m]
        One standard error of the height; 10 m is a map.

    Returns
    -------
    pressure_kpa, se : tuple of float [kPa], [kPa]
        1.5 % of the pressure, the weather at one place (from memory), is in the error.

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
    pressure_kpa, read_se = with_error(
        lambda metres: SEA_LEVEL_KPA * (1.0 - LAPSE_K_M * metres / SEA_LEVEL_K) ** EXPONENT,
        (height_m,),
        (altitude_se_m,),
    )
    return pressure_kpa, math.hypot(read_se, WEATHER_SHARE * pressure_kpa)
