"""Fuel that a cylinder which does not burn washes into the oil: a range, to decide about the oil."""

from __future__ import annotations

from dataclasses import dataclass

from knowngood.measure.bracket import Bracket
from knowngood.measure.fuel_blend import PETROL_AIR, PETROL_KG_L
from knowngood.measure.given import above_zero, between, not_below_zero, whole

WASHED_SHARE = Bracket(0.01, 0.03, 0.10)
"""Share of the fuel of a dead cylinder that passes its rings instead of leaving by the exhaust (from memory)."""
CAUTION_PCT = 2.5
CHANGE_PCT = 4.0
"""Fuel in the oil by volume: a look from about 2.5 %, action above 4 to 5 % (oil laboratories, common practice)."""


@dataclass(frozen=True, slots=True)
class FuelInOil:
    """Fuel washed into the oil [mL] and its share [% by volume].

    `word` is 'change the oil' (even the low end is over 4 %), 'leave it' (even the high end is under 2.5 %) or
    'smell and look at the dipstick' (in between).
    """

    fuel_ml: Bracket
    share_pct: Bracket
    fed_ml: float
    fed_se_ml: float
    word: str


def fuel_washed_into_oil(
    air_flow_g_s: float,
    cylinders: int,
    minutes: float,
    oil_l: float,
    *,
    dead_cylinders: int = 1,
    washed_share: Bracket = WASHED_SHARE,
    air_flow_se_g_s: float | None = None,
) -> FuelInOil:
    """Fuel that dead cylinders may have put into the oil.

    A dead cylinder is fed its share of the engine's fuel; most leaves by the exhaust, some passes the rings.

    Parameters
    ----------
    air_flow_g_s : float [g/s]
        Mean air flow of the engine while it ran like this.
    cylinders : int
        Cylinders of the engine.
    minutes : float [min]
        Time it ran with fuel to the dead cylinders.
    oil_l : float [L]
        Oil in the sump.
    dead_cylinders : int
        Cylinders that do not burn but are fed.
    washed_share : Bracket
        Share of their fuel that passes the rings.
    air_flow_se_g_s : float [g/s]
        One standard error of the flow; 5 % when left out.

    Returns
    -------
    fuel : FuelInOil

    Raises
    ------
    NotMeasurable
        A number is not above zero, or there are more dead cylinders than cylinders.

    Notes
    -----
    Cannot tell: the true share, which depends on warmth and rings; a laboratory does. A computer that stops feeding a
    missing cylinder washes nothing. Hot running afterwards drives fuel out again. The catalyst got the rest.

    References
    ----------
    oil_laboratories : fuel dilution limits of oil laboratories, 2.5 to 5 % by volume (common practice).

    Examples
    --------
    >>> fuel = fuel_washed_into_oil(4.0, 4, 60.0, 4.5)
    >>> f"{fuel.fuel_ml.low:.0f} to {fuel.fuel_ml.high:.0f} mL, {fuel.share_pct.high:.1f} %: {fuel.word}"
    '3 to 33 mL, 0.7 %: leave it'
    """
    n = whole("Number of cylinders", cylinders, 1)
    dead = between("Number of dead cylinders", whole("Number of dead cylinders", dead_cylinders, 1), 1, n, "")
    engine_fuel_g_s = above_zero("Air flow", air_flow_g_s, "g/s") / PETROL_AIR
    fed_ml = engine_fuel_g_s / PETROL_KG_L * 60.0 * above_zero("Running time", minutes, "min") * dead / n
    above_zero("Lowest share washed", washed_share.low, "")
    ml = Bracket(*(fed_ml * share for share in (washed_share.low, washed_share.value, washed_share.high)))
    oil_ml = 1000.0 * above_zero("Oil in the sump", oil_l, "L")
    pct = Bracket(*(100.0 * fuel / (oil_ml + fuel) for fuel in (ml.low, ml.value, ml.high)))
    word = "smell and look at the dipstick"
    if pct.low > CHANGE_PCT:
        word = "change the oil"
    elif pct.high < CAUTION_PCT:
        word = "leave it"
    air_se = (
        0.05 * air_flow_g_s if air_flow_se_g_s is None else not_below_zero("Air flow error", air_flow_se_g_s, "g/s")
    )
    return FuelInOil(ml, pct, fed_ml, fed_ml * air_se / air_flow_g_s, word)
