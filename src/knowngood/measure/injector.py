"""One injector: flow against pressure, how long it is open, its dead time, and a rail that does not hold."""

from __future__ import annotations

import math
from dataclasses import dataclass

from knowngood.errors import NotMeasurable
from knowngood.measure.carried import with_error
from knowngood.measure.constant import SEA_LEVEL_KPA
from knowngood.measure.given import above_zero, finite, not_below_zero, resolved, whole

CYCLE_MS_AT_1_RPM = 120_000.0
"""Two turns of the crank take 2 x 60 s at one turn a minute."""


@dataclass(frozen=True, slots=True)
class InjectorLine:
    """Dead time [ms] and flow while open [mL/min] of an injector, each with its standard error."""

    dead_time_ms: float
    dead_time_se_ms: float
    flow_ml_min: float
    flow_se_ml_min: float


@dataclass(frozen=True, slots=True)
class RailHold:
    """How a shut-off rail loses pressure.

    `lost_kpa` with `se_kpa`; `rate_kpa_min` with `rate_se_kpa_min`; `verdict` is 'holds', 'leaks' or 'cannot tell' when
    a limit was given, else 'no limit given'.
    """

    lost_kpa: float
    se_kpa: float
    rate_kpa_min: float
    rate_se_kpa_min: float
    verdict: str


def pressure_across(
    rail_gauge_kpa: float,
    manifold_kpa: float,
    *,
    outside_kpa: float = SEA_LEVEL_KPA,
    rail_se_kpa: float = 3.0,
    manifold_se_kpa: float = 1.0,
    outside_se_kpa: float = 1.0,
) -> tuple[float, float]:
    """Pressure that drives fuel through a port injector: rail less manifold.

    Parameters
    ----------
    rail_gauge_kpa : float [kPa]
        Rail pressure as a gauge shows it, above the air outside.
    manifold_kpa : float [kPa]
        Manifold pressure, absolute.
    outside_kpa : float [kPa]
        Pressure of the air outside, absolute.
    rail_se_kpa, manifold_se_kpa, outside_se_kpa : float [kPa]
        One standard error of each: a fuel gauge, a manifold sensor, a barometer.

    Returns
    -------
    across_kpa, se : tuple of float [kPa], [kPa]

    Raises
    ------
    NotMeasurable
        A number is not finite, an absolute pressure is not above zero, or nothing drives the fuel.

    Notes
    -----
    Cannot tell: the pressure at the tip behind a blocked filter basket.

    Examples
    --------
    >>> across_kpa, se = pressure_across(250.0, 35.0)
    >>> f"{across_kpa:.0f} ± {se:.0f} kPa"
    '316 ± 3 kPa'
    """
    rail = finite("Rail pressure", rail_gauge_kpa, "kPa") + above_zero("Outside pressure", outside_kpa, "kPa")
    across = rail - above_zero("Manifold pressure", manifold_kpa, "kPa")
    if across <= 0:
        raise NotMeasurable(
            f"Rail pressure is {-across:g} kPa below the manifold.",
            "Give the rail as a gauge reading, the manifold as absolute.",
        )
    return with_error(
        lambda gauge, outside, inside: gauge + outside - inside,
        (rail_gauge_kpa, outside_kpa, manifold_kpa),
        (rail_se_kpa, outside_se_kpa, manifold_se_kpa),
    )


def flow_at_pressure(
    flow_ml_min: float,
    from_kpa: float,
    to_kpa: float,
    *,
    flow_se_ml_min: float = 0.0,
    from_se_kpa: float = 0.0,
    to_se_kpa: float = 0.0,
) -> tuple[float, float]:
    """Injector flow at another pressure: it goes with the root of the pressure across.

    Parameters
    ----------
    flow_ml_min : float [mL/min]
        Flow while open at the first pressure.
    from_kpa, to_kpa : float [kPa]
        Pressure across the injector (rail less manifold) of the flow given, and of the flow wanted.
    flow_se_ml_min, from_se_kpa, to_se_kpa : float [mL/min], [kPa]
        One standard error of each; all three are taken as given when nothing is said.

    Returns
    -------
    flow_ml_min, se : tuple of float [mL/min], [mL/min]

    Raises
    ------
    NotMeasurable
        A number is not above zero, or a pressure is not above three of its standard errors.

    Notes
    -----
    Cannot tell: an injector that does not open fully against high pressure.

    References
    ----------
    common_practice : Q2 = Q1 sqrt(p2 / p1), the orifice law; ratings usually at 300 kPa.

    Examples
    --------
    >>> flow_ml_min, se = flow_at_pressure(200.0, 300.0, 400.0)
    >>> f"{flow_ml_min:.1f} mL/min"
    '230.9 mL/min'
    """
    above_zero("Injector flow", flow_ml_min, "mL/min")
    resolved("Pressure of the flow given", from_kpa, from_se_kpa, "kPa")
    resolved("Pressure of the flow wanted", to_kpa, to_se_kpa, "kPa")
    return with_error(
        lambda flow, known, wanted: flow * math.sqrt(wanted / known),
        (flow_ml_min, from_kpa, to_kpa),
        (flow_se_ml_min, from_se_kpa, to_se_kpa),
    )


def duty(
    pulse_ms: float,
    speed_rpm: float,
    *,
    pulses_per_cycle: int = 1,
    pulse_se_ms: float = 0.05,
    speed_se_rpm: float = 10.0,
) -> tuple[float, float]:
    """Share of the time an injector is commanded open.

    Parameters
    ----------
    pulse_ms : float [ms]
        Length of one pulse.
    speed_rpm : float [1/min]
        Engine speed.
    pulses_per_cycle : int
        Pulses per two crank revolutions: 1 when sequential, 2 when all fire together each revolution.
    pulse_se_ms, speed_se_rpm : float [ms], [1/min]
        One standard error of each.

    Returns
    -------
    duty_pct, se : tuple of float [%], [%]
        Over about 85 % the injector no longer closes fully between pulses (from memory).

    Raises
    ------
    NotMeasurable
        A number is not above zero, the pulses are not whole in number, or longer than the cycle.

    Notes
    -----
    Cannot tell: fuel delivered; the dead time is part of the pulse.

    Examples
    --------
    >>> duty_pct, se = duty(3.0, 800)
    >>> f"{duty_pct:.2f} ± {se:.2f} %"
    '2.00 ± 0.04 %'
    """
    above_zero("Pulse", pulse_ms, "ms")
    above_zero("Engine speed", speed_rpm, "rpm")
    whole("Pulses per cycle", pulses_per_cycle, 1)
    if pulses_per_cycle * pulse_ms * speed_rpm > CYCLE_MS_AT_1_RPM:
        raise NotMeasurable(
            f"{pulses_per_cycle:g} pulses of {pulse_ms:g} ms are longer than two revolutions at {speed_rpm:g} rpm.",
            "Check whether the pulse is in ms, and how often the injector fires.",
        )
    return with_error(
        lambda pulse, rpm: 100.0 * pulses_per_cycle * pulse * rpm / CYCLE_MS_AT_1_RPM,
        (pulse_ms, speed_rpm),
        (pulse_se_ms, speed_se_rpm),
    )


def dead_time(
    short_ms: float,
    short_ml: float,
    long_ms: float,
    long_ml: float,
    pulses: int,
    *,
    amount_se_ml: float = 0.2,
) -> InjectorLine:
    """Dead time and flow of an injector from two test runs with different pulse lengths.

    The amounts lie on a line; it crosses nothing delivered at the dead time, and its slope is the flow while open.

    Parameters
    ----------
    short_ms, long_ms : float [ms]
        Pulse length of each run.
    short_ml, long_ml : float [mL]
        Amount caught in each run, all pulses together.
    pulses : int
        Pulses in each run, the same for both.
    amount_se_ml : float [mL]
        One standard error of each amount.

    Returns
    -------
    line : InjectorLine

    Raises
    ------
    NotMeasurable
        A number is not above zero, the second pulse is not longer, or the amounts differ by less than three of their
        standard errors.

    Notes
    -----
    Cannot tell: the dead time at another supply voltage or pressure; it grows as the voltage falls. Short pulses, near
    the dead time, do not lie on the line.

    Examples
    --------
    >>> line = dead_time(4.0, 10.0, 10.0, 30.0, 1000)
    >>> f"{line.dead_time_ms:.2f} ± {line.dead_time_se_ms:.2f} ms, {line.flow_ml_min:.0f} mL/min"
    '1.00 ± 0.09 ms, 200 mL/min'
    """
    for name, value, unit in (
        ("Short pulse", short_ms, "ms"), ("Amount of the short run", short_ml, "mL"),
        ("Amount of the long run", long_ml, "mL"), ("Number of pulses", pulses, ""),
    ):  # fmt: skip
        above_zero(name, value, unit)
    if finite("Long pulse", long_ms, "ms") <= short_ms:
        raise NotMeasurable(
            f"The long pulse of {long_ms:g} ms is not over the short one.", "Run two different lengths."
        )
    resolved("Difference of the amounts", long_ml - short_ml, math.sqrt(2.0) * amount_se_ml, "mL")
    apart_ms = long_ms - short_ms
    both, errors = (short_ml, long_ml), (amount_se_ml, amount_se_ml)
    dead, dead_se = with_error(lambda short, long: short_ms - short * apart_ms / (long - short), both, errors)
    flow, flow_se = with_error(lambda short, long: (long - short) / pulses / apart_ms * 60_000.0, both, errors)
    return InjectorLine(dead, dead_se, flow, flow_se)


def rail_hold(
    first_kpa: float,
    later_kpa: float,
    minutes: float,
    *,
    allowed_loss_kpa: float | None = None,
    gauge_se_kpa: float = 3.0,
) -> RailHold:
    """Whether a shut-off fuel rail holds its pressure.

    Parameters
    ----------
    first_kpa, later_kpa : float [kPa]
        Rail pressure on the gauge just after shut-off, and later.
    minutes : float [min]
        Time between them.
    allowed_loss_kpa : float [kPa], optional
        Loss that the car's data allow over this time.
    gauge_se_kpa : float [kPa]
        One standard error of a gauge reading; the same gauge for both.

    Returns
    -------
    hold : RailHold

    Raises
    ------
    NotMeasurable
        A pressure is negative or not finite, the first is not above three standard errors, or no time passed.

    Notes
    -----
    Cannot tell: where it goes. Clamp the feed, then the return: a wet injector, the regulator and the pump valve look
    alike. A hot engine raises the pressure for minutes, a cooling one lowers it without any leak.

    Examples
    --------
    >>> hold = rail_hold(300.0, 180.0, 5.0, allowed_loss_kpa=50.0)
    >>> hold.verdict, f"{hold.rate_kpa_min:.0f} ± {hold.rate_se_kpa_min:.1f} kPa/min"
    ('leaks', '24 ± 0.8 kPa/min')
    """
    resolved("First rail pressure", first_kpa, gauge_se_kpa, "kPa")
    not_below_zero("Later rail pressure", later_kpa, "kPa")
    above_zero("Time between the readings", minutes, "min")
    lost, se = first_kpa - later_kpa, math.sqrt(2.0) * gauge_se_kpa
    verdict = "no limit given"
    if allowed_loss_kpa is not None:
        over = lost - not_below_zero("Allowed loss", allowed_loss_kpa, "kPa")
        verdict = "cannot tell" if abs(over) <= 2.0 * se else "leaks" if over > 0 else "holds"
    return RailHold(lost, se, lost / minutes, se / minutes, verdict)
