"""Charging voltage against its window, and what the ripple of an alternator says about its diodes."""

from __future__ import annotations

import math
from dataclasses import dataclass

from knowngood.measure.carried import with_error
from knowngood.measure.given import above_zero, between, not_below_zero
from knowngood.measure.span import against_span
from knowngood.measure.table import between_rows

REGULATED_LOW_V = ((-20.0, 14.0), (20.0, 13.7), (60.0, 13.2), (80.0, 12.9))
REGULATED_HIGH_V = ((-20.0, 15.1), (20.0, 14.6), (60.0, 14.3), (80.0, 14.1))
"""Regulated voltage by temperature (common practice, one maker's table)."""
GENERAL_V = (13.5, 14.8)
"""Window of the trade when the temperature is not known (common practice; one maker ends at 14.5 V)."""
RIPPLE_SOUND_V, RIPPLE_BAD_V = 0.1, 0.5
"""Alternating voltage at the battery, engine running, loaded: usual under the first, bad diodes over the second
(from memory: compare with a healthy car, and look at the waveform before an alternator is bought)."""


@dataclass(frozen=True, slots=True)
class ChargingVerdict:
    """A charging voltage against its window: `word` is `inside`, `low`, `high` or `cannot tell`."""

    word: str
    low_v: float
    high_v: float


def charging_window(temperature_c: float | None = None) -> tuple[float, float]:
    """Window of the charging voltage.

    Parameters
    ----------
    temperature_c : float or None [degC]
        Of the regulator, -40 to 120; None when not known.

    Returns
    -------
    low_v, high_v : tuple of float [V], [V]

    Raises
    ------
    NotMeasurable
        The temperature is not finite or outside -40 to 120 °C.

    Notes
    -----
    Cannot tell: a car whose computer commands the alternator: it may rightly charge at 12.5 or at 15 V.

    References
    ----------
    common_practice : one maker's table by temperature; 13.5 to 14.8 V of the trade.

    Examples
    --------
    >>> charging_window(20.0)
    (13.7, 14.6)
    """
    if temperature_c is None:
        return GENERAL_V
    degrees = between("Temperature", temperature_c, -40.0, 120.0, "°C")
    return between_rows(degrees, REGULATED_LOW_V), between_rows(degrees, REGULATED_HIGH_V)


def charging_verdict(
    charging_v: float, *, temperature_c: float | None = None, voltage_se_v: float = 0.03, by_computer: bool = False
) -> ChargingVerdict:
    """A voltage at the battery, engine running, against the window.

    Parameters
    ----------
    charging_v, voltage_se_v : float [V]
        Reading and its standard error.
    temperature_c : float or None [degC]
        Of the regulator; None when not known.
    by_computer : bool
        The engine computer commands the alternator: outside the window then says nothing.

    Returns
    -------
    ChargingVerdict

    Raises
    ------
    NotMeasurable
        A number is not finite or outside its span.

    Notes
    -----
    Cannot tell: alternator from wiring: measure at its stud too. A flat battery holds the voltage down at first.

    References
    ----------
    common_practice : as in `charging_window`.

    Examples
    --------
    >>> charging_verdict(12.4).word
    'low'
    """
    volts = between("Charging voltage", charging_v, 0.0, 35.0, "V")
    margin = 2.0 * not_below_zero("Voltage error", voltage_se_v, "V")
    low, high = charging_window(temperature_c)
    where = against_span(volts, low, high, margin=margin)
    if by_computer and where in ("under", "over"):
        where = "cannot tell"
    return ChargingVerdict({"under": "low", "over": "high"}.get(where, where), low, high)


@dataclass(frozen=True, slots=True)
class Ripple:
    """Frequencies of an alternator's ripple: six a period when sound, one a period with a diode or phase gone."""

    sound_hz: float
    sound_se_hz: float
    fault_hz: float
    fault_se_hz: float


def ripple_frequencies(
    engine_rpm: float,
    *,
    pulley_ratio: float = 2.5,
    pole_pairs: int = 6,
    engine_se_rpm: float = 10.0,
    pulley_ratio_se: float = 0.1,
) -> Ripple:
    """Where the ripple of a three-phase alternator lies.

    Parameters
    ----------
    engine_rpm : float [1/min]
        Engine speed.
    pulley_ratio : float
        Turns of the alternator for one of the engine.
    pole_pairs : int
        Pairs of claws, most often 6.
    engine_se_rpm, pulley_ratio_se : float [1/min], ratio
        One standard error of each; 0.1 of a ratio is two pulleys measured by tape.

    Returns
    -------
    Ripple

    Raises
    ------
    NotMeasurable
        A number is not finite or not above zero.

    Notes
    -----
    Cannot tell: which diode. A slipping belt moves both frequencies down together.

    References
    ----------
    circuit_theory : full wave rectifier of three phases, six pulses a period.

    Examples
    --------
    >>> found = ripple_frequencies(800.0)
    >>> f"{found.sound_hz:.0f} ± {found.sound_se_hz:.0f} Hz, {found.fault_hz:.0f} ± {found.fault_se_hz:.0f} Hz"
    '1200 ± 50 Hz, 200 ± 8 Hz'
    """
    pairs = above_zero("Pole pairs", pole_pairs, "")
    speed, ratio = above_zero("Engine speed", engine_rpm, "1/min"), above_zero("Pulley ratio", pulley_ratio, "")
    period_hz, se = with_error(
        lambda rpm, turns: rpm / 60.0 * turns * pairs, (speed, ratio), (engine_se_rpm, pulley_ratio_se)
    )
    return Ripple(6.0 * period_hz, 6.0 * se, period_hz, se)


def unsmoothed_ripple() -> tuple[float, float]:
    """Ripple of a sound three-phase rectifier without a battery: the most that healthy diodes can leave.

    Returns
    -------
    rms_share, peak_to_peak_share : tuple of float
        Alternating part by the steady part, and from lowest to highest by the highest.

    Notes
    -----
    Cannot tell: what the battery leaves of it, which is far less; a reading near this says the battery is not
    connected.

    References
    ----------
    circuit_theory : mean of cos over -30 to 30 degrees is 3/pi, its mean square 1/2 + 3 sqrt(3)/(4 pi).

    Examples
    --------
    >>> rms, peak_to_peak = unsmoothed_ripple()
    >>> f"{100 * rms:.1f} %, {100 * peak_to_peak:.1f} %"
    '4.2 %, 13.4 %'
    """
    mean = 3.0 / math.pi
    square = 0.5 + 3.0 * math.sqrt(3.0) / (4.0 * math.pi)
    return math.sqrt(square - mean**2) / mean, 1.0 - math.cos(math.pi / 6.0)


def ripple_word(ripple_v: float, *, ripple_se_v: float = 0.02) -> str:
    """The alternating voltage at the battery, engine running with lights and blower on, by a meter on AC.

    Parameters
    ----------
    ripple_v, ripple_se_v : float [V]
        Reading and its standard error.

    Returns
    -------
    word : str
        `usual`, `suspect` between the two limits, `diodes` over the upper one, `cannot tell` near a limit.

    Raises
    ------
    NotMeasurable
        A number is not finite or below zero.

    Notes
    -----
    Cannot tell: diodes from a loose battery clamp or a worn battery, which let the same ripple through; many meters
    do not read 1 kHz rightly. Both limits are from memory.

    References
    ----------
    common_practice : ripple by meter; the limits are from memory.

    Examples
    --------
    >>> ripple_word(0.9)
    'diodes'
    """
    ripple = not_below_zero("Ripple", ripple_v, "V")
    margin = 2.0 * not_below_zero("Ripple error", ripple_se_v, "V")
    where = against_span(ripple, RIPPLE_SOUND_V, RIPPLE_BAD_V, margin=margin)
    return {"under": "usual", "inside": "suspect", "over": "diodes"}.get(where, where)
