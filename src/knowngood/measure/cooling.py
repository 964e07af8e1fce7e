"""How far the coolant is from boiling, and whether a thermostat opens where it should."""

from __future__ import annotations

import math
from dataclasses import dataclass

from knowngood.errors import NotMeasurable
from knowngood.measure.altitude import standard_pressure
from knowngood.measure.boiling import MODEL_SE_C, boiling_point
from knowngood.measure.carried import with_error
from knowngood.measure.given import between, finite, not_below_zero

STARTS_OPEN_C = (82.0, 91.0)
LOW_TYPE_C = (71.0, 75.0)
MAPPED_C = (80.0, 110.0)
"""Where thermostats start to open: usual, low types, and electrically mapped ones; common practice."""
FULLY_OPEN_OVER_C = 15.0
"""Degrees over the start at which it is fully open at the latest: 10 in most texts, 15 in some; common practice."""
WARM_AFTER_MIN = 15.0
"""An engine is warm by then (from memory: longer in frost, sooner under load)."""
STAMP_TOLERANCE_C = 2.0
"""Start of opening against the stamp (from memory)."""
RUNNING_C = (82.0, 99.0)
HOT_RUNNING_C = 105.0
"""Coolant of a warm engine, and up to what when hot or loaded: common practice."""


@dataclass(frozen=True, slots=True)
class BoilingMargin:
    """Where the coolant boils, and how far it is from that; each with one standard error [°C, kPa].

    `boils_chance` is the chance that it boils at this moment.
    """

    boiling_c: float
    boiling_se_c: float
    margin_c: float
    margin_se_c: float
    pressure_kpa: float
    pressure_se_kpa: float
    boils_chance: float


@dataclass(frozen=True, slots=True)
class ThermostatVerdict:
    """A thermostat tested in hot water against its stamp.

    `start` is 'as stamped', 'opens early', 'opens late' or 'cannot tell'; `full` is 'as it should be', 'opens too
    slowly', 'not tested' or 'cannot tell'; `kind` is what the stamp says: 'usual', 'low type', 'mapped' (only with a
    heater and its plug) or 'unusual: look it up'.
    """

    start_off_c: float
    se_c: float
    start: str
    full: str
    kind: str


def boiling_margin(
    coolant_c: float,
    cap_kpa: float,
    glycol_pct: float,
    altitude_m: float = 0.0,
    kind: str = "ethylene",
    *,
    coolant_se_c: float = 2.0,
    cap_se_kpa: float = 7.0,
    glycol_se_pct: float = 3.0,
) -> BoilingMargin:
    """Distance of the coolant from boiling under its cap.

    Parameters
    ----------
    coolant_c : float [°C]
        Hottest coolant met, -40 to 200 °C.
    cap_kpa : float [kPa]
        Pressure the cap holds over the air outside; 0 with an open or leaking cap. 16 psi = 1.1 bar = 110 kPa.
    glycol_pct : float [%]
        Glycol by volume, 0 to 90.
    altitude_m : float [m]
        Height above sea level.
    kind : str
        'ethylene' or 'propylene'.
    coolant_se_c, cap_se_kpa, glycol_se_pct : float [°C], [kPa], [%]
        One standard error of each. The weather and the model add theirs.

    Returns
    -------
    margin : BoilingMargin

    Raises
    ------
    Refused
        The glycol is not known.
    NotMeasurable
        A number is not finite or outside its range.

    Notes
    -----
    Cannot tell: hot spots in the head, which boil first; nor a system that lost its pressure. The coolant beside the
    sensor is not the hottest.

    References
    ----------
    raoult, iapws_if97, perry_8 : as in `knowngood.measure.boiling`.

    Examples
    --------
    >>> margin = boiling_margin(112.0, 110.0, 50.0, 1500.0)
    >>> f"boils at {margin.boiling_c:.0f} °C, {margin.margin_c:.0f} ± {margin.margin_se_c:.0f} °C left"
    'boils at 128 °C, 16 ± 3 °C left'
    """
    between("Coolant temperature", coolant_c, -40.0, 200.0, "°C")
    between("Cap pressure", cap_kpa, 0.0, 300.0, "kPa")
    between("Glycol", glycol_pct, 0.0, 90.0, "%")
    outside_kpa, outside_se = standard_pressure(altitude_m)

    def boiling(cap: float, air: float, glycol: float) -> float:
        return boiling_point(max(cap, 0.0) + air, min(max(glycol, 0.0), 90.0), kind)[0]

    errors = (
        0.0 if cap_kpa == 0.0 else not_below_zero("Standard error of the cap", cap_se_kpa, "kPa"),
        outside_se,
        0.0 if glycol_pct == 0.0 else not_below_zero("Standard error of the glycol", glycol_se_pct, "%"),
    )
    point, read = with_error(boiling, (cap_kpa, outside_kpa, glycol_pct), errors)
    se = math.hypot(read, MODEL_SE_C if glycol_pct else 0.0)
    margin_se = math.hypot(se, not_below_zero("Standard error of the coolant temperature", coolant_se_c, "°C"))
    margin = point - coolant_c
    chance = 0.5 * math.erfc(margin / margin_se / math.sqrt(2.0)) if margin_se else float(margin <= 0.0)
    pressure_se = math.hypot(errors[0], outside_se)
    return BoilingMargin(point, se, margin, margin_se, cap_kpa + outside_kpa, pressure_se, chance)


def thermostat_test(
    stamp_c: float, opens_c: float, full_c: float | None = None, *, thermometer_se_c: float = 1.0
) -> ThermostatVerdict:
    """A thermostat in a pot of water with a thermometer, against its stamp.

    Parameters
    ----------
    stamp_c : float [°C]
        Temperature stamped on it: the start of opening.
    opens_c : float [°C]
        Water temperature at the first gap.
    full_c : float [°C], optional
        Water temperature at which it no longer moves.
    thermometer_se_c : float [°C]
        One standard error of a thermometer reading.

    Returns
    -------
    verdict : ThermostatVerdict

    Raises
    ------
    NotMeasurable
        A temperature is not finite, the stamp is outside 60 to 120 °C, or fully open comes before the start.

    Notes
    -----
    Cannot tell: a seal that leaks cold, or one that sticks only now and then. Stir: water in a pot is not of one
    temperature. Over 95 °C plain water boils away high up. Mapped thermostats open later without current.

    References
    ----------
    common_practice : start within 2 °C of the stamp (from memory), fully open 5 to 10, some texts 15 °C above.

    Examples
    --------
    >>> thermostat_test(88.0, 80.0, 90.0).start
    'opens early'
    """
    between("Stamp", stamp_c, 60.0, 120.0, "°C")
    off, se = finite("First gap", opens_c, "°C") - stamp_c, not_below_zero("Standard error", thermometer_se_c, "°C")
    start = "as stamped"
    # one standard error, not two: with a thermometer good to 1 °C two would never let one be as stamped
    if abs(abs(off) - STAMP_TOLERANCE_C) <= se:
        start = "cannot tell"
    elif abs(off) > STAMP_TOLERANCE_C:
        start = "opens early" if off < 0 else "opens late"
    full = "not tested"
    if full_c is not None:
        travel = finite("Fully open", full_c, "°C") - opens_c
        if travel <= 0.0:
            raise NotMeasurable(
                f"Fully open at {full_c:g} °C is not above the first gap at {opens_c:g} °C.", "Heat slowly and stir."
            )
        most = FULLY_OPEN_OVER_C
        near = abs(travel - most) <= math.sqrt(2.0) * se
        full = "cannot tell" if near else "opens too slowly" if travel > most else "as it should be"
    return ThermostatVerdict(off, se, start, full, _kind(stamp_c))


def coolant_standing(coolant_c: float, minutes_running: float) -> str:
    """Where the coolant of a running engine stands.

    Parameters
    ----------
    coolant_c : float [°C]
        Coolant temperature.
    minutes_running : float [min]
        Minutes since the start.

    Returns
    -------
    word : str
        'still cold', 'low for a warm engine', 'usual', 'usual when hot or loaded' or 'too hot'.

    Raises
    ------
    NotMeasurable
        A number is not finite, negative minutes, or a temperature outside -40 to 200 °C.

    Notes
    -----
    Cannot tell: a sensor that lies from an engine that is cold; a second thermometer does. Warm-up times of one car do
    not carry over: 99 to 273 s to 80 °C were seen on one in a warm climate.

    References
    ----------
    common_practice : 82 to 99 °C running, to about 105 °C hot or loaded; mapped thermostats run higher.

    Examples
    --------
    >>> coolant_standing(71.0, 25.0)
    'low for a warm engine'
    """
    between("Coolant temperature", coolant_c, -40.0, 200.0, "°C")
    not_below_zero("Minutes running", minutes_running, "min")
    if coolant_c < RUNNING_C[0]:
        return "still cold" if minutes_running < WARM_AFTER_MIN else "low for a warm engine"
    if coolant_c <= RUNNING_C[1]:
        return "usual"
    return "usual when hot or loaded" if coolant_c <= HOT_RUNNING_C else "too hot"


def _kind(stamp_c: float) -> str:
    ranges = {"usual": STARTS_OPEN_C, "low type": LOW_TYPE_C, "mapped": MAPPED_C}
    return next((kind for kind, (low, high) in ranges.items() if low <= stamp_c <= high), "unusual: look it up")
