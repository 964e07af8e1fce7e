"""Boiling point of coolant: water, or water with glycol, at any pressure.

"Three degrees Fahrenheit a psi" is too generous; the true slope is 2.5. Here the vapour pressures decide.
"""

from __future__ import annotations

import math

from knowngood.errors import NotMeasurable
from knowngood.measure.carried import with_error
from knowngood.measure.constant import ZERO_C_K
from knowngood.measure.given import between, not_below_zero
from knowngood.measure.glycol import Glycol, glycol_named

WATER_KG_L, WATER_G_MOL = 0.9982, 18.015
"""Water at 20 °C."""
MODEL_SE_C = 0.4
"""Raoult's law against an activity model (UNIFAC) for ethylene glycol and water: 0.4 °C."""

REGION_4 = (
    0.11670521452767e4,
    -0.72421316703206e6,
    -0.17073846940092e2,
    0.12020824702470e5,
    -0.32325550322333e7,
    0.14915108613530e2,
    -0.48232657361591e4,
    0.40511340542057e6,
    -0.23855557567849,
    0.65017534844798e3,
)
"""Coefficients n1 to n10 of the saturation line of water: IAPWS-IF97, region 4."""


def water_vapour_pressure(water_c: float, *, water_se_c: float = 0.5) -> tuple[float, float]:
    """Pressure at which water boils at a temperature.

    Parameters
    ----------
    water_c : float [°C]
        0 to 370 °C.
    water_se_c : float [K]
        One standard error of the temperature; 0.5 K is a good thermometer.

    Returns
    -------
    pressure_kpa, se : tuple of float [kPa], [kPa]
        Absolute; the equation itself is within 0.025 % of the reference equation.

    Raises
    ------
    NotMeasurable
        The temperature is not finite or outside 0 to 370 °C.

    Notes
    -----
    Cannot tell: anything about water with glycol or salts.

    References
    ----------
    iapws_if97 : IAPWS Industrial Formulation 1997 for water and steam, R7-97(2012), section 8.1, equation 30.

    Examples
    --------
    >>> pressure_kpa, se = water_vapour_pressure(100.0)
    >>> f"{pressure_kpa:.1f} ± {se:.1f} kPa"
    '101.4 ± 1.8 kPa'
    """
    kelvin = between("Water temperature", water_c, 0.0, 370.0, "°C") + ZERO_C_K
    return with_error(_water_kpa, (kelvin,), (water_se_c,))


def water_boiling(pressure_kpa: float, *, pressure_se_kpa: float = 1.0) -> tuple[float, float]:
    """Temperature at which water boils under a pressure.

    Parameters
    ----------
    pressure_kpa : float [kPa]
        Absolute, 1 to 20,000 kPa.
    pressure_se_kpa : float [kPa]
        One standard error of the pressure; 1 kPa is a manifold sensor or a good barometer.

    Returns
    -------
    boiling_c, se : tuple of float [°C], [°C]

    Raises
    ------
    NotMeasurable
        The pressure is not finite or outside 1 to 20,000 kPa.

    Notes
    -----
    Cannot tell: anything about water with glycol or salts.

    References
    ----------
    iapws_if97 : IAPWS Industrial Formulation 1997, R7-97(2012), section 8.2, equation 31.

    Examples
    --------
    >>> boiling_c, se = water_boiling(101.325)
    >>> f"{boiling_c:.2f} ± {se:.2f} °C"
    '99.97 ± 0.28 °C'
    """
    pressure = between("Pressure", pressure_kpa, 1.0, 20_000.0, "kPa")
    return with_error(_water_boiling_c, (pressure,), (pressure_se_kpa,))


def glycol_vapour_pressure(kind: str, glycol_c: float, *, glycol_se_c: float = 0.5) -> tuple[float, float]:
    """Vapour pressure of a pure glycol.

    Parameters
    ----------
    kind : str
        'ethylene' or 'propylene'.
    glycol_c : float [°C]
        0 to 250 °C.
    glycol_se_c : float [K]
        One standard error of the temperature; 0.5 K is a good thermometer.

    Returns
    -------
    pressure_kpa, se : tuple of float [kPa], [kPa]

    Raises
    ------
    Refused
        The kind is not one of the two.
    NotMeasurable
        The temperature is not finite or outside 0 to 250 °C.

    Notes
    -----
    Cannot tell: the vapour over a mixture; see `boiling_point`.

    References
    ----------
    perry_8 : Perry's Chemical Engineers' Handbook, 8th edition, table 2-8, vapour pressure coefficients.

    Examples
    --------
    >>> pressure_kpa, se = glycol_vapour_pressure("ethylene", 100.0)
    >>> f"{pressure_kpa:.2f} ± {se:.2f} kPa"
    '2.10 ± 0.06 kPa'
    """
    glycol = glycol_named(kind)
    kelvin = between("Glycol temperature", glycol_c, 0.0, 250.0, "°C") + ZERO_C_K
    return with_error(lambda at: _glycol_kpa(glycol, at), (kelvin,), (glycol_se_c,))


def glycol_molecules(kind: str, glycol_pct: float, *, glycol_se_pct: float = 3.0) -> tuple[float, float]:
    """Share of glycol molecules in a mixture given by volume.

    Parameters
    ----------
    kind : str
        'ethylene' or 'propylene'.
    glycol_pct : float [%]
        Glycol by volume before mixing, at 20 °C; 0 to 100.
    glycol_se_pct : float [%]
        One standard error of the share; 3 % is a refractometer or a float tester.

    Returns
    -------
    share, se : tuple of float
        0 to 1.

    Raises
    ------
    Refused
        The kind is not one of the two.
    NotMeasurable
        The share is not finite or outside 0 to 100 %.

    Notes
    -----
    Cannot tell: the glycol in a concentrate that already holds water and inhibitors, some 5 to 10 %.

    Examples
    --------
    >>> share, se = glycol_molecules("ethylene", 50)
    >>> f"{share:.3f} ± {se:.3f}"
    '0.245 ± 0.022'
    """
    glycol = glycol_named(kind)
    share = between("Glycol", glycol_pct, 0.0, 100.0, "%")
    return with_error(lambda pct: _molecules(glycol, pct), (share,), (glycol_se_pct,))


def boiling_point(
    pressure_kpa: float,
    glycol_pct: float = 0.0,
    kind: str = "ethylene",
    *,
    pressure_se_kpa: float = 0.0,
    glycol_se_pct: float = 0.0,
) -> tuple[float, float]:
    """Temperature at which coolant boils.

    Raoult's law: the vapour pressures of water and glycol, each times its share of molecules, add up to the pressure.

    Parameters
    ----------
    pressure_kpa : float [kPa]
        Absolute pressure over the coolant, 20 to 600 kPa.
    glycol_pct : float [%]
        Glycol by volume, 0 to 90.
    kind : str
        'ethylene' or 'propylene'.
    pressure_se_kpa, glycol_se_pct : float [kPa], [%]
        One standard error of each; both are taken as given when nothing is said.

    Returns
    -------
    boiling_c, se : tuple of float [°C], [°C]
        The model's own 0.4 °C with glycol, 0 for water, is in the error.

    Raises
    ------
    Refused
        The kind is not one of the two.
    NotMeasurable
        A number is not finite or outside its range.

    Notes
    -----
    Cannot tell: local boiling at a hot wall, or foam. Old or topped-up coolant has a mixture of its own: measure it.

    References
    ----------
    raoult : ideal mixture; 50 % ethylene glycol 107.8 °C open, within 0.3 °C of handbook tables.
    iapws_if97, perry_8 : vapour pressures, as above.

    Examples
    --------
    >>> boiling_c, se = boiling_point(101.325, 50)
    >>> f"{boiling_c:.1f} ± {se:.1f} °C"
    '107.8 ± 0.4 °C'
    """
    between("Pressure", pressure_kpa, 20.0, 600.0, "kPa")
    between("Glycol", glycol_pct, 0.0, 90.0, "%")
    glycol = glycol_named(kind)
    errors = (
        not_below_zero("Pressure error", pressure_se_kpa, "kPa"),
        not_below_zero("Glycol error", glycol_se_pct, "%"),
    )
    boiling_c, read_se = with_error(lambda kpa, pct: _boiling_c(kpa, pct, glycol), (pressure_kpa, glycol_pct), errors)
    return boiling_c, math.hypot(read_se, MODEL_SE_C if glycol_pct else 0.0)


def _boiling_c(pressure_kpa: float, glycol_pct: float, glycol: Glycol) -> float:
    # a standard error may carry the share below 0 or beyond all glycol; 95 % still boils as a mixture
    share = _molecules(glycol, min(max(glycol_pct, 0.0), 95.0))
    if share == 0.0:
        return _water_boiling_c(pressure_kpa)
    # as if the glycol gave no vapour: an upper bound
    kelvin = _water_boiling_c(pressure_kpa / (1.0 - share)) + ZERO_C_K
    for _ in range(20):
        slope = (_mixture_kpa(kelvin + 0.01, share, glycol) - _mixture_kpa(kelvin - 0.01, share, glycol)) / 0.02
        step = (_mixture_kpa(kelvin, share, glycol) - pressure_kpa) / slope
        kelvin -= step
        if abs(step) < 1e-9:
            return kelvin - ZERO_C_K
    raise NotMeasurable(
        f"No boiling point found at {pressure_kpa:g} kPa with {glycol_pct:g} % glycol.", "Check the numbers."
    )


def _molecules(glycol: Glycol, glycol_pct: float) -> float:
    part = glycol_pct / 100.0 * glycol.density_kg_l / glycol.molar_g
    water = (1.0 - glycol_pct / 100.0) * WATER_KG_L / WATER_G_MOL
    return part / (part + water)


def _water_boiling_c(pressure_kpa: float) -> float:
    n = REGION_4
    beta = (pressure_kpa / 1000.0) ** 0.25
    e = beta**2 + n[2] * beta + n[5]
    f = n[0] * beta**2 + n[3] * beta + n[6]
    g = n[1] * beta**2 + n[4] * beta + n[7]
    d = 2.0 * g / (-f - math.sqrt(f * f - 4.0 * e * g))
    return float(0.5 * (n[9] + d - math.sqrt((n[9] + d) ** 2 - 4.0 * (n[8] + n[9] * d))) - ZERO_C_K)


def _mixture_kpa(kelvin: float, share: float, glycol: Glycol) -> float:
    """Pressure over the mixture [kPa]."""
    return (1.0 - share) * _water_kpa(kelvin) + share * _glycol_kpa(glycol, kelvin)


def _water_kpa(kelvin: float) -> float:
    n = REGION_4
    theta = kelvin + n[8] / (kelvin - n[9])
    a = theta**2 + n[0] * theta + n[1]
    b = n[2] * theta**2 + n[3] * theta + n[4]
    c = n[5] * theta**2 + n[6] * theta + n[7]
    root: float = 2.0 * c / (-b + math.sqrt(b * b - 4.0 * a * c))
    return 1000.0 * root**4


def _glycol_kpa(glycol: Glycol, kelvin: float) -> float:
    logarithm = glycol.a + glycol.b / kelvin + glycol.c * math.log(kelvin) + glycol.d * kelvin**glycol.e
    return math.exp(logarithm) / 1000.0
