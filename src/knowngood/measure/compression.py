"""Cranking compression of a row of cylinders: first against each other, then against a rule.

Pressures are gauge pressures. A cylinder that was not measured is None and stays so: it is never 0.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from knowngood.errors import NotMeasurable
from knowngood.measure.carried import with_error
from knowngood.measure.constant import SEA_LEVEL_KPA
from knowngood.measure.given import above_zero, between, not_below_zero

GAUGE_SE_KPA = 20.0
"""One standard error of a reading: gauge, hose and number of puffs together, about 3 psi (from memory)."""


@dataclass(frozen=True, slots=True)
class SpreadRule:
    """A rule for a row: the lowest is at least `least_share` of the highest, and none is under `least_kpa`."""

    name: str
    least_share: float
    least_kpa: float
    source: str


SPREAD_RULES: tuple[SpreadRule, ...] = (
    SpreadRule("three quarters", 0.75, 0.0, "common practice, one maker's text"),
    SpreadRule("seventy percent", 0.70, 690.0, "common practice, another maker's text: none under 690 kPa (100 psi)"),
    SpreadRule("ten percent apart", 0.90, 0.0, "common practice"),
    SpreadRule("twenty percent apart", 0.80, 690.0, "common practice, with none under 100 psi"),
)
"""Rules in use. They disagree; the first is the default, the maker's figure for the car wins over all of them."""


@dataclass(frozen=True, slots=True)
class CompressionRow:
    """A row of cylinders; places are counted from 1.

    `lowest_share` is lowest over highest with its standard error; `low` the places that break the rule, `doubtful`
    those within two standard errors of breaking it; `not_measured` the places left out; `passes` is false when any
    place is low.
    """

    lowest_kpa: float
    highest_kpa: float
    mean_kpa: float
    mean_se_kpa: float
    lowest_share: float
    lowest_share_se: float
    low: tuple[int, ...]
    doubtful: tuple[int, ...]
    not_measured: tuple[int, ...]
    passes: bool


def compression_row(
    pressures_kpa: Sequence[float | None], *, rule: SpreadRule = SPREAD_RULES[0], gauge_se_kpa: float = GAUGE_SE_KPA
) -> CompressionRow:
    """Cylinders against the best one.

    The ratio to the highest is used because starter, gauge, heat and altitude act on all cylinders alike.

    Parameters
    ----------
    pressures_kpa : sequence of float or None [kPa]
        Gauge reading of each cylinder in counting order; None where not measured, 0 where none was seen.
    rule : SpreadRule
        Rule to judge by.
    gauge_se_kpa : float [kPa]
        One standard error of a reading.

    Returns
    -------
    CompressionRow

    Raises
    ------
    NotMeasurable
        Fewer than two cylinders were measured, all read 0, or a reading is not finite or negative.

    Notes
    -----
    Cannot tell: wear that all cylinders share, a leak from a late valve, or which part leaks.

    References
    ----------
    common_practice : 75 %, 70 % with 690 kPa, 10 % and 20 % rules of workshop texts.

    Examples
    --------
    >>> row = compression_row([1206.0, 1172.0, 1206.0, 276.0])
    >>> row.low, f"{row.lowest_share:.2f} ± {row.lowest_share_se:.2f}"
    ((4,), '0.23 ± 0.02')
    """
    places = [place for place, value in enumerate(pressures_kpa, start=1) if value is not None]
    known = [not_below_zero("Compression", value, "kPa") for value in pressures_kpa if value is not None]
    error = not_below_zero("Gauge error", gauge_se_kpa, "kPa")
    if len(known) < 2:
        raise NotMeasurable(f"Compression: {len(known)} measured.", "Measure at least two cylinders, better all.")
    lowest, highest = min(known), max(known)
    if highest == 0.0:
        raise NotMeasurable(
            "Compression is 0 in every cylinder measured.",
            "Check the gauge, that the engine turns, and that the camshaft turns with it.",
        )
    share, share_se = with_error(lambda low, high: low / high, (lowest, highest), (error, error))
    by_share = rule.least_share * highest >= rule.least_kpa
    limit = rule.least_share * highest if by_share else rule.least_kpa
    # a fixed floor has no error of its own; a share of the highest errs with it
    limit_se = error * math.hypot(1.0, rule.least_share) if by_share else error
    below = tuple(place for place, value in zip(places, known, strict=True) if value < limit - 1e-9)
    near = tuple(place for place, value in zip(places, known, strict=True) if abs(value - limit) < 2.0 * limit_se)
    return CompressionRow(
        lowest_kpa=lowest,
        highest_kpa=highest,
        mean_kpa=sum(known) / len(known),
        mean_se_kpa=error / math.sqrt(len(known)),
        lowest_share=share,
        lowest_share_se=share_se,
        low=below,
        doubtful=near,
        not_measured=tuple(place for place, value in enumerate(pressures_kpa, start=1) if value is None),
        passes=not below,
    )


def wet_gain(
    dry_kpa: float, wet_kpa: float, *, gauge_se_kpa: float = GAUGE_SE_KPA, repeat_se_kpa: float = 15.0
) -> tuple[float, float]:
    """How much the oil brought: wet reading less dry reading.

    Parameters
    ----------
    dry_kpa, wet_kpa : float [kPa]
        Gauge readings before and after about 15 ml of engine oil went in, same gauge, same number of puffs.
    gauge_se_kpa : float [kPa]
        One standard error of each reading.
    repeat_se_kpa : float [kPa]
        How far a repeat scatters by itself (from memory).

    Returns
    -------
    gain_kpa, se : tuple of float [kPa], [kPa]

    Raises
    ------
    NotMeasurable
        A reading is not finite or negative.

    Notes
    -----
    Cannot tell: rings from oil that merely filled room (`oil_volume_gain` says how much that can be), nor anything
    on a cylinder whose rings and valves both leak.

    References
    ----------
    common_practice : wet compression test, a tablespoon (15 ml) of engine oil.

    Examples
    --------
    >>> gain_kpa, se = wet_gain(690.0, 1030.0)
    >>> f"{gain_kpa:.0f} ± {se:.0f} kPa"
    '340 ± 32 kPa'
    """
    dry = not_below_zero("Dry compression", dry_kpa, "kPa")
    wet = not_below_zero("Wet compression", wet_kpa, "kPa")
    gauge = not_below_zero("Gauge error", gauge_se_kpa, "kPa")
    return wet - dry, math.hypot(gauge, gauge, not_below_zero("Repeat error", repeat_se_kpa, "kPa"))


def oil_volume_gain(
    dry_kpa: float,
    *,
    swept_ml: float,
    ratio: float,
    oil_ml: float = 15.0,
    exponent: float = 1.25,
    dry_se_kpa: float = GAUGE_SE_KPA,
    swept_se_ml: float = 1.0,
    ratio_se: float = 0.2,
    oil_se_ml: float = 2.0,
    exponent_se: float = 0.05,
) -> tuple[float, float]:
    """The most that oil can raise a reading just by taking up room above the piston.

    Oil that stays in the chamber makes the chamber smaller. All of it staying is the upper end: a gain beyond this
    is sealing.

    Parameters
    ----------
    dry_kpa : float [kPa]
        Gauge reading without oil.
    swept_ml : float [ml]
        Swept volume of one cylinder.
    ratio : float
        Compression ratio, 4 to 20.
    oil_ml : float [ml]
        Oil put in.
    exponent : float
        Exponent of the compression, 1.1 to 1.4.
    dry_se_kpa, swept_se_ml, ratio_se, oil_se_ml, exponent_se : float [kPa], [ml], ratio, [ml], exponent
        One standard error of each: the gauge, a chamber that differs a little, a spoon, 1.2 to 1.3.

    Returns
    -------
    gain_kpa, se : tuple of float [kPa], [kPa]

    Raises
    ------
    NotMeasurable
        A number is not finite or outside its span, or the oil would fill the chamber: the engine locks.

    Notes
    -----
    Cannot tell: how much oil stayed. Most of it runs past the piston, so the true part is smaller.

    References
    ----------
    geometry : clearance volume = swept volume / (ratio - 1); polytropic compression.

    Examples
    --------
    >>> gain_kpa, se = oil_volume_gain(690.0, swept_ml=499.0, ratio=9.5)
    >>> f"{gain_kpa:.0f} ± {se:.0f} kPa"
    '315 ± 62 kPa'
    """
    dry = not_below_zero("Dry compression", dry_kpa, "kPa")
    chamber_ml = above_zero("Swept volume", swept_ml, "ml") / (between("Compression ratio", ratio, 4.0, 20.0, "") - 1.0)
    oil = not_below_zero("Oil", oil_ml, "ml")
    power = between("Exponent", exponent, 1.1, 1.4, "")
    if oil > 0.5 * chamber_ml:
        raise NotMeasurable(
            f"{oil:g} ml of oil in a chamber of {chamber_ml:.0f} ml: the engine may lock on it.",
            "Use a tablespoon (15 ml) or less.",
        )

    def gain(shown: float, swept: float, static: float, poured: float, bend: float) -> float:
        chamber = swept / (static - 1.0)
        with_oil = (swept + chamber - poured) / (chamber - poured)
        return (shown + SEA_LEVEL_KPA) * ((with_oil / static) ** bend - 1.0)

    errors = (dry_se_kpa, swept_se_ml, ratio_se, oil_se_ml if oil else 0.0, exponent_se)
    return with_error(gain, (dry, swept_ml, ratio, oil, power), errors)
