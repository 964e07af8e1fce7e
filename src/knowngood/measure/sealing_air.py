"""The air a cylinder is filled with at an altitude: pressure, temperature and density of the standard atmosphere."""

from __future__ import annotations

from dataclasses import dataclass

from knowngood.measure.altitude import LAPSE_K_M, SEA_LEVEL_K, standard_pressure
from knowngood.measure.constant import R_AIR_J_KG_K, ZERO_C_K


@dataclass(frozen=True, slots=True)
class StandardAir:
    """Dry air of the standard atmosphere; `share_of_sea_level` is its density over that at the sea."""

    pressure_kpa: float
    temperature_c: float
    density_kg_m3: float
    share_of_sea_level: float


def standard_air(altitude_m: float) -> StandardAir:
    """Air of the standard atmosphere at an altitude.

    Parameters
    ----------
    altitude_m : float [m]
        Height above sea level, -500 to 5000 m.

    Returns
    -------
    StandardAir

    Raises
    ------
    NotMeasurable
        The altitude is not finite or outside -500 to 5000 m.

    Notes
    -----
    Cannot tell: today's weather: pressure moves by about 1.5 %, temperature by tens of degrees.

    References
    ----------
    iso_2533 : ISO 2533:1975, troposphere: 15 °C at the sea, 6.5 °C less each km, perfect gas.

    Examples
    --------
    >>> air = standard_air(1500)
    >>> f"{air.temperature_c:.2f} °C, {air.density_kg_m3:.3f} kg/m³"
    '5.25 °C, 1.058 kg/m³'
    """
    pressure_kpa, _ = standard_pressure(altitude_m)
    kelvin = SEA_LEVEL_K - LAPSE_K_M * altitude_m
    density = 1000.0 * pressure_kpa / (R_AIR_J_KG_K * kelvin)
    sea_kpa, _ = standard_pressure(0.0)
    return StandardAir(
        pressure_kpa, kelvin - ZERO_C_K, density, density * R_AIR_J_KG_K * SEA_LEVEL_K / (1000.0 * sea_kpa)
    )
