"""Copper wire: resistance by gauge or area, length and temperature."""

from __future__ import annotations

import math

from knowngood.errors import Refused
from knowngood.measure.bracket import Bracket
from knowngood.measure.carried import with_error
from knowngood.measure.constant import MM_PER_INCH
from knowngood.measure.given import above_zero, between, not_below_zero

RHO_20C_OHM_MM2_KM = 17.241
"""Annealed copper at 20 °C, ohm mm2 a km (IEC 60228)."""
ALPHA_COPPER = 0.00393
"""Rise of copper's resistance a kelvin, at 20 °C (IEC 60028, from memory)."""
STRANDING = {1: (1.0, 1.0), 2: (1.02, 1.04), 5: (1.05, 1.08), 6: (1.05, 1.08)}
"""Factor for stranding by class of conductor (IEC 60228); 1 is solid."""
MAX_CLASS_5_MOHM_M: dict[float, float] = {
    0.5: 39.0,
    0.75: 26.0,
    1.0: 19.5,
    1.5: 13.3,
    2.5: 7.98,
    4.0: 4.95,
    6.0: 3.30,
    10.0: 1.91,
    16.0: 1.21,
    25.0: 0.780,
    35.0: 0.554,
}
"""Largest resistance of flexible plain copper conductors at 20 °C, mΩ/m by mm2 (IEC 60228, class 5)."""


def awg_area(gauge: float) -> float:
    """Area of a wire gauge number.

    Parameters
    ----------
    gauge : float
        Number, -3 (0000) to 40.

    Returns
    -------
    area_mm2 : float [mm2]

    Raises
    ------
    NotMeasurable
        The number is not finite or outside -3 to 40.

    Notes
    -----
    Cannot tell: the metal. Copper-clad aluminium of the same gauge has half as much again.

    References
    ----------
    astm_b258 : diameter 0.005 in times 92 to the power (36 - n)/39.

    Examples
    --------
    >>> round(awg_area(14), 3)
    2.081
    """
    number = between("Wire gauge", gauge, -3.0, 40.0, "")
    diameter_mm = MM_PER_INCH * 0.005 * 92.0 ** ((36.0 - number) / 39.0)
    return 0.25 * math.pi * diameter_mm**2


def copper_factor(temperature_c: float, *, temperature_se_c: float = 5.0) -> tuple[float, float]:
    """Resistance of copper at a temperature over that at 20 °C.

    Parameters
    ----------
    temperature_c : float [degC]
        -60 to 200.
    temperature_se_c : float [K]
        One standard error of the temperature; 5 K is a guess by hand.

    Returns
    -------
    factor, se : tuple of float

    Raises
    ------
    NotMeasurable
        The temperature is not finite or outside -60 to 200 °C.

    Notes
    -----
    Cannot tell: the temperature inside a loaded bundle.

    References
    ----------
    iec_60028 : 0.00393 a kelvin at 20 °C (from memory).

    Examples
    --------
    >>> factor, se = copper_factor(80.0)
    >>> f"{factor:.3f} ± {se:.3f}"
    '1.236 ± 0.020'
    """
    degrees = between("Temperature", temperature_c, -60.0, 200.0, "°C")
    return with_error(lambda celsius: 1.0 + ALPHA_COPPER * (celsius - 20.0), (degrees,), (temperature_se_c,))


def wire_resistance(area_mm2: float, length_m: float, *, temperature_c: float = 20.0, stranding: int = 5) -> Bracket:
    """Resistance a sound copper wire should have.

    Parameters
    ----------
    area_mm2 : float [mm2]
        Nominal area.
    length_m : float [m]
        Length.
    temperature_c : float [degC]
        Temperature of the wire.
    stranding : int
        Class of conductor: 1 solid, 2 stranded, 5 and 6 flexible.

    Returns
    -------
    Bracket [ohm]
        From the least to the most stranding of its class.

    Raises
    ------
    Refused
        There is no such class of conductor.
    NotMeasurable
        A number is not finite or not above zero.

    Notes
    -----
    Cannot tell: the crimps at both ends, which are often more than the wire.

    References
    ----------
    iec_60228 : 17.241 ohm mm2 a km at 20 °C, stranding 1.02 to 1.04 and 1.05 to 1.08.

    Examples
    --------
    >>> found = wire_resistance(2.5, 4.0, stranding=2)
    >>> f"{1000 * found.low:.1f} to {1000 * found.high:.1f} mΩ"
    '28.1 to 28.7 mΩ'
    """
    if stranding not in STRANDING:
        raise Refused(f"Class of conductor is {stranding}.", "Classes: 1 solid, 2 stranded, 5 and 6 flexible.")
    area, length = above_zero("Area", area_mm2, "mm²"), not_below_zero("Length", length_m, "m")
    solid = RHO_20C_OHM_MM2_KM / 1000.0 * length / area * copper_factor(temperature_c)[0]
    low, high = STRANDING[stranding]
    return Bracket(solid * low, solid * 0.5 * (low + high), solid * high)


def largest_resistance(area_mm2: float, length_m: float, *, temperature_c: float = 20.0) -> float:
    """Most a new flexible copper conductor may have by the standard.

    Parameters
    ----------
    area_mm2 : float [mm2]
        One of the standard's areas: 0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35.
    length_m : float [m]
        Length.
    temperature_c : float [degC]
        Temperature of the wire.

    Returns
    -------
    ohms : float [ohm]

    Raises
    ------
    Refused
        The area is not in the table.
    NotMeasurable
        A number is not finite.

    Notes
    -----
    Cannot tell: what a car cable standard allows: it is a few percent lower (from memory).

    References
    ----------
    iec_60228 : class 5, plain copper, mΩ/m at 20 °C.

    Examples
    --------
    >>> round(1000 * largest_resistance(2.5, 4.0), 2)
    31.92
    """
    if area_mm2 not in MAX_CLASS_5_MOHM_M:
        areas = ", ".join(f"{area:g}" for area in MAX_CLASS_5_MOHM_M)
        raise Refused(f"Area {area_mm2:g} mm² is not in the table.", f"Areas: {areas}.")
    cold_ohm = MAX_CLASS_5_MOHM_M[area_mm2] / 1000.0 * not_below_zero("Length", length_m, "m")
    return cold_ohm * copper_factor(temperature_c)[0]


def at_20c(
    ohms: float,
    temperature_c: float,
    *,
    by_standard: bool = False,
    ohms_se: float | None = None,
    temperature_se_c: float = 5.0,
) -> tuple[float, float]:
    """Resistance of a copper conductor brought to 20 °C.

    Parameters
    ----------
    ohms : float [ohm]
        Reading.
    temperature_c : float [degC]
        Temperature of the conductor.
    by_standard : bool
        With the rounded factor of the standard, 250/(230 + t), instead of copper's own, 254.5/(234.5 + t).
    ohms_se, temperature_se_c : float [ohm], [K]
        One standard error of each; 1 % of a reading whose error is left out, 5 K is a guess by hand.

    Returns
    -------
    ohms, se : tuple of float [ohm], [ohm]

    Raises
    ------
    NotMeasurable
        The reading is below zero, or the temperature is outside -60 to 200 °C.

    Notes
    -----
    Cannot tell: the temperature of a wire that was loaded a moment ago.

    References
    ----------
    iec_60228 : factors to bring a reading to 20 °C.

    Examples
    --------
    >>> ohms, se = at_20c(1.0, 50.0)
    >>> f"{ohms:.4f} ± {se:.3f} Ω, by the standard {at_20c(1.0, 50.0, by_standard=True)[0]:.4f} Ω"
    '0.8946 ± 0.018 Ω, by the standard 0.8929 Ω'
    """
    degrees = between("Temperature", temperature_c, -60.0, 200.0, "°C")
    reading = not_below_zero("Resistance", ohms, "Ω")
    top, foot = (250.0, 230.0) if by_standard else (254.5, 234.5)
    return with_error(
        lambda ohm, celsius: ohm * top / (foot + celsius),
        (reading, degrees),
        (0.01 * reading if ohms_se is None else ohms_se, temperature_se_c),
    )


def current_for_drop(drop_v: float, area_mm2: float, length_m: float, *, temperature_c: float = 20.0) -> Bracket:
    """Current at which a wire alone loses a voltage.

    Parameters
    ----------
    drop_v : float [V]
        Voltage lost.
    area_mm2, length_m, temperature_c : float [mm2], [m], [degC]
        As in `wire_resistance`.

    Returns
    -------
    Bracket [A]
        Least for the most stranded conductor of the class.

    Raises
    ------
    NotMeasurable
        A number is not finite or not above zero.

    Notes
    -----
    Cannot tell: what the insulation stands; a lawful drop is no lawful current.

    References
    ----------
    ohms_law : V = I R with the flexible conductor of `wire_resistance`.

    Examples
    --------
    >>> found = current_for_drop(0.5, 2.5, 4.0)
    >>> f"{found.low:.1f} to {found.high:.1f} A"
    '16.8 to 17.3 A'
    """
    lost = above_zero("Voltage lost", drop_v, "V")
    wire = wire_resistance(area_mm2, above_zero("Length", length_m, "m"), temperature_c=temperature_c)
    return Bracket(lost / wire.high, lost / wire.value, lost / wire.low)
