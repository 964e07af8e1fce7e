"""A widespread coolant sensor, 2.5 kΩ at 20 °C: what it should read, and what a reading says."""

from __future__ import annotations

import math
from dataclasses import dataclass

from knowngood.measure.given import between, not_below_zero
from knowngood.measure.table import between_rows
from knowngood.measure.thermistor import Curve, fit_curve, resistance_of, temperature_of

COOLANT_2K5: tuple[tuple[float, float], ...] = (
    (-40.0, 48805.0), (-30.0, 27414.0), (-20.0, 15971.0), (-10.0, 9620.0), (0.0, 5975.0), (10.0, 3816.0),
    (20.0, 2502.0), (25.0, 2044.0), (30.0, 1679.0), (40.0, 1152.0), (50.0, 806.9), (60.0, 575.8), (70.0, 418.1),
    (80.0, 308.6), (90.0, 231.2), (100.0, 175.7), (110.0, 135.2), (120.0, 105.4), (130.0, 83.1), (140.0, 66.2),
)  # fmt: skip
"""A widespread coolant sensor, degC and ohm (common practice, one maker's table). Others differ: ask the maker."""
RANGES_2K5: tuple[tuple[float, float, float], ...] = (
    (-10.0, 7000.0, 11400.0),
    (20.0, 2370.0, 2630.0),
    (50.0, 680.0, 1000.0),
    (90.0, 236.0, 260.0),
)
"""Spans in which such a sensor is accepted, degC, ohm, ohm (common practice, one maker's table)."""
NOMINAL_SHARE = 0.03
"""Both tables are accepted: at 90 °C the first one's nominal lies 2 % under the second one's span (ours)."""
FITTED_AT_C = (-20.0, 25.0, 100.0)
OPEN_OHM, SHORT_OHM = 200000.0, 20.0
"""Over the first and under the second no such sensor reads (ours: colder than -60, hotter than 200 °C)."""


@dataclass(frozen=True, slots=True)
class SensorVerdict:
    """A reading against the sensor's accepted span.

    `word` is `inside`, `high` (reads colder than it is), `low` (reads warmer), `open` or `shorted`; `off_k` is how
    far its temperature is off with its standard error, nan where none can be given.
    """

    word: str
    off_k: float
    off_se_k: float
    low_ohm: float
    high_ohm: float


def coolant_curve() -> Curve:
    """The curve of this sensor through three rows of its table.

    Returns
    -------
    Curve

    Notes
    -----
    Cannot tell: whether the car in hand has this sensor; several makers use another.

    References
    ----------
    common_practice : one maker's table of nominal resistances.

    Examples
    --------
    >>> round(resistance_of(coolant_curve(), 90.0)[0])
    231
    """
    return fit_curve([row for row in COOLANT_2K5 if row[0] in FITTED_AT_C])


def coolant_range(temperature_c: float) -> tuple[float, float]:
    """Span in which this sensor is accepted at a temperature.

    Between the rows of the table the span is that share of the nominal resistance which lies between the shares of
    the rows. It never excludes the nominal resistance of the other table, give or take 3 %.

    Parameters
    ----------
    temperature_c : float [degC]
        -40 to 140.

    Returns
    -------
    low_ohm, high_ohm : tuple of float [ohm], [ohm]

    Raises
    ------
    NotMeasurable
        The temperature is not finite or outside -40 to 140 °C.

    Notes
    -----
    Cannot tell: other makers' spans, which are tighter at some temperatures.

    References
    ----------
    common_practice : one maker's spans at -10, 20, 50 and 90 °C.

    Examples
    --------
    >>> [round(ohm) for ohm in coolant_range(20.0)]
    [2370, 2630]
    """
    degrees = between("Temperature", temperature_c, -40.0, 140.0, "°C")
    curve = coolant_curve()
    shares = [(t, low / resistance_of(curve, t)[0], high / resistance_of(curve, t)[0]) for t, low, high in RANGES_2K5]
    nominal, _ = resistance_of(curve, degrees)
    low_share = between_rows(degrees, [(t, low) for t, low, _ in shares])
    high_share = between_rows(degrees, [(t, high) for t, _, high in shares])
    return nominal * min(low_share, 1.0 - NOMINAL_SHARE), nominal * max(high_share, 1.0 + NOMINAL_SHARE)


def coolant_verdict(
    ohms: float, temperature_c: float, *, ohms_se: float | None = None, temperature_se_c: float = 2.0
) -> SensorVerdict:
    """A reading of this sensor at a known temperature.

    Parameters
    ----------
    ohms, ohms_se : float [ohm]
        Reading at the sensor, plug off, inf for no continuity; and its standard error, 1 % when left out.
    temperature_c, temperature_se_c : float [degC]
        Of the sensor by another thermometer, -40 to 140, and its standard error: it widens the span by two of them.

    Returns
    -------
    SensorVerdict

    Raises
    ------
    NotMeasurable
        The reading is nan or below zero, or the temperature is outside -40 to 140 °C.

    Notes
    -----
    Cannot tell: a sensor that is right here and wrong elsewhere: measure cold and hot.

    References
    ----------
    common_practice : as in `coolant_range`.

    Examples
    --------
    >>> coolant_verdict(9600.0, 20.0).word
    'high'
    """
    between("Temperature", temperature_c, -40.0, 140.0, "°C")
    margin = 2.0 * not_below_zero("Temperature error", temperature_se_c, "K")
    low, _ = coolant_range(min(temperature_c + margin, 140.0))
    _, high = coolant_range(max(temperature_c - margin, -40.0))
    if ohms > OPEN_OHM:
        return SensorVerdict("open", math.nan, math.nan, low, high)
    if not_below_zero("Resistance of the sensor", ohms, "Ω") < SHORT_OHM:
        return SensorVerdict("shorted", math.nan, math.nan, low, high)
    shown, shown_se = temperature_of(coolant_curve(), ohms, ohms_se=ohms_se)
    word = "high" if ohms > high else "low" if ohms < low else "inside"
    return SensorVerdict(word, shown - temperature_c, math.hypot(shown_se, temperature_se_c), low, high)
