"""Starter circuit: loss by the ampere, and what the battery gives away inside itself."""

from __future__ import annotations

import math
from dataclasses import dataclass

from knowngood.errors import NotMeasurable
from knowngood.measure.carried import with_error
from knowngood.measure.given import above_zero, finite, not_below_zero, resolved
from knowngood.measure.joint import joint_resistance

ALLOWED_V_PER_100_A = 0.20
"""Loss of a starter circuit while cranking (us_army_tm_starter, p. F-303)."""
CRANK_AT_MOST_S = 30.0
REST_AT_LEAST_S = 120.0
"""Longest crank and least rest of the same source; a car's own caution, often 10 s, wins."""


@dataclass(frozen=True, slots=True)
class StarterLoss:
    """Loss of the circuit for each 100 A with its standard error; `word` is `within`, `over` or `cannot tell`."""

    v_per_100_a: float
    se_v_per_100_a: float
    word: str


def starter_loss(drop_v: float, current_a: float, *, drop_se_v: float = 0.01, current_se_a: float = 5.0) -> StarterLoss:
    """Loss of one side of the starter circuit while it cranks, by 100 A.

    Parameters
    ----------
    drop_v, drop_se_v : float [V]
        Voltage lost between the battery post and the starter (or starter body and the other post), cranking.
    current_a, current_se_a : float [A]
        Current at the same moment.

    Returns
    -------
    StarterLoss

    Raises
    ------
    NotMeasurable
        Less than three standard errors of current flow, or a reading is not finite.

    Notes
    -----
    Cannot tell: which joint of the side it is; measure part by part.

    References
    ----------
    us_army_tm_starter : TM 10-3930-671-24, p. F-303, 0.20 V for 100 A.

    Examples
    --------
    >>> starter_loss(0.9, 150.0).word
    'over'
    """
    ohms, se = joint_resistance(drop_v, current_a, drop_se_v=drop_se_v, current_se_a=current_se_a)
    loss, loss_se = 100.0 * ohms, 100.0 * se
    beyond = loss - ALLOWED_V_PER_100_A
    word = "over" if beyond > 2.0 * loss_se else "within" if beyond < -2.0 * loss_se else "cannot tell"
    return StarterLoss(loss, loss_se, word)


def battery_resistance(
    rest_v: float, cranking_v: float, current_a: float, *, voltage_se_v: float = 0.02, current_se_a: float = 5.0
) -> tuple[float, float]:
    """What the battery loses inside itself, by the fall from rest to cranking.

    Parameters
    ----------
    rest_v, cranking_v, voltage_se_v : float [V]
        At the posts, before and while cranking, and the standard error of each.
    current_a, current_se_a : float [A]
        Current while cranking.

    Returns
    -------
    ohms, se : tuple of float [ohm], [ohm]

    Raises
    ------
    NotMeasurable
        The voltage did not fall by three standard errors, less than three of current flow, or a reading is not finite.

    Notes
    -----
    Cannot tell: a discharged battery from a worn one; charge it, then measure again.

    References
    ----------
    circuit_theory : a source with a resistance in it.

    Examples
    --------
    >>> ohms, se = battery_resistance(12.6, 10.2, 200.0)
    >>> f"{1000 * ohms:.1f} ± {1000 * se:.1f} mΩ"
    '12.0 ± 0.3 mΩ'
    """
    error = not_below_zero("Voltage error", voltage_se_v, "V")
    rest, loaded = above_zero("Voltage at rest", rest_v, "V"), finite("Voltage while cranking", cranking_v, "V")
    resolved("Fall of the voltage", rest - loaded, math.sqrt(2.0) * error, "V")
    current = resolved("Current", current_a, current_se_a, "A")
    return with_error(lambda v0, v1, i: (v0 - v1) / i, (rest, loaded, current), (error, error, current_se_a))


def check_cranking(cranked_s: float, rested_s: float) -> float:
    """Whether the starter may be turned again.

    Parameters
    ----------
    cranked_s, rested_s : float [s]
        How long it turned last, and how long it rested since.

    Returns
    -------
    rest_s : float [s]
        Rest that was needed.

    Raises
    ------
    NotMeasurable
        It turned longer than 30 s, or rested less than 2 min after that long, less after less (the proportion is
        ours); or a number is below zero.

    Notes
    -----
    Cannot tell: how hot the starter is. A starter too hot to touch waits longer.

    References
    ----------
    us_army_tm_starter : TM 10-3930-671-24, p. F-303, at most 30 s, then at least 2 min.

    Examples
    --------
    >>> check_cranking(10.0, 60.0)
    40.0
    """
    cranked = not_below_zero("Cranking time", cranked_s, "s")
    needed_s = REST_AT_LEAST_S * min(1.0, cranked / CRANK_AT_MOST_S)
    rested = not_below_zero("Rest", rested_s, "s")
    if cranked > CRANK_AT_MOST_S or rested < needed_s:
        raise NotMeasurable(
            f"Cranked {cranked:g} s, rested {rested:g} s: at most {CRANK_AT_MOST_S:g} s, then rest in proportion.",
            f"Wait until {needed_s:.0f} s have passed."
            if rested < needed_s
            else f"It has rested enough; turn it {CRANK_AT_MOST_S:g} s at most.",
        )
    return needed_s
