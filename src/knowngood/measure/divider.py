"""A sensor fed through a pull-up resistor: signal voltage to resistance and back."""

from __future__ import annotations

import math

from knowngood.errors import NotMeasurable
from knowngood.measure.carried import with_error
from knowngood.measure.given import above_zero, finite, not_below_zero


def divider_voltage(
    sensor_ohm: float,
    pull_up_ohm: float,
    *,
    supply_v: float = 5.0,
    sensor_se_ohm: float | None = None,
    pull_up_se_ohm: float | None = None,
    supply_se_v: float = 0.02,
) -> tuple[float, float]:
    """Signal of a sensor to ground behind a pull-up.

    Parameters
    ----------
    sensor_ohm, pull_up_ohm : float [ohm]
        Sensor and pull-up.
    supply_v : float [V]
        What the pull-up is fed with.
    sensor_se_ohm, pull_up_se_ohm, supply_se_v : float [ohm], [ohm], [V]
        One standard error of each; 1 % of a resistance that is left out.

    Returns
    -------
    signal_v, se : tuple of float [V], [V]

    Raises
    ------
    NotMeasurable
        A number is not finite, or the pull-up or supply is not above zero.

    Notes
    -----
    Cannot tell: a bad ground, which lifts the signal like a higher resistance.

    References
    ----------
    circuit_theory : two resistors in a row.

    Examples
    --------
    >>> signal_v, se = divider_voltage(2500.0, 1000.0)
    >>> f"{signal_v:.2f} ± {se:.2f} V"
    '3.57 ± 0.02 V'
    """
    sensor, pull_up = not_below_zero("Sensor", sensor_ohm, "Ω"), above_zero("Pull-up", pull_up_ohm, "Ω")
    sensor_se = 0.01 * sensor if sensor_se_ohm is None else sensor_se_ohm
    pull_up_se = 0.01 * pull_up if pull_up_se_ohm is None else pull_up_se_ohm
    return with_error(
        lambda r, up, v0: v0 * r / (r + up),
        (sensor, pull_up, above_zero("Supply", supply_v, "V")),
        (sensor_se, pull_up_se, supply_se_v),
    )


def divider_resistance(
    signal_v: float,
    pull_up_ohm: float,
    *,
    supply_v: float = 5.0,
    signal_se_v: float = 0.01,
    supply_se_v: float = 0.02,
    pull_up_se_ohm: float | None = None,
) -> tuple[float, float]:
    """Resistance of a sensor from its signal.

    Parameters
    ----------
    signal_v, signal_se_v : float [V]
        Voltage at the sensor, and its standard error.
    pull_up_ohm, pull_up_se_ohm : float [ohm]
        Pull-up, and its standard error; 1 % when left out.
    supply_v, supply_se_v : float [V]
        Supply, and its standard error.

    Returns
    -------
    sensor_ohm, se : tuple of float [ohm], [ohm]

    Raises
    ------
    NotMeasurable
        The signal is within three standard errors of ground or of the supply: the sensor is shorted or open, or the
        wire is; or a number is not finite.

    Notes
    -----
    Cannot tell: sensor from wiring. Read the resistance at the sensor too.

    References
    ----------
    circuit_theory : two resistors in a row, solved for the lower one.

    Examples
    --------
    >>> ohms, se = divider_resistance(1.24, 1000.0)
    >>> f"{ohms:.0f} ± {se:.0f} Ω"
    '330 ± 5 Ω'
    """
    supply, pull_up = above_zero("Supply", supply_v, "V"), above_zero("Pull-up", pull_up_ohm, "Ω")
    signal = finite("Signal", signal_v, "V")
    signal_se = not_below_zero("Signal error", signal_se_v, "V")
    supply_se = not_below_zero("Supply error", supply_se_v, "V")
    pull_up_se = 0.01 * pull_up if pull_up_se_ohm is None else not_below_zero("Pull-up error", pull_up_se_ohm, "Ω")
    if signal <= 3.0 * signal_se:
        raise NotMeasurable(f"The signal is {signal:g} V: at ground.", "Shorted sensor or wire. Unplug and read again.")
    if signal >= supply - 3.0 * math.hypot(signal_se, supply_se):
        raise NotMeasurable(
            f"The signal is {signal:g} V of {supply:g} V: at the supply.",
            "Open sensor, wire or ground. Bridge the plug and read again.",
        )
    return with_error(lambda v, r, v0: r * v / (v0 - v), (signal, pull_up, supply), (signal_se, pull_up_se, supply_se))
