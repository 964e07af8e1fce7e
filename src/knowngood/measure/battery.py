"""State of charge of a flooded 12 V battery: from its voltage at rest as a band, from its acid as a figure."""

from __future__ import annotations

from dataclasses import dataclass

from knowngood.errors import NotMeasurable
from knowngood.measure.carried import with_error
from knowngood.measure.given import between, not_below_zero
from knowngood.measure.table import between_rows

REFERENCE_C = (80.0 - 32.0) / 1.8
"""80 °F, where the tables and the hydrometer are at home."""
VOLTS_PERCENT = ((11.89, 0.0), (12.06, 25.0), (12.24, 50.0), (12.45, 75.0), (12.65, 100.0))
"""Rested flooded battery at 26.7 °C (common practice)."""
ROUGH_VOLTS_PERCENT = ((11.6, 0.0), (12.0, 25.0), (12.2, 50.0), (12.4, 75.0), (12.6, 100.0))
"""A rougher table of the trade; both are used, their difference is part of the band."""
GRAVITY_PERCENT = ((1.120, 0.0), (1.155, 25.0), (1.190, 50.0), (1.225, 75.0), (1.265, 100.0))
ACID_FREEZES_C = ((0.0, -23.0), (25.0, -27.0), (50.0, -37.0), (75.0, -48.0), (100.0, -59.0))
"""Specific gravity and freezing point of the acid by state of charge in percent (common practice)."""
GRAVITY_PER_KELVIN = 0.004 * 9.0 / (10.0 * 5.0)
"""Hydrometer correction, 0.004 for every 10 °F from 80 °F."""
METER_CORRECTION_V_K = 6.0 * GRAVITY_PER_KELVIN
"""The voltage correction some texts print: six times the hydrometer's, about 4.3 mV a kelvin."""
CELLS_CORRECTION_V_K = 6.0 * 0.0002
"""What electrochemistry gives for six cells, the other way round (from memory)."""
SURFACE_V = ((1.0, 0.20), (6.0, 0.10), (8.0, 0.03), (24.0, 0.0))
"""How much too high a battery may still read, by hours of rest: surface charge lasts six hours and more, eight are
asked for, 24 are better (common practice); the volts are from memory."""


@dataclass(frozen=True, slots=True)
class ChargeBand:
    """State of charge in percent as a band, and the temperature at which the acid freezes at its low end."""

    low_percent: float
    percent: float
    high_percent: float
    freezes_c: float


def charge_by_voltage(
    rest_v: float, rest_h: float, *, temperature_c: float = REFERENCE_C, voltage_se_v: float = 0.02
) -> ChargeBand:
    """State of charge from the voltage of a battery that has rested.

    The temperature is not corrected for: the printed correction and electrochemistry disagree in size and sign, so
    both only widen the band. So do two published tables, the rest and the meter.

    Parameters
    ----------
    rest_v, voltage_se_v : float [V]
        At the posts, nothing connected or everything asleep, and its standard error.
    rest_h : float [h]
        Since it was last charged or driven.
    temperature_c : float [degC]
        Of the battery.

    Returns
    -------
    ChargeBand

    Raises
    ------
    NotMeasurable
        Less than 1 h of rest, a voltage outside 6 to 15 V, or a number that is not finite.

    Notes
    -----
    Cannot tell: how much the battery holds when full. A worn battery reads full; only a load shows it. Sealed,
    gelled and glass mat batteries read a little higher (from memory).

    References
    ----------
    common_practice : voltage tables of a rested flooded battery at 26.7 °C (80 °F); 8 h of rest, better 24 h.

    Examples
    --------
    >>> band = charge_by_voltage(12.24, 24.0)
    >>> f"{band.percent:.0f} % ({band.low_percent:.0f} to {band.high_percent:.0f})"
    '50 % (44 to 60)'
    """
    volts = between("Battery voltage", rest_v, 6.0, 15.0, "V")
    hours = not_below_zero("Rest", rest_h, "h")
    off_k = REFERENCE_C - between("Temperature", temperature_c, -40.0, 60.0, "°C")
    if hours < 1.0:
        raise NotMeasurable(
            f"The battery rested {hours:g} h: its surface charge hides its state.", "Let it rest 8 h, better 24 h."
        )
    margin = 2.0 * not_below_zero("Voltage error", voltage_se_v, "V")
    # in the cold the printed correction takes off, as with a hydrometer; but cold cells give less, so that at the
    # reference they would show more
    shifts = (-METER_CORRECTION_V_K * off_k, CELLS_CORRECTION_V_K * off_k, 0.0)
    lowest = volts + min(shifts) - margin - between_rows(hours, SURFACE_V)
    highest = volts + max(shifts) + margin
    low = min(between_rows(lowest, rows) for rows in (VOLTS_PERCENT, ROUGH_VOLTS_PERCENT))
    high = max(between_rows(highest, rows) for rows in (VOLTS_PERCENT, ROUGH_VOLTS_PERCENT))
    return ChargeBand(low, between_rows(volts, VOLTS_PERCENT), high, between_rows(low, ACID_FREEZES_C))


def gravity_at_reference(
    gravity: float, temperature_c: float, *, gravity_se: float = 0.005, temperature_se_c: float = 3.0
) -> tuple[float, float]:
    """A hydrometer reading brought to 26.7 °C (80 °F).

    Parameters
    ----------
    gravity : float
        Reading, 1.0 to 1.4.
    temperature_c : float [degC]
        Of the acid, -40 to 60.
    gravity_se, temperature_se_c : float, [K]
        One standard error of each: half a mark of the float, a thermometer dipped once.

    Returns
    -------
    gravity, se : tuple of float

    Raises
    ------
    NotMeasurable
        A number is not finite or outside its span.

    Notes
    -----
    Cannot tell: a hydrometer that corrects by itself; do not correct twice.

    References
    ----------
    common_practice : 0.004 for every 10 °F: take off below 80 °F, add above.

    Examples
    --------
    >>> gravity, se = gravity_at_reference(1.250, 4.444)
    >>> f"{gravity:.3f} ± {se:.3f}"
    '1.234 ± 0.005'
    """
    reading = between("Specific gravity", gravity, 1.0, 1.4, "")
    degrees = between("Temperature", temperature_c, -40.0, 60.0, "°C")
    return with_error(
        lambda shown, celsius: shown + GRAVITY_PER_KELVIN * (celsius - REFERENCE_C),
        (reading, degrees),
        (gravity_se, temperature_se_c),
    )


def charge_by_gravity(
    gravity: float, *, temperature_c: float = REFERENCE_C, gravity_se: float = 0.005, temperature_se_c: float = 3.0
) -> ChargeBand:
    """State of charge from the acid of a cell.

    Parameters
    ----------
    gravity, gravity_se : float
        Hydrometer reading, and its standard error.
    temperature_c, temperature_se_c : float [degC], [K]
        Of the acid, and its standard error.

    Returns
    -------
    ChargeBand

    Raises
    ------
    NotMeasurable
        A number is not finite or outside its span.

    Notes
    -----
    Cannot tell: anything just after water was added. Measure every cell: one cell 0.05 below the others is a bad
    cell (from memory).

    References
    ----------
    common_practice : gravity and freezing point by state of charge at 26.7 °C.

    Examples
    --------
    >>> band = charge_by_gravity(1.190)
    >>> f"{band.percent:.0f} % ({band.low_percent:.0f} to {band.high_percent:.0f}), freezes {band.freezes_c:.0f} °C"
    '50 % (42 to 58), freezes -34 °C'
    """
    error = not_below_zero("Gravity error", gravity_se, "")
    middle, se = gravity_at_reference(gravity, temperature_c, gravity_se=error, temperature_se_c=temperature_se_c)
    margin = 2.0 * se
    low, value, high = (between_rows(at, GRAVITY_PERCENT) for at in (middle - margin, middle, middle + margin))
    return ChargeBand(low, value, high, between_rows(low, ACID_FREEZES_C))
