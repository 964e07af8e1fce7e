"""Air the engine should breathe, how well it breathes, and whether the air meter can be right."""

from __future__ import annotations

from dataclasses import dataclass

from knowngood.errors import NotMeasurable
from knowngood.measure.bracket import Bracket
from knowngood.measure.carried import with_error
from knowngood.measure.constant import R_AIR_J_KG_K, ZERO_C_K
from knowngood.measure.given import above_zero, between, not_below_zero, resolved

FILLING = Bracket(0.70, 0.85, 0.95)
"""Volumetric efficiency against manifold pressure of a warm road engine, idle to torque peak (from memory)."""
LOAD_DENSITY_G_L = 1.184
"""Air of 25 °C and 101.325 kPa, to which the absolute load of the open standard refers (from memory)."""


@dataclass(frozen=True, slots=True)
class MeterCheck:
    """Flow shown over flow expected, as a range, and what it says.

    `verdict` is 'reads too little' (the whole range under 1), 'reads too much' (over 1) or 'can be right'.
    """

    expected_g_s: Bracket
    ratio: Bracket
    verdict: str


def expected_air_flow(
    displacement_l: float,
    speed_rpm: float,
    manifold_kpa: float,
    intake_c: float,
    *,
    filling: float = FILLING.value,
    filling_se: float = 0.06,
    speed_se_rpm: float = 10.0,
    manifold_se_kpa: float = 1.0,
    intake_se_c: float = 5.0,
) -> tuple[float, float]:
    """Air mass flow of a four-stroke engine from its size, speed and the air in its manifold.

    Ideal gas in half of the swept volume per revolution: filling x p x V x n / (120 R T).

    Parameters
    ----------
    displacement_l : float [L]
        Displacement of the whole engine.
    speed_rpm : float [1/min]
        Engine speed.
    manifold_kpa : float [kPa]
        Manifold pressure, absolute.
    intake_c : float [°C]
        Air temperature in the manifold.
    filling : float
        Volumetric efficiency against manifold pressure, 0.2 to 1.5.
    filling_se, speed_se_rpm, manifold_se_kpa, intake_se_c : float [-], [1/min], [kPa], [°C]
        One standard error of each.

    Returns
    -------
    flow_g_s, se : tuple of float [g/s], [g/s]

    Raises
    ------
    NotMeasurable
        A number is not finite, not above zero, or outside its range.

    Notes
    -----
    Cannot tell: the filling of this engine; from memory 0.70 to 0.95, less with exhaust gas recirculated.

    References
    ----------
    ideal_gas : dry air, R = 287.05 J/(kg·K), ISO 2533.

    Examples
    --------
    >>> flow_g_s, se = expected_air_flow(2.0, 2000, 100.0, 25.0)
    >>> f"{flow_g_s:.1f} ± {se:.1f} g/s"
    '33.1 ± 2.4 g/s'
    """
    _engine(displacement_l, speed_rpm, manifold_kpa, intake_c)
    between("Filling", filling, 0.2, 1.5, "")
    return with_error(
        lambda fill, rpm, kpa, c: fill * _full_flow(displacement_l, rpm, kpa, c),
        (filling, speed_rpm, manifold_kpa, intake_c),
        (filling_se, speed_se_rpm, manifold_se_kpa, intake_se_c),
    )


def volumetric_efficiency(
    air_flow_g_s: float,
    displacement_l: float,
    speed_rpm: float,
    manifold_kpa: float,
    intake_c: float,
    *,
    air_flow_se_g_s: float = 0.0,
    speed_se_rpm: float = 10.0,
    manifold_se_kpa: float = 1.0,
    intake_se_c: float = 5.0,
) -> tuple[float, float]:
    """How well the engine fills, from a flow that is believed.

    Parameters
    ----------
    air_flow_g_s : float [g/s]
        Air flow shown.
    displacement_l, speed_rpm, manifold_kpa, intake_c : float [L], [1/min], [kPa], [°C]
        As in `expected_air_flow`.
    air_flow_se_g_s, speed_se_rpm, manifold_se_kpa, intake_se_c : float [g/s], [1/min], [kPa], [°C]
        One standard error of each; the flow is taken as given when nothing is said.

    Returns
    -------
    filling, se : tuple of float

    Raises
    ------
    NotMeasurable
        A number is not finite, not above zero, or outside its range; pressure under three standard errors.

    Notes
    -----
    Cannot tell: a meter that reads too little from an engine that breathes badly (exhaust, valve timing, filter).

    References
    ----------
    ideal_gas : dry air, R = 287.05 J/(kg·K), ISO 2533.

    Examples
    --------
    >>> filling, se = volumetric_efficiency(33.1, 2.0, 2000, 100.0, 25.0)
    >>> f"{filling:.2f} ± {se:.2f}"
    '0.85 ± 0.02'
    """
    above_zero("Air flow", air_flow_g_s, "g/s")
    _engine(displacement_l, speed_rpm, manifold_kpa, intake_c)
    resolved("Manifold pressure", manifold_kpa, manifold_se_kpa, "kPa")
    resolved("Engine speed", speed_rpm, speed_se_rpm, "rpm")
    return with_error(
        lambda flow, rpm, kpa, c: flow / _full_flow(displacement_l, rpm, kpa, c),
        (air_flow_g_s, speed_rpm, manifold_kpa, intake_c),
        (air_flow_se_g_s, speed_se_rpm, manifold_se_kpa, intake_se_c),
    )


def meter_check(
    air_flow_g_s: float,
    displacement_l: float,
    speed_rpm: float,
    manifold_kpa: float,
    intake_c: float,
    *,
    filling: Bracket = FILLING,
) -> MeterCheck:
    """Whether an air meter can be right, given the engine and the air in its manifold.

    Parameters
    ----------
    air_flow_g_s : float [g/s]
        Flow the meter shows.
    displacement_l, speed_rpm, manifold_kpa, intake_c : float [L], [1/min], [kPa], [°C]
        As in `expected_air_flow`; the pressure from a sensor or gauge of its own.
    filling : Bracket
        Volumetric efficiency thought possible.

    Returns
    -------
    check : MeterCheck

    Raises
    ------
    NotMeasurable
        A number is not finite, not above zero, or outside its range.

    Notes
    -----
    Cannot tell: an error smaller than the range of filling, about 15 %; the trims see smaller ones. A reading too low
    can also be air that enters behind the meter, or a manifold sensor that reads too high.

    Examples
    --------
    >>> meter_check(21.0, 2.0, 2000, 100.0, 25.0).verdict
    'reads too little'
    """
    above_zero("Air flow", air_flow_g_s, "g/s")
    _engine(displacement_l, speed_rpm, manifold_kpa, intake_c)
    above_zero("Lowest filling", filling.low, "")
    if not filling.low <= filling.value <= filling.high:
        raise NotMeasurable(
            f"Filling is {filling.low:g}, {filling.value:g}, {filling.high:g}.",
            "Give lowest, usual and highest in order.",
        )
    full = _full_flow(displacement_l, speed_rpm, manifold_kpa, intake_c)
    expected = Bracket(full * filling.low, full * filling.value, full * filling.high)
    ratio = Bracket(air_flow_g_s / expected.high, air_flow_g_s / expected.value, air_flow_g_s / expected.low)
    verdict = "reads too little" if ratio.high < 1.0 else "reads too much" if ratio.low > 1.0 else "can be right"
    return MeterCheck(expected, ratio, verdict)


def absolute_load(
    air_flow_g_s: float, displacement_l: float, speed_rpm: float, *, air_flow_se_g_s: float = 0.0
) -> tuple[float, float]:
    """Air per intake stroke against the stroke's volume of standard air.

    Parameters
    ----------
    air_flow_g_s, air_flow_se_g_s : float [g/s]
        Air flow and its standard error; taken as given when nothing is said.
    displacement_l : float [L]
        Displacement of the whole engine.
    speed_rpm : float [1/min]
        Engine speed.

    Returns
    -------
    load_pct, se : tuple of float [%], [%]

    Raises
    ------
    NotMeasurable
        A number is not finite or not above zero.

    Notes
    -----
    Cannot tell: how the maker reckons the load it shows; compare at the same engine only.

    References
    ----------
    sae_j1979 : SAE J1979, absolute load value, 1.184 g/L (from memory).

    Examples
    --------
    >>> f"{absolute_load(33.1, 2.0, 2000)[0]:.0f} %"
    '84 %'
    """
    above_zero("Air flow", air_flow_g_s, "g/s")
    not_below_zero("Standard error of the air flow", air_flow_se_g_s, "g/s")
    above_zero("Displacement", displacement_l, "L")
    scale = 100.0 * 120.0 / (above_zero("Engine speed", speed_rpm, "rpm") * displacement_l * LOAD_DENSITY_G_L)
    return air_flow_g_s * scale, air_flow_se_g_s * scale


def _engine(displacement_l: float, speed_rpm: float, manifold_kpa: float, intake_c: float) -> None:
    above_zero("Displacement", displacement_l, "L")
    above_zero("Engine speed", speed_rpm, "rpm")
    above_zero("Manifold pressure", manifold_kpa, "kPa")
    between("Intake air temperature", intake_c, -60.0, 150.0, "°C")


def _full_flow(displacement_l: float, speed_rpm: float, manifold_kpa: float, intake_c: float) -> float:
    """Flow at a filling of 1, g/s; litres times kilopascals are joules."""
    return 1000.0 * manifold_kpa * displacement_l * speed_rpm / (120.0 * R_AIR_J_KG_K * (intake_c + ZERO_C_K))
