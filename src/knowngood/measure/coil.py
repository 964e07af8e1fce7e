"""Ignition coil: its windings by ohmmeter, and the current and energy it stores while it charges."""

from __future__ import annotations

import math

from knowngood.errors import NotMeasurable
from knowngood.measure.bracket import Bracket
from knowngood.measure.carried import with_error
from knowngood.measure.given import above_zero, finite, not_below_zero
from knowngood.measure.span import against_span
from knowngood.measure.wire import at_20c

REACHABLE_SHARE = 0.98
"""A charging current comes this near to volts over ohms in about four time constants; nearer is not waited for."""


def winding_at_20c(
    ohms: float, temperature_c: float, *, ohms_se: float = 0.05, temperature_se_c: float = 5.0
) -> tuple[float, float]:
    """Resistance a copper winding would have at 20 °C, where specifications are given.

    Parameters
    ----------
    ohms, ohms_se : float [ohm]
        Reading, leads taken off, and its standard error.
    temperature_c, temperature_se_c : float [degC]
        Temperature of the winding, and how far that may be off.

    Returns
    -------
    ohms, se : tuple of float [ohm], [ohm]

    Raises
    ------
    NotMeasurable
        The reading is not above zero, or the temperature is outside -60 to 200 °C.

    Notes
    -----
    Cannot tell: turns shorted to each other, which change a primary by less than the meter shows; use the current ramp.

    References
    ----------
    iec_60228 : IEC 60228, 254.5 / (234.5 + t) for copper, the 0.00393 a kelvin of IEC 60028 (from memory).

    Examples
    --------
    >>> ohms, se = winding_at_20c(0.62, 80.0)
    >>> f"{ohms:.2f} ± {se:.2f} Ω"
    '0.50 ± 0.04 Ω'
    """
    above_zero("Resistance of the winding", ohms, "Ω")
    return at_20c(ohms, temperature_c, ohms_se=ohms_se, temperature_se_c=temperature_se_c)


def winding_word(ohms: float, low_ohm: float, high_ohm: float, *, ohms_se: float = 0.05) -> str:
    """A winding against the span of its specification.

    Parameters
    ----------
    ohms, ohms_se : float [ohm]
        Reading, leads taken off, and its standard error; inf for no continuity.
    low_ohm, high_ohm : float [ohm]
        Span of the specification.

    Returns
    -------
    word : str
        `inside`, `under`, `over`, `open`, or `cannot tell` within two standard errors of an end.

    Raises
    ------
    NotMeasurable
        A number is nan or negative, an end of the span is not finite, or the span is the wrong way round.

    Notes
    -----
    Cannot tell: a coil that breaks down hot or under load. A winding inside its span clears little.

    References
    ----------
    specification : the maker's span for the coil in hand.

    Examples
    --------
    >>> winding_word(0.35, 0.5, 0.7, ohms_se=0.03)
    'under'
    """
    if ohms == math.inf:
        return "open"
    value, error = not_below_zero("Resistance of the winding", ohms, "Ω"), not_below_zero("Error", ohms_se, "Ω")
    if not_below_zero("Lower end of the span", low_ohm, "Ω") > finite("Upper end of the span", high_ohm, "Ω"):
        raise NotMeasurable(f"The span is {low_ohm:g} to {high_ohm:g} Ω.", "Give the smaller end first.")
    return against_span(value, low_ohm, high_ohm, margin=2.0 * error)


def charging_current(
    battery_v: float,
    primary_ohm: float,
    inductance_mh: float,
    time_ms: float,
    *,
    battery_se_v: float = 0.05,
    primary_se_ohm: float = 0.03,
    inductance_se_mh: float = 0.1,
) -> tuple[float, float]:
    """Current in the primary a time after it was switched on.

    Parameters
    ----------
    battery_v, battery_se_v : float [V]
        Voltage at the coil, and its standard error.
    primary_ohm, primary_se_ohm : float [ohm]
        Resistance of the circuit: winding, wiring and driver.
    inductance_mh, inductance_se_mh : float [mH]
        Inductance of the primary.
    time_ms : float [ms]
        Time since switched on.

    Returns
    -------
    current_a, se : tuple of float [A], [A]

    Raises
    ------
    NotMeasurable
        A number is not finite or below zero, or voltage, resistance or inductance is not above zero.

    Notes
    -----
    Cannot tell: saturated iron, which turns the curve upward, nor a driver that limits the current.

    References
    ----------
    circuit_theory : current into a coil with resistance, V/R (1 - exp(-R t / L)).

    Examples
    --------
    >>> current_a, se = charging_current(14.0, 0.5, 3.5, 2.0)
    >>> f"{current_a:.2f} ± {se:.2f} A"
    '6.96 ± 0.18 A'
    """
    circuit = _circuit(battery_v, primary_ohm, inductance_mh)
    time = not_below_zero("Time", time_ms, "ms")
    errors = _errors(battery_se_v, primary_se_ohm, inductance_se_mh)
    return with_error(lambda v, r, mh: _current(v, r, mh, time), circuit, errors)


def time_to_current(
    battery_v: float,
    primary_ohm: float,
    inductance_mh: float,
    current_a: float,
    *,
    battery_se_v: float = 0.05,
    primary_se_ohm: float = 0.03,
    inductance_se_mh: float = 0.1,
) -> tuple[float, float]:
    """Time the primary needs to reach a current.

    Parameters
    ----------
    battery_v, primary_ohm, inductance_mh, battery_se_v, primary_se_ohm, inductance_se_mh
        As in `charging_current`.
    current_a : float [A]
        Current wanted.

    Returns
    -------
    time_ms, se : tuple of float [ms], [ms]

    Raises
    ------
    NotMeasurable
        The current is 98 % or more of volts over ohms, give or take their errors: it is never quite reached; or a
        number is not finite or not above zero.

    Notes
    -----
    Cannot tell: whether the engine leaves that much time at high speed.

    References
    ----------
    circuit_theory : -L/R ln(1 - i R / V).

    Examples
    --------
    >>> time_ms, se = time_to_current(9.0, 0.5, 3.5, 7.0)
    >>> f"{time_ms:.2f} ± {se:.2f} ms"
    '3.45 ± 0.12 ms'
    """
    circuit = _circuit(battery_v, primary_ohm, inductance_mh)
    errors = _errors(battery_se_v, primary_se_ohm, inductance_se_mh)
    wanted = above_zero("Current", current_a, "A")
    volts, ohm, _ = circuit
    surely_a = REACHABLE_SHARE * (volts - errors[0]) / (ohm + errors[1])
    if wanted >= surely_a:
        raise NotMeasurable(
            f"{wanted:g} A at {volts:g} V and {ohm:g} Ω: no more than {volts / ohm:.2f} A ever flows.",
            "Check the voltage at the coil and the resistance of its circuit.",
        )
    return with_error(lambda v, r, mh: -mh / r * math.log1p(-wanted * r / v), circuit, errors)


def stored_energy(current_a: float, inductance_mh: float, *, current_se_a: float = 0.2) -> tuple[float, float]:
    """Energy in the coil at a current.

    Parameters
    ----------
    current_a, current_se_a : float [A]
        Current, and its standard error.
    inductance_mh : float [mH]
        Inductance of the primary.

    Returns
    -------
    energy_mj, se : tuple of float [mJ], [mJ]

    Raises
    ------
    NotMeasurable
        A number is not finite or below zero.

    Notes
    -----
    Cannot tell: what reaches the plug: roughly half is lost on the way.

    References
    ----------
    circuit_theory : half L i squared.

    Examples
    --------
    >>> energy_mj, se = stored_energy(6.959, 3.5)
    >>> f"{energy_mj:.1f} ± {se:.1f} mJ"
    '84.7 ± 4.9 mJ'
    """
    current, mh = not_below_zero("Current", current_a, "A"), above_zero("Inductance", inductance_mh, "mH")
    return with_error(lambda i: 0.5 * mh * i * i, (current,), (not_below_zero("Current error", current_se_a, "A"),))


def energy_share(
    battery_v: float, *, usual_v: float = 14.0, battery_se_v: float = 0.05, usual_se_v: float = 0.05
) -> tuple[float, float]:
    """Share of its usual energy a coil stores at a low voltage when it is charged for the same time.

    At any moment the current goes with the voltage, whatever resistance and inductance are; the energy goes with
    its square.

    Parameters
    ----------
    battery_v, battery_se_v : float [V]
        Voltage at the coil while cranking, and its standard error.
    usual_v, usual_se_v : float [V]
        Voltage at the coil with the engine running, and its standard error.

    Returns
    -------
    share, se : tuple of float

    Raises
    ------
    NotMeasurable
        A number is not finite, or a voltage is not above zero.

    Notes
    -----
    Cannot tell: an ignition module that charges longer when the voltage is low, as most do; a coil whose current is
    limited by its driver.

    References
    ----------
    circuit_theory : the current into a coil with resistance is proportional to the voltage at every moment.

    Examples
    --------
    >>> share, se = energy_share(9.0)
    >>> f"{share:.2f} ± {se:.3f}"
    '0.41 ± 0.005'
    """
    volts = (above_zero("Battery voltage", battery_v, "V"), above_zero("Usual voltage", usual_v, "V"))
    errors = (not_below_zero("Voltage error", battery_se_v, "V"), not_below_zero("Voltage error", usual_se_v, "V"))
    return with_error(lambda low, usual: (low / usual) ** 2, volts, errors)


def secondary_kv(
    primary_v: float, *, turns_low: float = 50.0, turns: float = 100.0, turns_high: float = 200.0
) -> Bracket:
    """Secondary voltage that a peak on the primary stands for, by the ratio of turns.

    Parameters
    ----------
    primary_v : float [V]
        Peak at the switched end of the primary.
    turns_low, turns, turns_high : float
        Least, usual and greatest ratio of turns.

    Returns
    -------
    Bracket [kV]

    Raises
    ------
    NotMeasurable
        The voltage is not above zero, or the ratios are not finite or not in order.

    Notes
    -----
    Cannot tell: the voltage at the plug better than the ratio is known; a clamped peak only says "at least".

    References
    ----------
    common_practice : 50 to 200 to 1, about 100 to 1 usual.

    Examples
    --------
    >>> secondary_kv(400.0)
    Bracket(low=20.0, value=40.0, high=80.0)
    """
    volts = above_zero("Primary peak", primary_v, "V")
    if not 0.0 < turns_low <= turns <= finite("Greatest ratio of turns", turns_high, ""):
        raise NotMeasurable(f"Turns {turns_low:g}, {turns:g}, {turns_high:g}.", "Give them from least to greatest.")
    return Bracket(volts * turns_low / 1000.0, volts * turns / 1000.0, volts * turns_high / 1000.0)


def _current(volts: float, ohm: float, mh: float, time_ms: float) -> float:
    return -volts / ohm * math.expm1(-ohm / mh * time_ms)  # ohm over mH is 1/ms


def _circuit(battery_v: float, primary_ohm: float, inductance_mh: float) -> tuple[float, float, float]:
    return (
        above_zero("Battery voltage", battery_v, "V"),
        above_zero("Primary resistance", primary_ohm, "Ω"),
        above_zero("Inductance", inductance_mh, "mH"),
    )


def _errors(battery_se_v: float, primary_se_ohm: float, inductance_se_mh: float) -> tuple[float, float, float]:
    return (
        not_below_zero("Voltage error", battery_se_v, "V"),
        not_below_zero("Resistance error", primary_se_ohm, "Ω"),
        not_below_zero("Inductance error", inductance_se_mh, "mH"),
    )
