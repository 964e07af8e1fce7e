"""Speed shown against true speed, and speed against engine speed and gear."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from knowngood.measure.carried import with_error
from knowngood.measure.given import above_zero, not_below_zero, resolved, row


@dataclass(frozen=True, slots=True)
class SpeedShown:
    """Speed shown against the true one [km/h].

    `verdict` is 'lawful', 'shows too little' (less than the true speed), 'shows too much' or 'cannot tell' (the limit
    lies within two standard errors).
    """

    error_kmh: float
    se_kmh: float
    highest_lawful_kmh: float
    verdict: str


@dataclass(frozen=True, slots=True)
class GearFit:
    """The gear whose ratio comes nearest to engine speed over road speed.

    `gear` counts from 1; `off_pct` is how much faster the engine turns than that gear asks, with its standard error;
    `verdict` is 'fits', 'slips' (over three standard errors faster) or 'between gears'.
    """

    gear: int
    off_pct: float
    se_pct: float
    verdict: str


def highest_lawful_shown(true_kmh: float) -> float:
    """Highest speed a speedometer may show at a true speed.

    Parameters
    ----------
    true_kmh : float [km/h]
        True road speed.

    Returns
    -------
    shown_kmh : float [km/h]
        1.1 times the true speed plus 4; the lowest is the true speed itself.

    Raises
    ------
    NotMeasurable
        The speed is negative or not finite.

    Notes
    -----
    Cannot tell: the rule where the car is used; this is the type approval of new vehicles.

    References
    ----------
    un_r39 : UN Regulation No. 39, paragraph 5.3: 0 <= V1 - V2 <= 0.1 V2 + 4 km/h.

    Examples
    --------
    >>> highest_lawful_shown(130)
    147.0
    """
    true = not_below_zero("True speed", true_kmh, "km/h")
    return true + true / 10.0 + 4.0


def speed_shown(
    shown_kmh: float, true_kmh: float, *, shown_se_kmh: float = 1.0, true_se_kmh: float = 0.5
) -> SpeedShown:
    """A speedometer reading against the true speed.

    Parameters
    ----------
    shown_kmh, true_kmh : float [km/h]
        Speed shown and true speed, held steady on a level road.
    shown_se_kmh, true_se_kmh : float [km/h]
        One standard error of each.

    Returns
    -------
    shown : SpeedShown

    Raises
    ------
    NotMeasurable
        A number is negative or not finite.

    Notes
    -----
    Cannot tell: the cause; tyre size, wear, drive gear, sensor wheel and coding all do it.

    References
    ----------
    un_r39 : UN Regulation No. 39, paragraph 5.3.

    Examples
    --------
    >>> speed_shown(96.0, 100.0).verdict, speed_shown(105.0, 100.0).verdict
    ('shows too little', 'lawful')
    """
    shown = not_below_zero("Speed shown", shown_kmh, "km/h")
    most = highest_lawful_shown(true_kmh)
    low_se = math.hypot(
        not_below_zero("Standard error of the speed shown", shown_se_kmh, "km/h"),
        not_below_zero("Standard error of the true speed", true_se_kmh, "km/h"),
    )
    high_se = math.hypot(shown_se_kmh, 1.1 * true_se_kmh)
    if shown < true_kmh - 2.0 * low_se:
        verdict = "shows too little"
    elif shown > most + 2.0 * high_se:
        verdict = "shows too much"
    elif true_kmh + 2.0 * low_se <= shown <= most - 2.0 * high_se:
        verdict = "lawful"
    else:
        verdict = "cannot tell"
    return SpeedShown(shown - true_kmh, low_se, most, verdict)


def timed_speed(
    distance_m: float, time_s: float, *, distance_se_m: float = 5.0, time_se_s: float = 0.3
) -> tuple[float, float]:
    """True speed from a known distance and a stop watch.

    Parameters
    ----------
    distance_m, time_s : float [m], [s]
        Distance between two marks, and time between them at steady speed.
    distance_se_m, time_se_s : float [m], [s]
        One standard error of each.

    Returns
    -------
    speed_kmh, se : tuple of float [km/h], [km/h]

    Raises
    ------
    NotMeasurable
        Distance or time is not above three of its standard errors.

    Notes
    -----
    Cannot tell: anything while the speed changes. A passenger holds the watch.

    Examples
    --------
    >>> speed_kmh, se = timed_speed(1000.0, 36.0)
    >>> f"{speed_kmh:.0f} ± {se:.1f} km/h"
    '100 ± 1.0 km/h'
    """
    resolved("Distance", distance_m, distance_se_m, "m")
    resolved("Time", time_s, time_se_s, "s")
    return with_error(lambda metres, seconds: 3.6 * metres / seconds, (distance_m, time_s), (distance_se_m, time_se_s))


def geared_speed(
    engine_rpm: float, gear_ratio: float, final_ratio: float, circumference_mm: float,
    *, engine_se_rpm: float = 10.0, circumference_se_mm: float = 20.0,
) -> tuple[float, float]:  # fmt: skip
    """Road speed that goes with an engine speed in a gear.

    Parameters
    ----------
    engine_rpm : float [1/min]
        Engine speed.
    gear_ratio, final_ratio : float
        Ratios of the gear and of the final drive.
    circumference_mm : float [mm]
        Distance rolled in one turn of the wheel (`rolling_circumference`).
    engine_se_rpm, circumference_se_mm : float [1/min], [mm]
        One standard error of each.

    Returns
    -------
    speed_kmh, se : tuple of float [km/h], [km/h]

    Raises
    ------
    NotMeasurable
        A number is not above zero.

    Notes
    -----
    Cannot tell: anything with an open torque converter or a slipping clutch.

    Examples
    --------
    >>> speed_kmh, se = geared_speed(3000, 0.9, 4.0, 1927.0)
    >>> f"{speed_kmh:.1f} ± {se:.1f} km/h"
    '96.3 ± 1.1 km/h'
    """
    total = above_zero("Gear ratio", gear_ratio, "") * above_zero("Final drive ratio", final_ratio, "")
    above_zero("Engine speed", engine_rpm, "rpm")
    above_zero("Rolling circumference", circumference_mm, "mm")
    return with_error(
        lambda rpm, mm: rpm * mm * 60.0 / 1e6 / total,
        (engine_rpm, circumference_mm),
        (engine_se_rpm, circumference_se_mm),
    )


def gear_fit(
    engine_rpm: float, speed_kmh: float, gear_ratios: Sequence[float], final_ratio: float, circumference_mm: float,
    *, engine_se_rpm: float = 10.0, speed_se_kmh: float = 1.0, circumference_se_mm: float = 20.0,
) -> GearFit:  # fmt: skip
    """Which gear engine speed and road speed belong to, and whether the clutch slips.

    Parameters
    ----------
    engine_rpm, speed_kmh : float [1/min], [km/h]
        Read at the same moment, steady or under load, clutch closed.
    gear_ratios : sequence of float
        Ratios of the forward gears, first gear first.
    final_ratio, circumference_mm : float [-], [mm]
        As in `geared_speed`.
    engine_se_rpm, speed_se_kmh, circumference_se_mm : float [1/min], [km/h], [mm]
        One standard error of each.

    Returns
    -------
    fit : GearFit

    Raises
    ------
    NotMeasurable
        A number is not above zero, no gear is given, or the speed is under three standard errors.

    Notes
    -----
    Cannot tell: a slipping clutch from a wrong tyre size by one reading; slip grows with load, a size does not. Logs
    slower than 4 rows a second mix moments: only 65 % of healthy steady rows sat on a gear there.

    References
    ----------
    own_drives : own analysis of 48 drives of one healthy car, rows within 3.5 % of a gear.

    Examples
    --------
    >>> fit = gear_fit(3400, 96.0, [3.6, 1.95, 1.3, 0.9], 4.0, 1927.0)
    >>> fit.gear, f"{fit.off_pct:+.0f} ± {fit.se_pct:.0f} %", fit.verdict
    (4, '+14 ± 2 %', 'slips')
    """
    ratios = [above_zero("Gear ratio", ratio, "") for ratio in row("Gear ratios", gear_ratios, "", least=1)]
    resolved("Engine speed", engine_rpm, engine_se_rpm, "rpm")
    resolved("Road speed", speed_kmh, speed_se_kmh, "km/h")
    above_zero("Rolling circumference", circumference_mm, "mm")
    final = above_zero("Final drive ratio", final_ratio, "")

    def ratio(rpm: float, kmh: float, mm: float) -> float:
        return rpm * mm * 60.0 / 1e6 / (kmh * final)

    met, se = with_error(
        ratio, (engine_rpm, speed_kmh, circumference_mm), (engine_se_rpm, speed_se_kmh, circumference_se_mm)
    )
    gear = min(range(len(ratios)), key=lambda place: abs(math.log(met / ratios[place])))
    off, off_se = 100.0 * (met / ratios[gear] - 1.0), 100.0 * se / ratios[gear]
    verdict = "fits" if abs(off) <= 3.0 * off_se else "slips" if off > 0 else "between gears"
    return GearFit(gear + 1, off, off_se, verdict)
