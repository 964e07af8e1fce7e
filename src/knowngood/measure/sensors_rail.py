"""Sensors whose signal is a share of their supply: pressure sensors, throttle and pedal sensors."""

from __future__ import annotations

from dataclasses import dataclass

from knowngood.errors import NotMeasurable
from knowngood.measure.carried import with_error
from knowngood.measure.given import above_zero, finite, not_below_zero, resolved

WORKING_SHARE = (0.10, 0.90)
"""Where such a sensor works: 0.5 to 4.5 V of 5 V (from memory)."""
FAULT_SHARE = (0.05, 0.95)
"""Beyond these it is open or shorted: under 0.25 or over 4.75 V of 5 V (from memory)."""


@dataclass(frozen=True, slots=True)
class RailVerdict:
    """A signal as a share of its supply: `word` is `working`, `near a rail`, `at ground` or `at supply`."""

    share: float
    se: float
    word: str


def rail_verdict(
    signal_v: float, supply_v: float = 5.0, *, signal_se_v: float = 0.01, supply_se_v: float = 0.01
) -> RailVerdict:
    """Where a signal lies between ground and supply.

    Parameters
    ----------
    signal_v, signal_se_v : float [V]
        Signal, and its standard error.
    supply_v, supply_se_v : float [V]
        Supply at the same moment, measured at the plug.

    Returns
    -------
    RailVerdict

    Raises
    ------
    NotMeasurable
        The supply is less than three standard errors, or a number is not finite.

    Notes
    -----
    Cannot tell: sensor from wiring; a sensor that works in its span and yet reads wrong. The ends are from memory.

    References
    ----------
    common_practice : 0.5 to 4.5 V of 5 V (from memory).

    Examples
    --------
    >>> rail_verdict(4.9).word
    'at supply'
    """
    supply = resolved("Supply", supply_v, supply_se_v, "V")
    errors = (not_below_zero("Signal error", signal_se_v, "V"), supply_se_v)
    share, se = with_error(lambda signal, full: signal / full, (finite("Signal", signal_v, "V"), supply), errors)
    if share < FAULT_SHARE[0]:
        word = "at ground"
    elif share > FAULT_SHARE[1]:
        word = "at supply"
    else:
        word = "working" if WORKING_SHARE[0] <= share <= WORKING_SHARE[1] else "near a rail"
    return RailVerdict(share, se, word)


@dataclass(frozen=True, slots=True)
class Line:
    """A straight sensor: value = slope * signal + offset at the supply it was taken at."""

    slope: float
    offset: float
    supply_v: float


def line_through(first: tuple[float, float], second: tuple[float, float], *, supply_v: float = 5.0) -> Line:
    """The line of a straight sensor from two points.

    Parameters
    ----------
    first, second : (float [V], float)
        Signal and value, such as kPa, at two places well apart.
    supply_v : float [V]
        Supply at which both were taken.

    Returns
    -------
    Line

    Raises
    ------
    NotMeasurable
        Both signals are alike, or a number is not finite.

    Notes
    -----
    Cannot tell: whether the sensor is straight in between; check a third point.

    References
    ----------
    geometry : a line through two points.

    Examples
    --------
    >>> line = line_through((0.79, 20.0), (4.0, 101.32))
    >>> f"{1 / line.slope:.5f} V/kPa"
    '0.03947 V/kPa'
    """
    for value in (*first, *second):
        finite("Point", value, "")
    if first[0] == second[0]:
        raise NotMeasurable(f"Both points are at {first[0]:g} V.", "Give two signals well apart.")
    slope = (second[1] - first[1]) / (second[0] - first[0])
    return Line(slope, first[1] - slope * first[0], above_zero("Supply", supply_v, "V"))


def line_value(
    line: Line, signal_v: float, *, supply_v: float = 5.0, signal_se_v: float = 0.01, supply_se_v: float = 0.01
) -> tuple[float, float]:
    """What a straight sensor says, with the supply it has now.

    Parameters
    ----------
    line : Line
        Of the sensor.
    signal_v, signal_se_v : float [V]
        Signal, and its standard error.
    supply_v, supply_se_v : float [V]
        Supply now, and its standard error.

    Returns
    -------
    value, se : tuple of float
        In the unit of the line.

    Raises
    ------
    NotMeasurable
        The signal is at a rail, the supply is less than three standard errors, or a number is not finite.

    Notes
    -----
    Cannot tell: a sensor that reads wrong. With key on and engine off a manifold sensor reads the air around.

    References
    ----------
    circuit_theory : a signal in proportion to its supply.

    Examples
    --------
    >>> value, se = line_value(line_through((0.79, 20.0), (4.0, 101.32)), 1.84)
    >>> f"{value:.1f} ± {se:.1f} kPa"
    '46.6 ± 0.3 kPa'
    """
    verdict = rail_verdict(signal_v, supply_v, signal_se_v=signal_se_v, supply_se_v=supply_se_v)
    if verdict.word in ("at ground", "at supply"):
        raise NotMeasurable(
            f"The signal is {signal_v:g} V of {supply_v:g} V: {verdict.word}, no value.",
            "Decide open or short first: unplug, then bridge.",
        )
    return with_error(
        lambda signal, supply: line.slope * signal * line.supply_v / supply + line.offset,
        (signal_v, supply_v),
        (signal_se_v, supply_se_v),
    )
