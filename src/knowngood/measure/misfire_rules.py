"""What the law asks of a misfire monitor: facts with their rule, and where a count stands against them.

The two windows and their floors are those of California. The federal rule of the United States speaks of
1.5 times the emission standards and of catalyst damage, without these windows. The threshold set in a car is its
maker's and is often higher than the floor.
"""

from __future__ import annotations

from dataclasses import dataclass

from knowngood.errors import Refused
from knowngood.measure.bracket import Bracket
from knowngood.measure.misfire import firings, misfire_rate


@dataclass(frozen=True, slots=True)
class Window:
    """One window of the monitor.

    `floor_pct` is the lowest share of failed firings a maker has to set as threshold. `exceedances` is how often the
    window must be exceeded in one drive before a code is due. `basis` says how the numbers are known.
    """

    purpose: str
    revolutions: int
    floor_pct: float
    exceedances: int
    lamp: str
    rule: str
    basis: str


CATALYST = Window(
    purpose="catalyst damage",
    revolutions=200,
    floor_pct=5.0,
    exceedances=3,
    lamp="blinks once a second while it goes on",
    rule="California, 13 CCR 1968.2 (e)(3.2.1) and (3.4)",
    basis="from memory; the 200 revolutions and 3 exceedances are repeated in makers' texts",
)
EMISSIONS = Window(
    purpose="excess emissions",
    revolutions=1000,
    floor_pct=1.0,
    exceedances=4,
    lamp="steady after the second drive; one exceedance is enough in the first 1000 revolutions after the start",
    rule="California, 13 CCR 1968.2 (e)(3.2.2) and (3.4)",
    basis="from memory; the 1000 revolutions, 1 % and 1.5 times the standard are repeated in makers' texts",
)
WINDOWS = {"catalyst": CATALYST, "emissions": EMISSIONS}


@dataclass(frozen=True, slots=True)
class WindowStanding:
    """Where a count stands against the floor of a window.

    `limit_misfires` is the count that equals the floor over the revolutions of the window; `over_floor` whether the
    share counted is above the floor, `surely_over` whether the lower limit of the share is.
    """

    percent: Bracket
    limit_misfires: float
    over_floor: bool
    surely_over: bool
    window: Window


def window_standing(misfires: int, revolutions: float, cylinders: int, window: str) -> WindowStanding:
    """Where a misfire count stands against the lowest threshold the law allows.

    Parameters
    ----------
    misfires : int
        Misfires counted over all cylinders.
    revolutions : float
        Crank revolutions watched.
    cylinders : int
        Cylinders of the engine.
    window : str
        'catalyst' or 'emissions'.

    Returns
    -------
    standing : WindowStanding

    Raises
    ------
    Refused
        The window is not one of the two.
    NotMeasurable
        More misfires than firings, or broken numbers.

    Notes
    -----
    Cannot tell: whether the lamp of this car is due; its maker's thresholds by speed and load decide, and they are
    at the floor or higher. Counts under the floor may still be a fault the driver feels.

    References
    ----------
    ccr_1968_2 : California, 13 CCR 1968.2 (e)(3.2) and (3.4).
    cfr_86_1806 : United States, 40 CFR 86.1806-05 (b)(2).

    Examples
    --------
    >>> standing = window_standing(31, 200, 4, "catalyst")
    >>> f"{standing.percent.value:.2f} %, floor {standing.limit_misfires:g} misfires, over: {standing.over_floor}"
    '7.75 %, floor 20 misfires, over: True'
    """
    if window not in WINDOWS:
        raise Refused(f"No window is called '{window}'.", f"Give one of: {', '.join(WINDOWS)}.")
    rule = WINDOWS[window]
    rate = misfire_rate(misfires, revolutions, cylinders)
    limit = rule.floor_pct / 100.0 * firings(rule.revolutions, cylinders)
    over, surely = rate.percent.value > rule.floor_pct, rate.percent.low > rule.floor_pct
    return WindowStanding(rate.percent, limit, over, surely, rule)
