"""Leak-down test: whether the tester may be read, what a cylinder loses in percent, the cylinders against each other.

Percent has no scale of its own: the same leak reads differently behind another orifice. Percent is compared
between cylinders on one tester; across testers only the hole is (`knowngood.measure.sealing_hole`).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from knowngood.errors import NotMeasurable
from knowngood.measure.carried import with_error
from knowngood.measure.constant import KPA_PER_PSI, MM_PER_INCH
from knowngood.measure.given import above_zero, between, finite, not_below_zero, row

SHOP_AIR_KPA = 100.0 * KPA_PER_PSI
"""Least shop air a tester is fed with, clean and dry (faa_ac_43_13, 8-14b(5)(c): about 100 to 120 psi)."""
TURNING_KPA = 20.0 * KPA_PER_PSI
"""Setting while the piston is brought to top dead centre (faa_ac_43_13, 8-14b(5)(e))."""
READING_KPA = 80.0 * KPA_PER_PSI
"""Setting for the reading (faa_ac_43_13, 8-14b(5)(h))."""
GAUGE_TOLERANCE_KPA = 2.0 * KPA_PER_PSI
"""Both gauges agree within this with the outlet shut (technical note on differential pressure checks, 2010)."""
GAUGE_SE_KPA = GAUGE_TOLERANCE_KPA / math.sqrt(3.0)
"""One standard error of a gauge that passes the check, taken as evenly spread (jcgm_100, 4.3.7)."""
SMALL_BORE_MM = 5.00 * MM_PER_INCH
ORIFICE_SMALL_BORE_MM = 0.040 * MM_PER_INCH
ORIFICE_LARGE_BORE_MM = 0.060 * MM_PER_INCH
"""Orifice by bore, 0.250 in long with a 60 degree entry (FAA Safety Team maintenance tip, November 2011)."""

GOOD_PERCENT = 10.0
SERVICEABLE_PERCENT = 20.0
SUSPECT_PERCENT = 25.0
TROUBLE_PERCENT = 30.0
ROW_POINTS = 5.0
"""Common practice on testers with an orifice near 1 mm; 25 % is faa_ac_43_13, 8-14b(5)(i). All of them changeable."""
RECHECK_RUNNING_MIN = 3.0
"""A suspect cylinder is measured again after the engine ran this long (faa_ac_43_13, 8-14b(5)(i))."""


@dataclass(frozen=True, slots=True)
class LeakRow:
    """The cylinders of one engine on one tester.

    `spread_points` is highest less lowest with its standard error; `apart` the places (counted from 1) whose leak
    exceeds the best by more than the allowed points and by more than the reading errors; `over` those over the limit;
    `all_alike` is true when none is apart.
    """

    lowest_percent: float
    highest_percent: float
    spread_points: float
    spread_se_points: float
    apart: tuple[int, ...]
    over: tuple[int, ...]
    all_alike: bool


@dataclass(frozen=True, slots=True)
class LeakWord:
    """What the trade calls a leak: the words the reading may mean within two standard errors, and what to do."""

    words: tuple[str, ...]
    advice: str


BANDS: tuple[tuple[float, str], ...] = (
    (GOOD_PERCENT, "good"),
    (SERVICEABLE_PERCENT, "serviceable"),
    (TROUBLE_PERCENT, "suspect"),
    (100.0, "trouble"),
)
"""Upper ends of the trade's words (common practice, testers fed with 80 to 90 psi)."""


def standard_orifice(bore_mm: float) -> float:
    """Diameter of the orifice the aircraft procedure uses for a bore.

    Parameters
    ----------
    bore_mm : float [mm]
        Cylinder bore, above zero.

    Returns
    -------
    orifice_mm : float [mm]

    Raises
    ------
    NotMeasurable
        The bore is not finite or not above zero.

    Notes
    -----
    Cannot tell: the orifice of the tester at hand. Many car testers do not say theirs.

    References
    ----------
    faa_tip_2011 : FAA Safety Team maintenance tip, November 2011, differential compression test orifices.

    Examples
    --------
    >>> round(standard_orifice(84.0), 3)
    1.016
    """
    return ORIFICE_SMALL_BORE_MM if above_zero("Bore", bore_mm, "mm") < SMALL_BORE_MM else ORIFICE_LARGE_BORE_MM


def check_tester(
    set_kpa: float, shut_kpa: float, *, shop_air_kpa: float | None = None, gauge_se_kpa: float = 1.0
) -> tuple[float, float]:
    """Whether a tester may be read at all: how far its two gauges differ with the outlet shut.

    Parameters
    ----------
    set_kpa, shut_kpa : float [kPa]
        Supply and cylinder gauge with the outlet shut, both above the air around.
    shop_air_kpa : float or None [kPa]
        Pressure before the regulator, when known.
    gauge_se_kpa : float [kPa]
        One standard error of reading either needle; what the gauges are off by themselves is what is looked for.

    Returns
    -------
    difference_kpa, se : tuple of float [kPa], [kPa]
        Cylinder gauge less supply gauge; take it off later readings.

    Raises
    ------
    NotMeasurable
        The gauges differ by more than 2 psi (13.8 kPa), the shop air is under 100 psi (689 kPa), or a number is not
        finite.

    Notes
    -----
    Cannot tell: an error both gauges share. Their ratio, the percent, hardly notices it.

    References
    ----------
    differential_note_2010 : technical note on differential pressure checks, 2010, self-check at 80 psi, 5 s or more.
    faa_ac_43_13 : AC 43.13-1B, chapter 8, p. 8-15.

    Examples
    --------
    >>> difference_kpa, se = check_tester(551.6, 545.0)
    >>> f"{difference_kpa:.1f} ± {se:.1f} kPa"
    '-6.6 ± 1.4 kPa'
    """
    set_to = above_zero("Supply gauge", set_kpa, "kPa")
    difference = finite("Cylinder gauge", shut_kpa, "kPa") - set_to
    if shop_air_kpa is not None and finite("Shop air", shop_air_kpa, "kPa") < SHOP_AIR_KPA * (1.0 - 1e-9):
        raise NotMeasurable(
            f"Shop air is {shop_air_kpa:.0f} kPa: under {SHOP_AIR_KPA:.0f} kPa (100 psi) the regulator cannot hold.",
            "Let the compressor fill, then set again.",
        )
    if abs(difference) > GAUGE_TOLERANCE_KPA * (1.0 + 1e-9):
        raise NotMeasurable(
            f"The gauges differ by {difference:+.1f} kPa, outlet shut: over ±{GAUGE_TOLERANCE_KPA:.1f} kPa.",
            "Look for a leak in the tester or hose, or note the gauges as wrong.",
        )
    return difference, math.sqrt(2.0) * not_below_zero("Gauge error", gauge_se_kpa, "kPa")


def check_setting(set_kpa: float, *, held_at_top: bool) -> float:
    """The setting, when it is low enough for what is being done.

    Parameters
    ----------
    set_kpa : float [kPa]
        Supply above the air around.
    held_at_top : bool
        The piston stands at top dead centre and the crankshaft is held.

    Returns
    -------
    set_kpa : float [kPa]

    Raises
    ------
    NotMeasurable
        More than 20 psi (138 kPa) while the crankshaft is not held: it can spin.

    Notes
    -----
    Cannot tell: whether it is the compression stroke. With a valve open everything leaks.

    References
    ----------
    faa_ac_43_13 : AC 43.13-1B, chapter 8, p. 8-15, (e) to (h) and its caution.

    Examples
    --------
    >>> check_setting(552.0, held_at_top=True)
    552.0
    """
    pressure = above_zero("Supply gauge", set_kpa, "kPa")
    if not held_at_top and pressure > TURNING_KPA * (1.0 + 1e-9):
        raise NotMeasurable(
            f"{pressure:.0f} kPa with the crankshaft not held: it can spin.",
            f"At most {TURNING_KPA:.0f} kPa (20 psi) until top dead centre is held; hands and bars off.",
        )
    return pressure


def leak_percent(
    supply_kpa: float,
    cylinder_kpa: float,
    *,
    supply_se_kpa: float = GAUGE_SE_KPA,
    cylinder_se_kpa: float = GAUGE_SE_KPA,
) -> tuple[float, float]:
    """Leak on this tester: 100 times one less cylinder over supply pressure, both as the gauges show them.

    Parameters
    ----------
    supply_kpa, cylinder_kpa : float [kPa]
        Above the air around.
    supply_se_kpa, cylinder_se_kpa : float [kPa]
        One standard error of each gauge.

    Returns
    -------
    percent, se : tuple of float [percent], [percent]

    Raises
    ------
    NotMeasurable
        The cylinder is above the supply by more than three standard errors, or a number is not finite or negative.

    Notes
    -----
    Cannot tell: the size of the leak without the tester's orifice, nor where it goes.

    References
    ----------
    faa_ac_43_13 : AC 43.13-1B, chapter 8, p. 8-15, loss in percent of the input pressure.

    Examples
    --------
    >>> percent, se = leak_percent(551.6, 496.4)
    >>> f"{percent:.1f} ± {se:.1f} %"
    '10.0 ± 1.9 %'
    """
    supply = above_zero("Supply pressure", supply_kpa, "kPa")
    cylinder = not_below_zero("Cylinder pressure", cylinder_kpa, "kPa")
    errors = (
        not_below_zero("Supply gauge error", supply_se_kpa, "kPa"),
        not_below_zero("Cylinder gauge error", cylinder_se_kpa, "kPa"),
    )
    if cylinder - supply > 3.0 * math.hypot(*errors):
        raise NotMeasurable(
            f"The cylinder shows {_both(cylinder)}, the supply {_both(supply)}: more comes out than goes in.",
            "Check that the gauges are not crossed and agree with the outlet shut.",
        )
    return with_error(lambda p0, p1: 100.0 * (1.0 - p1 / p0), (supply, cylinder), errors)


def leak_row(
    percents: Sequence[float],
    *,
    percent_se: float = 2.0,
    allowed_points: float = ROW_POINTS,
    limit_percent: float = SUSPECT_PERCENT,
) -> LeakRow:
    """Cylinders against each other on one tester.

    Parameters
    ----------
    percents : sequence of float [percent]
        One reading a cylinder, in counting order.
    percent_se : float [percent]
        One standard error of a reading.
    allowed_points : float [percent]
        How far a cylinder may leak more than the best one.
    limit_percent : float [percent]
        Leak over which a cylinder is suspect by itself.

    Returns
    -------
    LeakRow

    Raises
    ------
    NotMeasurable
        Fewer than two cylinders, a reading or the limit is not 0 to 100 %, or the allowed points are below zero.

    Notes
    -----
    Cannot tell: wear that all cylinders share; a cylinder turned to the wrong stroke (an open valve looks like a
    total leak: turn the engine once and repeat).

    References
    ----------
    common_practice : 5 points between cylinders; faa_ac_43_13 for 25 % of the input pressure.

    Examples
    --------
    >>> leak_row([8.0, 9.0, 7.0, 31.0]).apart
    (4,)
    """
    shown = row("Leak", percents, "%", least=2)
    for value in shown:
        between("Leak", value, 0.0, 100.0, "%")
    error = not_below_zero("Leak error", percent_se, "%")
    lowest, highest = min(shown), max(shown)
    needed = max(not_below_zero("Allowed points", allowed_points, "%"), 2.0 * math.sqrt(2.0) * error)
    limit = between("Limit", limit_percent, 0.0, 100.0, "%")
    apart = tuple(place for place, value in enumerate(shown, start=1) if value - lowest > needed)
    over = tuple(place for place, value in enumerate(shown, start=1) if value > limit)
    return LeakRow(lowest, highest, highest - lowest, math.sqrt(2.0) * error, apart, over, not apart)


def leak_word(percent: float, *, percent_se: float = 2.0) -> LeakWord:
    """The trade's word for a leak on a tester with an orifice near 1 mm.

    Parameters
    ----------
    percent, percent_se : float [percent]
        Reading and its standard error.

    Returns
    -------
    LeakWord
        More than one word where the reading cannot tell them apart.

    Raises
    ------
    NotMeasurable
        The leak is not 0 to 100 %, or the error is below zero.

    Notes
    -----
    Cannot tell: anything on a tester with another orifice; convert the reading first. The words are no standard.

    References
    ----------
    common_practice : 10, 20 and 30 % on car testers; faa_ac_43_13, 8-14b(5)(i), for the recheck after running.

    Examples
    --------
    >>> leak_word(28.0).words
    ('suspect', 'trouble')
    """
    leak = between("Leak", percent, 0.0, 100.0, "%")
    margin = 2.0 * not_below_zero("Leak error", percent_se, "%")
    low, high = max(0.0, leak - margin), min(100.0, leak + margin)
    floors = (-1.0, *(end for end, _ in BANDS))
    words = tuple(word for floor, (end, word) in zip(floors, BANDS, strict=False) if floor < high and low <= end)
    advice = ""
    if high > SUSPECT_PERCENT:
        advice = f"Run the engine {RECHECK_RUNNING_MIN:.0f} min and measure again warm before anything comes apart."
    return LeakWord(words, advice)


def _both(kpa: float) -> str:
    return f"{kpa:.0f} kPa ({kpa / KPA_PER_PSI:.0f} psi)"
