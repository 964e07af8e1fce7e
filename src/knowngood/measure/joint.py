"""Resistance of joints and paths by the voltage they lose under load."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from knowngood.errors import NotMeasurable
from knowngood.measure.given import finite, not_below_zero, resolved, row


@dataclass(frozen=True, slots=True)
class PathLoss:
    """What a path of several parts loses; places are counted from 1 along the way.

    `worst` is the place that loses most, `worst_share` its part of the whole; `ohms` the resistance of each part;
    each with its standard error.
    """

    total_v: float
    total_se_v: float
    total_ohm: float
    total_se_ohm: float
    ohms: tuple[float, ...]
    ohms_se: tuple[float, ...]
    worst: int
    worst_share: float
    worst_share_se: float


def _quotient(drop_v: float, current_a: float, drop_se_v: float, current_se_a: float) -> tuple[float, float]:
    ohms = drop_v / current_a
    return ohms, math.hypot(drop_se_v / current_a, ohms * current_se_a / current_a)


def joint_resistance(
    drop_v: float, current_a: float, *, drop_se_v: float = 0.01, current_se_a: float = 0.1
) -> tuple[float, float]:
    """Resistance of a joint, earth strap or length of cable under load.

    Ohm's law on the loss, with the reading errors carried through: relative errors add in quadrature because meter
    and clamp err independently.

    Parameters
    ----------
    drop_v : float [V]
        Voltage between the two ends while the load runs. The sign is ignored: swapped probes are not a fault.
    current_a : float [A]
        Current through the joint at the same moment.
    drop_se_v, current_se_a : float [V], [A]
        One standard error of each reading.

    Returns
    -------
    ohms, se : tuple of float [ohm], [ohm]

    Raises
    ------
    NotMeasurable
        Less than three standard errors of current flow, or a reading is not finite: an unloaded joint shows no drop
        however bad it is.

    Notes
    -----
    Cannot tell: a joint that is good now and bad when hot, wet or shaken.

    References
    ----------
    ohms_law : V = I R; jcgm_100, 5.1, for the errors.

    Examples
    --------
    >>> ohms, se = joint_resistance(0.42, 105.0)
    >>> f"{1000 * ohms:.1f} ± {1000 * se:.1f} mΩ"
    '4.0 ± 0.1 mΩ'
    """
    lost = abs(finite("Voltage lost", drop_v, "V"))
    current = resolved("Current", abs(finite("Current", current_a, "A")), current_se_a, "A")
    return _quotient(lost, current, not_below_zero("Voltage error", drop_se_v, "V"), current_se_a)


def path_loss(
    drops_v: Sequence[float], current_a: float, *, drop_se_v: float = 0.01, current_se_a: float = 0.1
) -> PathLoss:
    """What a path loses in all, and which part of it loses most.

    Parameters
    ----------
    drops_v : sequence of float [V]
        Voltage lost over each part along the way, at one current. Signs are ignored.
    current_a : float [A]
        Current through the path.
    drop_se_v, current_se_a : float [V], [A]
        One standard error of each reading.

    Returns
    -------
    PathLoss

    Raises
    ------
    NotMeasurable
        No part, a reading that is not finite, less than three standard errors of current, or nothing lost anywhere.

    Notes
    -----
    Cannot tell: parts that carry another current than the one read, such as a branch behind a splice.

    References
    ----------
    ohms_law : V = I R; losses in a row add.

    Examples
    --------
    >>> loss = path_loss([0.05, 0.40, 0.02], 100.0)
    >>> loss.worst, f"{1000 * loss.total_ohm:.1f} mΩ", round(loss.worst_share, 2)
    (2, '4.7 mΩ', 0.85)
    """
    drops = tuple(abs(drop) for drop in row("Voltages lost", drops_v, "V", least=1))
    error = not_below_zero("Voltage error", drop_se_v, "V")
    current = resolved("Current", abs(finite("Current", current_a, "A")), current_se_a, "A")
    total = sum(drops)
    if total == 0.0:
        raise NotMeasurable("Nothing is lost anywhere on the path.", "Check that the load runs while you measure.")
    total_se = error * math.sqrt(len(drops))
    total_ohm, total_se_ohm = _quotient(total, current, total_se, current_se_a)
    worst = max(range(len(drops)), key=drops.__getitem__)
    return PathLoss(
        total,
        total_se,
        total_ohm,
        total_se_ohm,
        tuple(drop / current for drop in drops),
        tuple(_quotient(drop, current, error, current_se_a)[1] for drop in drops),
        worst + 1,
        drops[worst] / total,
        error / total**2 * math.hypot(total - drops[worst], drops[worst] * math.sqrt(len(drops) - 1.0)),
    )


def drop_at_current(
    drop_v: float, measured_a: float, wanted_a: float, *, drop_se_v: float = 0.01, current_se_a: float = 0.1
) -> tuple[float, float]:
    """What the same joint would lose at another current.

    Parameters
    ----------
    drop_v, drop_se_v : float [V]
        Voltage lost, and its standard error.
    measured_a, current_se_a : float [A]
        Current at which it was lost, and its standard error.
    wanted_a : float [A]
        The current asked about.

    Returns
    -------
    drop_v, se : tuple of float [V], [V]

    Raises
    ------
    NotMeasurable
        Less than three standard errors of current flowed, or a reading is not finite.

    Notes
    -----
    Cannot tell: a bad joint that heats up and gets worse with the current; a corroded one may also break down and
    lose less than in proportion.

    References
    ----------
    ohms_law : V = I R.

    Examples
    --------
    >>> drop_v, se = drop_at_current(0.06, 20.0, 150.0)
    >>> f"{drop_v:.2f} ± {se:.2f} V"
    '0.45 ± 0.08 V'
    """
    ohms, se = joint_resistance(drop_v, measured_a, drop_se_v=drop_se_v, current_se_a=current_se_a)
    wanted = abs(finite("Wanted current", wanted_a, "A"))
    return ohms * wanted, se * wanted
