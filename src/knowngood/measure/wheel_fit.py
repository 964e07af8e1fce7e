"""Whether another wheel fits: where its faces come to stand, what a spacer does, and how many threads hold."""

from __future__ import annotations

import math
from dataclasses import dataclass

from knowngood.errors import Refused
from knowngood.measure.carried import with_error
from knowngood.measure.constant import MM_PER_INCH
from knowngood.measure.given import above_zero, finite, not_below_zero

FLANGES_MM = 12.7
"""Backspacing read over the flanges of a rim one inch wider overall."""
LEAST_ENGAGEMENT = {"steel": 1.0, "aluminium": 1.5}
"""Thread engagement over thread diameter, at least: common practice (club pages, not a standard)."""
LEAST_CLEARANCE_MM = 3.0
"""Between wheel and anything fixed: common practice, from memory; more to parts that move with steering or travel."""


@dataclass(frozen=True, slots=True)
class FitmentChange:
    """How far the faces of the new wheel stand from the old one's.

    `outward_mm` is toward the arch, `inward_mm` toward strut and brake; negative where room is gained. `track_mm` is
    the change of the distance between the wheels of an axle. `face_se_mm` is the standard error of both faces.
    """

    outward_mm: float
    inward_mm: float
    track_mm: float
    face_se_mm: float
    track_se_mm: float


@dataclass(frozen=True, slots=True)
class Clearance:
    """Room left after a change [mm]: to the arch side and to the inner side, and whether both are enough."""

    outer_mm: float
    outer_se_mm: float
    inner_mm: float
    inner_se_mm: float
    verdict: str


@dataclass(frozen=True, slots=True)
class Engagement:
    """Threads that hold.

    `turns` is what is there, `least_turns` and `least_mm` what is wanted; `verdict` is 'enough' or 'too little'.
    """

    turns: float
    turns_se: float
    least_turns: float
    least_mm: float
    verdict: str


def backspacing(
    rim_width_in: float,
    offset_mm: float,
    *,
    over_flanges: bool = False,
    rim_width_se_in: float = 0.0,
    offset_se_mm: float = 0.5,
) -> tuple[float, float]:
    """Distance from the mounting face to the inner edge of a rim.

    Parameters
    ----------
    rim_width_in : float [in]
        Rim width marked, between the bead seats.
    offset_mm : float [mm]
        Offset marked; positive when the mounting face lies outside of the middle.
    over_flanges : bool
        True when it is read with a straight edge over the flanges.
    rim_width_se_in, offset_se_mm : float [in], [mm]
        One standard error of each; the width is taken as given when nothing is said, half a millimetre of offset is
        what castings differ by (from memory).

    Returns
    -------
    backspacing_mm, se : tuple of float [mm], [mm]

    Raises
    ------
    NotMeasurable
        The width is not above zero, or the offset is not finite.

    Notes
    -----
    Cannot tell: the shape of the spokes, which have to pass the brake.

    Examples
    --------
    >>> backspacing_mm, se = backspacing(8, 45)
    >>> f"{backspacing_mm:.1f} ± {se:.1f} mm, over the flanges {backspacing(8, 45, over_flanges=True)[0]:.1f} mm"
    '146.6 ± 0.5 mm, over the flanges 159.3 mm'
    """
    above_zero("Rim width", rim_width_in, "in")
    flanges = FLANGES_MM if over_flanges else 0.0
    return with_error(
        lambda width, offset: width * MM_PER_INCH / 2.0 + offset + flanges,
        (rim_width_in, finite("Offset", offset_mm, "mm")),
        (rim_width_se_in, offset_se_mm),
    )


def effective_offset(
    offset_mm: float, spacer_mm: float, *, offset_se_mm: float = 0.5, spacer_se_mm: float = 0.1
) -> tuple[float, float]:
    """Offset of a wheel with a spacer behind it.

    Parameters
    ----------
    offset_mm, spacer_mm : float [mm]
        Offset marked, and thickness of the spacer.
    offset_se_mm, spacer_se_mm : float [mm]
        One standard error of each: a casting (from memory), a caliper.

    Returns
    -------
    offset_mm, se : tuple of float [mm], [mm]

    Raises
    ------
    NotMeasurable
        The offset is not finite, or the thickness is negative.

    Notes
    -----
    Cannot tell: whether the wheel is still centred on the hub, or the spacer allowed.

    Examples
    --------
    >>> offset_mm, se = effective_offset(45, 15)
    >>> f"{offset_mm:.1f} ± {se:.1f} mm"
    '30.0 ± 0.5 mm'
    """
    return with_error(
        lambda offset, spacer: offset - spacer,
        (finite("Offset", offset_mm, "mm"), not_below_zero("Spacer", spacer_mm, "mm")),
        (offset_se_mm, spacer_se_mm),
    )


def fitment_change(
    old_width_in: float,
    old_offset_mm: float,
    new_width_in: float,
    new_offset_mm: float,
    *,
    old_offset_se_mm: float = 0.5,
    new_offset_se_mm: float = 0.5,
) -> FitmentChange:
    """Where the faces of a new wheel come to stand against the old ones.

    Parameters
    ----------
    old_width_in, new_width_in : float [in]
        Rim widths marked.
    old_offset_mm, new_offset_mm : float [mm]
        Offsets, spacers taken off (`effective_offset`).
    old_offset_se_mm, new_offset_se_mm : float [mm]
        One standard error of each; half a millimetre is what castings differ by (from memory).

    Returns
    -------
    change : FitmentChange

    Raises
    ------
    NotMeasurable
        A width is not above zero, or an offset is not finite.

    Notes
    -----
    Cannot tell: the tyre, which may stand out over the rim by 10 mm a side; add half of the change of tyre width.

    Examples
    --------
    >>> change = fitment_change(6.5, 50, 8, 35)
    >>> f"out {change.outward_mm:.2f} mm, in {change.inward_mm:.2f} mm"
    'out 34.05 mm, in 4.05 mm'
    """
    new_in, old_in = above_zero("New rim width", new_width_in, "in"), above_zero("Old rim width", old_width_in, "in")
    wider = MM_PER_INCH * (new_in - old_in)
    offset = finite("New offset", new_offset_mm, "mm") - finite("Old offset", old_offset_mm, "mm")
    se = math.hypot(
        not_below_zero("Old offset error", old_offset_se_mm, "mm"),
        not_below_zero("New offset error", new_offset_se_mm, "mm"),
    )
    return FitmentChange(0.5 * wider - offset, 0.5 * wider + offset, -2.0 * offset, se, 2.0 * se)


def clearance_left(outer_mm: float, inner_mm: float, change: FitmentChange, *, room_se_mm: float = 1.0) -> Clearance:
    """Room left to arch and strut after a change of wheel.

    Parameters
    ----------
    outer_mm, inner_mm : float [mm]
        Room now, at its narrowest, at the outer and the inner side.
    change : FitmentChange
        Of the wheel, from `fitment_change`.
    room_se_mm : float [mm]
        One standard error of the room measured.

    Returns
    -------
    clearance : Clearance
        `verdict` is 'enough', 'touches' (nothing left), 'too little' (under 3 mm), or 'cannot tell' within two
        standard errors of 3 mm.

    Raises
    ------
    NotMeasurable
        A room is negative or not finite.

    Notes
    -----
    Cannot tell: room at full lock or full travel; turn lock to lock and load the axle before driving.

    Examples
    --------
    >>> clearance_left(40.0, 20.0, fitment_change(6.5, 50, 8, 35)).verdict
    'enough'
    """
    outer = not_below_zero("Room outside", outer_mm, "mm") - change.outward_mm
    inner = not_below_zero("Room inside", inner_mm, "mm") - change.inward_mm
    least = min(outer, inner)
    se = math.hypot(not_below_zero("Room error", room_se_mm, "mm"), change.face_se_mm)
    if abs(least - LEAST_CLEARANCE_MM) < 2.0 * se:
        verdict = "cannot tell"
    else:
        verdict = "enough" if least > LEAST_CLEARANCE_MM else "too little" if least > 0.0 else "touches"
    return Clearance(outer, se, inner, se, verdict)


def thread_engagement(
    engaged_mm: float, thread_mm: float, pitch_mm: float, nut: str = "steel", *, engaged_se_mm: float = 0.5
) -> Engagement:
    """Whether enough thread holds a wheel, for instance with a spacer.

    Parameters
    ----------
    engaged_mm : float [mm]
        Length of thread in the nut or hub: turns until it is tight, times the pitch.
    thread_mm, pitch_mm : float [mm]
        Thread diameter and pitch: 12 and 1.5 for M12x1.5.
    nut : str
        'steel' or 'aluminium': what the thread is cut in.
    engaged_se_mm : float [mm]
        One standard error of the length; half a millimetre is a third of a turn.

    Returns
    -------
    engagement : Engagement

    Raises
    ------
    Refused
        The material is not one of the two.
    NotMeasurable
        A number is not above zero.

    Notes
    -----
    Cannot tell: the state of the threads, or whether the seat (cone, ball, flat) is the right one. The car maker's data
    win.

    References
    ----------
    common_practice : at least one diameter in steel, one and a half in aluminium (club pages, not a standard).

    Examples
    --------
    >>> hold = thread_engagement(9.0, 12.0, 1.5)
    >>> hold.turns, hold.least_turns, hold.verdict
    (6.0, 8.0, 'too little')
    """
    if nut not in LEAST_ENGAGEMENT:
        raise Refused(f"No least engagement is known for '{nut}'.", f"Give one of: {', '.join(LEAST_ENGAGEMENT)}.")
    pitch = above_zero("Pitch", pitch_mm, "mm")
    least_mm = LEAST_ENGAGEMENT[nut] * above_zero("Thread diameter", thread_mm, "mm")
    engaged = above_zero("Engaged thread", engaged_mm, "mm")
    turns_se = not_below_zero("Engaged thread error", engaged_se_mm, "mm") / pitch
    verdict = "enough" if engaged >= least_mm else "too little"
    return Engagement(engaged / pitch, turns_se, least_mm / pitch, least_mm, verdict)
