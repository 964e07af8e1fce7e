"""Tyre sizes: what the side wall says, how large the wheel is, and what another size does to the speed shown."""

from __future__ import annotations

import math
import re
from dataclasses import dataclass

from knowngood.errors import NotMeasurable, Refused
from knowngood.measure.bracket import Bracket
from knowngood.measure.carried import with_error
from knowngood.measure.constant import MM_PER_INCH
from knowngood.measure.given import above_zero

ROLLING_FACTOR = {"radial": 3.05, "bias": 2.99}
"""Rolling circumference over diameter (from memory, after the tyre makers' standards and UN rules)."""
WORN_MM = 6.4
"""Loss of tread radius from new (8 mm) to the legal 1.6 mm: the size of a worn tyre."""


@dataclass(frozen=True, slots=True)
class TyreSize:
    """Width [mm], height of the side wall as a share of the width [%], rim [in], and 'radial' or 'bias'."""

    width_mm: float
    aspect_pct: float
    rim_in: float
    build: str


@dataclass(frozen=True, slots=True)
class SizeChange:
    """What a new tyre size does.

    `shown_over_true` is the factor by which the speed shown exceeds what it was with the old size (under 1: it shows
    less than before); `shown_error_pct` the same in per cent; `ride_height_mm` how far the axle rises.
    """

    shown_over_true: float
    shown_over_true_se: float
    shown_error_pct: float
    shown_error_se_pct: float
    ride_height_mm: float
    ride_height_se_mm: float
    old_mm: float
    old_se_mm: float
    new_mm: float
    new_se_mm: float


def read_size(text: str) -> TyreSize:
    """The size written on a side wall.

    Parameters
    ----------
    text : str
        '205/55R16 91V', 'P265/70 R16', '165/80-13'; what stands before or after the size is left alone.

    Returns
    -------
    size : TyreSize

    Raises
    ------
    Refused
        No size with a side wall height is in the text, or it is no size that was ever made.

    Notes
    -----
    Cannot tell: whether the tyre fits the rim or the arch, or its load and speed ratings.

    References
    ----------
    tyre_marking : width in mm / side wall height in % / R for radial, - or D for bias / rim in inches (UN R30, 2.17).

    Examples
    --------
    >>> read_size("205/55 R16 91V")
    TyreSize(width_mm=205.0, aspect_pct=55.0, rim_in=16.0, build='radial')
    """
    found = re.search(r"(?<!\d)(\d{3})\s*/\s*(\d{2})\s*(?:Z?(R)|[-DB])\s*(\d{2}(?:[.,]5)?)(?!\d)", text.upper())
    if not found:
        raise Refused(
            f"'{text}' holds no size of the form 205/55R16.",
            "A size without the second number: look it up, it is 80 or 82.",
        )
    width, aspect, rim = float(found[1]), float(found[2]), float(found[4].replace(",", "."))
    if not (105 <= width <= 405 and 20 <= aspect <= 95 and 10 <= rim <= 26):
        raise Refused(f"{width:g}/{aspect:g} on {rim:g} in is no car tyre.", "Read the side wall again.")
    return TyreSize(width, aspect, rim, "radial" if found[3] else "bias")


def overall_diameter(
    width_mm: float,
    aspect_pct: float,
    rim_in: float,
    *,
    width_se_mm: float = 0.0,
    aspect_se_pct: float = 0.0,
    make_share_se: float = 0.01,
) -> tuple[float, float]:
    """Diameter of an unloaded new tyre from its size.

    Parameters
    ----------
    width_mm : float [mm]
        Width marked.
    aspect_pct : float [%]
        Side wall height as a share of the width.
    rim_in : float [in]
        Rim diameter marked.
    width_se_mm, aspect_se_pct : float [mm], [%]
        One standard error of each; a marking is exact when nothing is said.
    make_share_se : float
        How far makes of one size differ, as a share of the diameter: 1 % (from memory).

    Returns
    -------
    diameter_mm, se : tuple of float [mm], [mm]

    Raises
    ------
    NotMeasurable
        A number is not finite or not above zero.

    Notes
    -----
    Cannot tell: the tyre in hand: makes differ by some 1 to 2 % (from memory), wear takes up to 13 mm.

    Examples
    --------
    >>> diameter_mm, se = overall_diameter(205, 55, 16)
    >>> f"{diameter_mm:.1f} ± {se:.1f} mm"
    '631.9 ± 6.3 mm'
    """
    above_zero("Tyre width", width_mm, "mm")
    above_zero("Side wall height", aspect_pct, "%")
    rim_mm = MM_PER_INCH * above_zero("Rim diameter", rim_in, "in")
    return with_error(
        lambda width, aspect, make: make * (rim_mm + 2.0 * width * aspect / 100.0),
        (width_mm, aspect_pct, 1.0),
        (width_se_mm, aspect_se_pct, make_share_se),
    )


def rolling_circumference(diameter_mm: float, build: str = "radial", *, worn: bool = False) -> Bracket:
    """Distance rolled in one turn.

    A loaded tyre rolls on less than its full circumference: 3.05 diameters (radial) against pi.

    Parameters
    ----------
    diameter_mm : float [mm]
        Unloaded diameter of the new tyre.
    build : str
        'radial' or 'bias'.
    worn : bool
        True for a tyre worn to the legal limit.

    Returns
    -------
    circumference_mm : Bracket [mm]
        Low: 1 % under the factor; high: pi times the diameter.

    Raises
    ------
    Refused
        The build is not one of the two.
    NotMeasurable
        The diameter is not above zero.

    Notes
    -----
    Cannot tell: the effect of load, pressure and speed, about 1 % (from memory). A chalk mark and ten turns beat it.

    References
    ----------
    rolling_factor : 3.05 for radial, 2.99 for bias tyres (from memory).

    Examples
    --------
    >>> rolled = rolling_circumference(631.9)
    >>> f"{rolled.value:.1f} mm, at most {rolled.high:.1f} mm"
    '1927.3 mm, at most 1985.2 mm'
    """
    if build not in ROLLING_FACTOR:
        raise Refused(f"No tyre build is called '{build}'.", f"Give one of: {', '.join(ROLLING_FACTOR)}.")
    across = above_zero("Tyre diameter", diameter_mm, "mm") - (2.0 * WORN_MM if worn else 0.0)
    rolled = ROLLING_FACTOR[build] * above_zero("Tyre diameter after wear", across, "mm")
    return Bracket(0.99 * rolled, rolled, math.pi * across)


def turns_per_km(circumference_mm: float, *, circumference_se_mm: float = 20.0) -> tuple[float, float]:
    """Turns of a wheel in a kilometre.

    Parameters
    ----------
    circumference_mm : float [mm]
        Distance rolled in one turn.
    circumference_se_mm : float [mm]
        One standard error; 20 mm is the 1 % that load, pressure and make leave open.

    Returns
    -------
    turns, se : tuple of float [1/km], [1/km]

    Raises
    ------
    NotMeasurable
        The circumference is not above zero.

    Notes
    -----
    Cannot tell: slip under power, some per cent.

    Examples
    --------
    >>> turns, se = turns_per_km(1927.3)
    >>> f"{turns:.1f} ± {se:.1f}"
    '518.9 ± 5.4'
    """
    rolled = above_zero("Rolling circumference", circumference_mm, "mm")
    return with_error(lambda mm: 1e6 / mm, (rolled,), (circumference_se_mm,))


def size_change(old: TyreSize, new: TyreSize, *, make_share_se: float = 0.01) -> SizeChange:
    """What changing the tyre size does to the speed shown and the ride height.

    Parameters
    ----------
    old, new : TyreSize
        Size the speedometer was right for, and size fitted.
    make_share_se : float
        How far makes of one size differ, as a share of the diameter: 1 % (from memory).

    Returns
    -------
    change : SizeChange

    Raises
    ------
    NotMeasurable
        The two are of different build, which have no common scale.

    Notes
    -----
    Cannot tell: whether the speedometer was right before; whether the new size is allowed on this car.

    Examples
    --------
    >>> change = size_change(read_size("185/70R14"), read_size("195/50R15"))
    >>> f"{change.shown_error_pct:+.1f} %, {change.ride_height_mm:+.0f} mm"
    '+6.7 %, -19 mm'
    """
    if old.build != new.build:
        raise NotMeasurable(f"Old tyre {old.build}, new tyre {new.build}.", "Compare rolled distances instead.")
    (before, before_se), (after, after_se) = (
        overall_diameter(size.width_mm, size.aspect_pct, size.rim_in, make_share_se=make_share_se)
        for size in (old, new)
    )
    ratio, ratio_se = with_error(lambda first, then: first / then, (before, after), (before_se, after_se))
    return SizeChange(
        shown_over_true=ratio,
        shown_over_true_se=ratio_se,
        shown_error_pct=100.0 * (ratio - 1.0),
        shown_error_se_pct=100.0 * ratio_se,
        ride_height_mm=0.5 * (after - before),
        ride_height_se_mm=0.5 * math.hypot(before_se, after_se),
        old_mm=before,
        old_se_mm=before_se,
        new_mm=after,
        new_se_mm=after_se,
    )
