"""Voltage at which a spark jumps a gap, by gap, pressure and temperature.

Formulas are for an even field in air. A worn plug has an even field only roughly; a hot sharp electrode jumps
earlier. So the result is a bracket and a scale, never a limit.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from knowngood.errors import NotMeasurable
from knowngood.measure.bracket import Bracket
from knowngood.measure.carried import with_error
from knowngood.measure.constant import SEA_LEVEL_KPA
from knowngood.measure.given import above_zero, between, resolved

TORR_KPA = SEA_LEVEL_KPA / 760.0
ROUNDED_ZERO_C_K = 273.0
"""As the standards on high voltage tests write 0 °C for the density of air (IEC 60052, IEC 60060-1)."""
PASCHEN_A = 15.0
PASCHEN_B = 365.0
PASCHEN_GAMMA = 0.01
TABLE_DOUBT = 0.03
"""Doubt of the published sphere gap table, plus or minus (IEC 60052)."""
FORMULA_DEFICIT = 0.02
"""The second formula reads up to this much under the sphere gap table at plug gaps."""
PRESSURE_SE_SHARE = 0.02
"""Standard error of a pressure by default, as a share of it: a shop gauge (common practice)."""


def _density_kpa(pressure_kpa: float, temperature_c: float) -> float:
    """Pressure that air of 20 °C would need for the same density: what a spark sees."""
    return pressure_kpa * (ROUNDED_ZERO_C_K + 20.0) / (ROUNDED_ZERO_C_K + temperature_c)


def _check_gas(pressure_kpa: float, temperature_c: float) -> None:
    above_zero("Pressure", pressure_kpa, "kPa")
    between("Temperature", temperature_c, -60.0, 1000.0, "°C")


def paschen_kv(
    gap_mm: float,
    pressure_kpa: float,
    *,
    temperature_c: float = 20.0,
    gap_se_mm: float = 0.03,
    pressure_se_kpa: float | None = None,
    temperature_se_c: float = 3.0,
) -> tuple[float, float]:
    """Paschen's law with textbook constants for air.

    Parameters
    ----------
    gap_mm : float [mm]
        Distance between the electrodes.
    pressure_kpa : float [kPa]
        Absolute pressure in the gap.
    temperature_c : float [degC]
        Temperature of the gas.
    gap_se_mm, pressure_se_kpa, temperature_se_c : float [mm], [kPa], [K]
        One standard error of each; 2 % of a pressure that is left out.

    Returns
    -------
    kilovolts, se : tuple of float [kV], [kV]
        The readings' part only; how far formulas differ is the bracket of `breakdown_kv`.

    Raises
    ------
    NotMeasurable
        A number is not finite or not above zero, or gap times pressure is too small for the law to hold.

    Notes
    -----
    Cannot tell: the voltage at plug gaps well: the constants fit low pressures; `breakdown_kv` is closer.

    References
    ----------
    paschen_townsend : Townsend form with A = 15 /(cm Torr), B = 365 V/(cm Torr), second coefficient 0.01 (textbook).

    Examples
    --------
    >>> kilovolts, se = paschen_kv(10.0, 101.325)
    >>> f"{kilovolts:.2f} ± {se:.2f} kV"
    '35.51 ± 0.70 kV'
    """
    _check_gas(pressure_kpa, temperature_c)
    product = _density_kpa(pressure_kpa, temperature_c) / TORR_KPA * 0.1 * above_zero("Gap", gap_mm, "mm")
    if product < paschen_minimum()[0]:
        raise NotMeasurable(
            f"Gap times pressure is {product:.3g} Torr·cm: left of the minimum the law does not hold.",
            "Check gap and pressure; a plug gap is far to the right of it.",
        )
    constant = math.log(PASCHEN_A) - math.log(math.log(1.0 + 1.0 / PASCHEN_GAMMA))

    def law(kpa_mm: float) -> float:
        torr_cm = 0.1 * kpa_mm / TORR_KPA
        return PASCHEN_B * torr_cm / (constant + math.log(torr_cm)) / 1000.0

    return _carried(law, (gap_mm, pressure_kpa, temperature_c), (gap_se_mm, pressure_se_kpa, temperature_se_c))


def paschen_minimum() -> tuple[float, float]:
    """Gap times pressure at which a spark jumps most easily, and the voltage there, both by the law.

    Returns
    -------
    product_torr_cm, volts : tuple of float [Torr cm], [V]

    Notes
    -----
    Cannot tell: the measured minimum, about 327 V at 0.57 Torr cm (from memory).

    References
    ----------
    paschen_townsend : where the derivative of Paschen's law is zero.

    Examples
    --------
    >>> product, volts = paschen_minimum()
    >>> f"{product:.3f} Torr·cm, {volts:.0f} V"
    '0.836 Torr·cm, 305 V'
    """
    product = math.e * math.log(1.0 + 1.0 / PASCHEN_GAMMA) / PASCHEN_A
    return product, PASCHEN_B * product


def linear_kv(
    gap_mm: float, pressure_kpa: float, *, gap_se_mm: float = 0.03, pressure_se_kpa: float | None = None
) -> tuple[float, float]:
    """Rule of thumb near 1 mm: 30 kV a centimetre and atmosphere, plus 1.35 kV.

    Parameters
    ----------
    gap_mm : float [mm]
        Distance between the electrodes, 0.2 to 3 mm.
    pressure_kpa : float [kPa]
        Absolute pressure in the gap.
    gap_se_mm, pressure_se_kpa : float [mm], [kPa]
        One standard error of each; 2 % of a pressure that is left out.

    Returns
    -------
    kilovolts, se : tuple of float [kV], [kV]
        The readings' part only; how far formulas differ is the bracket of `breakdown_kv`.

    Raises
    ------
    NotMeasurable
        The gap is outside 0.2 to 3 mm, or the pressure is not above zero.

    Notes
    -----
    Cannot tell: anything far from 1 mm and one atmosphere.

    References
    ----------
    paschen_townsend : linear approximation near 1 mm (textbook).

    Examples
    --------
    >>> kilovolts, se = linear_kv(1.0, 101.325)
    >>> f"{kilovolts:.2f} ± {se:.2f} kV"
    '4.35 ± 0.11 kV'
    """
    gap, pressure = between("Gap", gap_mm, 0.2, 3.0, "mm"), above_zero("Pressure", pressure_kpa, "kPa")
    pressure_se = PRESSURE_SE_SHARE * pressure if pressure_se_kpa is None else pressure_se_kpa
    return with_error(lambda mm, kpa: 3.0 * kpa / SEA_LEVEL_KPA * mm + 1.35, (gap, pressure), (gap_se_mm, pressure_se))


def even_field_low_kv(
    gap_mm: float,
    pressure_kpa: float,
    *,
    temperature_c: float = 20.0,
    gap_se_mm: float = 0.03,
    pressure_se_kpa: float | None = None,
    temperature_se_c: float = 3.0,
) -> tuple[float, float]:
    """First formula for an even field, 24.22 dd + 6.08 sqrt(dd): 5 to 8 % under the table at plug gaps.

    Parameters
    ----------
    gap_mm, pressure_kpa, temperature_c : float [mm], [kPa], [degC]
        As in `paschen_kv`.
    gap_se_mm, pressure_se_kpa, temperature_se_c : float [mm], [kPa], [K]
        One standard error of each; 2 % of a pressure that is left out.

    Returns
    -------
    kilovolts, se : tuple of float [kV], [kV]
        The readings' part only; how far formulas differ is the bracket of `breakdown_kv`.

    Raises
    ------
    NotMeasurable
        A number is not finite or not above zero.

    Notes
    -----
    Cannot tell: the true figure; it is the lower end of the bracket.

    References
    ----------
    high_voltage_a : formula recalled from Naidu and Kamaraju, High Voltage Engineering, chapter 2 (from memory).

    Examples
    --------
    >>> kilovolts, se = even_field_low_kv(1.0, 101.325)
    >>> f"{kilovolts:.3f} ± {se:.3f} kV"
    '4.345 ± 0.127 kV'
    """

    def law(kpa_mm: float) -> float:
        product = 0.1 * kpa_mm / SEA_LEVEL_KPA
        return 24.22 * product + 6.08 * math.sqrt(product)

    return _carried(law, (gap_mm, pressure_kpa, temperature_c), (gap_se_mm, pressure_se_kpa, temperature_se_c))


def even_field_kv(
    gap_mm: float,
    pressure_kpa: float,
    *,
    temperature_c: float = 20.0,
    gap_se_mm: float = 0.03,
    pressure_se_kpa: float | None = None,
    temperature_se_c: float = 3.0,
) -> tuple[float, float]:
    """Second formula for an even field, 24.36 pd + 6.72 sqrt(pd) with p in bar: within 2 % of the table.

    Parameters
    ----------
    gap_mm, pressure_kpa, temperature_c : float [mm], [kPa], [degC]
        As in `paschen_kv`.
    gap_se_mm, pressure_se_kpa, temperature_se_c : float [mm], [kPa], [K]
        One standard error of each; 2 % of a pressure that is left out.

    Returns
    -------
    kilovolts, se : tuple of float [kV], [kV]
        The readings' part only; how far formulas differ is the bracket of `breakdown_kv`.

    Raises
    ------
    NotMeasurable
        A number is not finite or not above zero.

    Notes
    -----
    Cannot tell: what a worn plug needs: rounded electrodes need more, hot and sharp ones less.

    References
    ----------
    high_voltage_b : formula recalled from Kuffel, Zaengl and Kuffel, High Voltage Engineering Fundamentals, chapter 5
    (from memory).

    Examples
    --------
    >>> kilovolts, se = even_field_kv(1.0, 101.325)
    >>> f"{kilovolts:.3f} ± {se:.3f} kV"
    '4.607 ± 0.133 kV'
    """

    def law(kpa_mm: float) -> float:
        product = 0.1 * kpa_mm / 100.0
        return 24.36 * product + 6.72 * math.sqrt(product)

    return _carried(law, (gap_mm, pressure_kpa, temperature_c), (gap_se_mm, pressure_se_kpa, temperature_se_c))


def breakdown_kv(gap_mm: float, pressure_kpa: float, *, temperature_c: float = 20.0) -> Bracket:
    """Voltage a gap needs, as a bracket.

    Low is the first formula, the middle the second; high adds what the second reads under the published table and
    the doubt of that table.

    Parameters
    ----------
    gap_mm : float [mm]
        Distance between the electrodes, 0.1 to 20 mm.
    pressure_kpa : float [kPa]
        Absolute pressure in the gap at the spark.
    temperature_c : float [degC]
        Temperature of the gas at the spark.

    Returns
    -------
    Bracket [kV]

    Raises
    ------
    NotMeasurable
        The gap is outside 0.1 to 20 mm, or a number is not finite or outside its span.

    Notes
    -----
    Cannot tell: the demand of the engine in hand: mixture, electrode shape and swirl move it by tens of percent.
    Compare cylinders with one probe. The bracket is how far the formulas differ; what the readings' own errors add is
    the second figure of `even_field_kv`.

    References
    ----------
    iec_60052 : sphere gap table, 5 mm 17.4 kV and 10 mm 32.0 kV for 5 cm spheres, plus or minus 3 %.

    Examples
    --------
    >>> found = breakdown_kv(0.8, 1000.0, temperature_c=327.0)
    >>> f"{found.low:.1f} {found.value:.1f} {found.high:.1f} kV"
    '13.1 13.7 14.4 kV'
    """
    gap = between("Gap", gap_mm, 0.1, 20.0, "mm")
    middle, _ = even_field_kv(gap, pressure_kpa, temperature_c=temperature_c)
    low, _ = even_field_low_kv(gap, pressure_kpa, temperature_c=temperature_c)
    return Bracket(low, middle, middle * (1.0 + FORMULA_DEFICIT + TABLE_DOUBT))


def _carried(
    law: Callable[[float], float],
    readings: tuple[float, float, float],
    errors: tuple[float, float | None, float],
) -> tuple[float, float]:
    """A law of density times gap [kPa at 20 °C times mm], with the errors of gap, pressure and temperature."""
    gap_mm, pressure_kpa, temperature_c = readings
    gap_se, pressure_se, temperature_se = errors
    _check_gas(pressure_kpa, temperature_c)
    resolved("Gap", gap_mm, gap_se, "mm")
    return with_error(
        lambda mm, kpa, celsius: law(mm * _density_kpa(kpa, celsius)),
        readings,
        (gap_se, PRESSURE_SE_SHARE * pressure_kpa if pressure_se is None else pressure_se, temperature_se),
    )
