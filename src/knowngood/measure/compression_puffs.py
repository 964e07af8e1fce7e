"""How a compression reading builds up puff by puff, and what a running engine's compression adds."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median

from knowngood.errors import NotMeasurable
from knowngood.measure.carried import with_error
from knowngood.measure.compression import SPREAD_RULES
from knowngood.measure.given import above_zero, not_below_zero, row

PUFFS = 4
"""Puffs from zero to a full reading (common practice)."""
FIRST_PUFF_GOOD = 0.5
"""A healthy first puff reaches about this share of the last (from memory: half and more)."""
WET_RISE_CLEAR = 0.10
"""Oil that lifts a reading by this share of it has sealed something (from memory)."""


@dataclass(frozen=True, slots=True)
class BuildUp:
    """The puffs of one cylinder: `first_share` of the last, and `gained_kpa` after the first, each with its error."""

    first_share: float
    first_share_se: float
    gained_kpa: float
    gained_se_kpa: float
    still_rising: bool


def build_up(puffs_kpa: Sequence[float], *, gauge_se_kpa: float = 20.0) -> BuildUp:
    """How a reading builds from the first puff to the last.

    Parameters
    ----------
    puffs_kpa : sequence of float [kPa]
        Gauge after each puff, from zero, four or more.
    gauge_se_kpa : float [kPa]
        One standard error of a reading of a moving needle.

    Returns
    -------
    BuildUp

    Raises
    ------
    NotMeasurable
        Fewer than four puffs, a reading is not finite or negative, the gauge fell (its valve leaks), or it never rose.

    Notes
    -----
    Cannot tell: rings from valves by itself; a weak battery makes every first puff low.

    References
    ----------
    common_practice : four puffs from zero, all plugs out, throttle open.

    Examples
    --------
    >>> grown = build_up([620.0, 900.0, 1080.0, 1170.0])
    >>> f"{grown.first_share:.2f} ± {grown.first_share_se:.2f}"
    '0.53 ± 0.02'
    """
    readings = row("Puffs", puffs_kpa, "kPa", least=PUFFS)
    for value in readings:
        not_below_zero("Compression", value, "kPa")
    error = not_below_zero("Gauge error", gauge_se_kpa, "kPa")
    for before, after in itertools.pairwise(readings):
        if after < before - 3.0 * error:
            raise NotMeasurable(
                f"The gauge fell from {before:g} to {after:g} kPa: it holds its highest value.",
                "Its valve leaks. Clean or replace it and measure again.",
            )
    last = readings[-1]
    if last < max(3.0 * error, 1e-9):
        raise NotMeasurable(
            f"The gauge reached {last:g} kPa with a standard error of {error:g} kPa: nothing built up.",
            "Write the cylinder down as none seen.",
        )
    share, share_se = with_error(lambda first, end: first / end, (readings[0], last), (error, error))
    gained_se = math.sqrt(2.0) * error
    return BuildUp(share, share_se, last - readings[0], gained_se, last - readings[-2] > 3.0 * error)


def puff_pattern(grown: BuildUp, *, last_kpa: float, usual_kpa: float, wet_kpa: float | None = None) -> tuple[str, ...]:
    """What the build-up of a low cylinder points to.

    Parameters
    ----------
    grown : BuildUp
        Its build-up.
    last_kpa : float [kPa]
        Its dry reading.
    usual_kpa : float [kPa]
        The best reading of the row.
    wet_kpa : float or None [kPa]
        Its reading with oil; None when not measured.

    Returns
    -------
    parts : tuple of str
        Of `rings`, `valves or gasket`; both where they cannot be told apart; empty when the cylinder is not low.

    Raises
    ------
    NotMeasurable
        A pressure is not finite, or not above zero.

    Notes
    -----
    Cannot tell: a bent rod, a worn cam lobe or late valves, which read low and build slowly too; a valve that leaks
    a little; the gasket, unless two neighbours are low together.

    References
    ----------
    common_practice : rings: low first puff that builds and rises with oil; valves: low, does not build, oil little.

    Examples
    --------
    >>> puff_pattern(BuildUp(0.3, 0.02, 560.0, 28.0, True), last_kpa=800.0, usual_kpa=1200.0, wet_kpa=1050.0)
    ('rings',)
    """
    last = above_zero("Dry compression", last_kpa, "kPa")
    best = above_zero("Best compression of the row", usual_kpa, "kPa")
    if last >= SPREAD_RULES[0].least_share * best:
        return ()
    if wet_kpa is None:
        return ("rings", "valves or gasket")
    builds = grown.first_share < FIRST_PUFF_GOOD
    rises = not_below_zero("Wet compression", wet_kpa, "kPa") - last > WET_RISE_CLEAR * last
    if builds and rises:
        return ("rings",)
    if not builds and not rises:
        return ("valves or gasket",)
    return ("rings", "valves or gasket")


@dataclass(frozen=True, slots=True)
class RunningCompression:
    """Running against cranking compression of one cylinder, as shares of the cranking reading with their errors."""

    idle_share: float
    idle_share_se: float
    snap_share: float
    snap_share_se: float


def running_compression(
    cranking_kpa: float, idle_kpa: float, snap_kpa: float, *, gauge_se_kpa: float = 20.0
) -> RunningCompression:
    """How well a running cylinder fills and empties.

    At idle the throttle keeps the cylinder half empty; at a snap of the throttle it fills. Low at the snap against
    the other cylinders is air that does not get in; high is exhaust that does not get out.

    Parameters
    ----------
    cranking_kpa, idle_kpa, snap_kpa : float [kPa]
        Gauge readings of the same cylinder: cranking with throttle open, idling, throttle snapped open.
    gauge_se_kpa : float [kPa]
        One standard error of each.

    Returns
    -------
    RunningCompression

    Raises
    ------
    NotMeasurable
        The cranking reading is less than three standard errors, or a reading is not finite or negative.

    Notes
    -----
    Cannot tell: which part is in the way. A gauge hose adds room, so shares come out low on small cylinders; the
    other cylinders with the same hose are the measure.

    References
    ----------
    common_practice : running compression compared between cylinders. About 0.3 to 0.55 at idle and 0.65 to 0.95 at a
    snap are usual (from memory).

    Examples
    --------
    >>> running = running_compression(1200.0, 450.0, 960.0)
    >>> f"{running.idle_share:.2f} {running.snap_share:.2f} ± {running.snap_share_se:.2f}"
    '0.38 0.80 ± 0.02'
    """
    cranking = above_zero("Cranking compression", cranking_kpa, "kPa")
    error = not_below_zero("Gauge error", gauge_se_kpa, "kPa")
    if cranking < 3.0 * error:
        raise NotMeasurable(
            f"Cranking compression is {cranking:g} kPa, its standard error {error:g} kPa: less than three of them.",
            "A running test says nothing on a cylinder that does not seal. Find the leak first.",
        )
    shares = [
        with_error(lambda running, base: running / base, (not_below_zero(name, value, "kPa"), cranking), (error, error))
        for name, value in (("Compression at idle", idle_kpa), ("Compression at the snap", snap_kpa))
    ]
    return RunningCompression(*shares[0], *shares[1])


def snap_pattern(snap_shares: Sequence[float], place: int, *, allowed: float = 0.12) -> str:
    """Whether one cylinder fills worse, or empties worse, than the middle of its row.

    Parameters
    ----------
    snap_shares : sequence of float
        Share at the snap of every cylinder, in counting order, three or more.
    place : int
        The cylinder asked about, counted from 1.
    allowed : float
        How far off the middle is still usual (from memory).

    Returns
    -------
    pattern : str
        `air in`, `exhaust out`, or empty when it is like the others.

    Raises
    ------
    NotMeasurable
        Fewer than three cylinders, a share that is not finite, no such place, or an allowed difference below zero.

    Notes
    -----
    Cannot tell: a fault that all cylinders share, such as a blocked exhaust.

    References
    ----------
    common_practice : low at the snap is an intake side restriction, high an exhaust side one.

    Examples
    --------
    >>> snap_pattern([0.80, 0.82, 0.55, 0.79], 3)
    'air in'
    """
    shares = row("Snap shares", snap_shares, "", least=3)
    if not 1 <= place <= len(shares):
        raise NotMeasurable(f"Place {place} of {len(shares)} cylinders.", f"Give 1 to {len(shares)}.")
    off = shares[place - 1] - median(shares)
    usual = not_below_zero("Allowed difference", allowed, "")
    return "" if abs(off) <= usual else "air in" if off < 0 else "exhaust out"
