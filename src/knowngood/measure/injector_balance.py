"""Injectors of one engine against each other: amounts caught on a bench, or pressure drops in the rail."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from operator import itemgetter
from statistics import fmean, median

from knowngood.errors import NotMeasurable
from knowngood.measure.carried import with_error
from knowngood.measure.given import above_zero, between, finite, not_below_zero

FLOW_LIMIT_PCT = 10.0
"""Bench flow within 5 to 10 % of the others: common practice, from memory."""
DROP_LIMIT_KPA = 10.0
"""Rail pressure drop of one pulse train within 10 kPa (1.5 psi) of the others: common practice, from memory."""


@dataclass(frozen=True, slots=True)
class InjectorShare:
    """One injector against the middle of all.

    `from_middle` is its deviation from the median, `from_mean` from the mean ([%] for flow, [kPa] for drops), each with
    its standard error; `word` is 'alike', 'low', 'high' or 'at the limit' (within two standard errors of it).
    """

    cylinder: int
    from_middle: float
    from_middle_se: float
    from_mean: float
    from_mean_se: float
    word: str


def flow_balance(
    amounts_ml: Mapping[int, float], *, amount_se_ml: float = 0.5, limit_pct: float = FLOW_LIMIT_PCT
) -> tuple[InjectorShare, ...]:
    """Injectors compared by what each delivered in the same time.

    Compared with the median: one dead injector drags the mean and would accuse the good ones.

    Parameters
    ----------
    amounts_ml : mapping of int to float [mL]
        Amount caught by cylinder; injectors that were not measured are left out, not set to zero.
    amount_se_ml : float [mL]
        One standard error of an amount.
    limit_pct : float [%]
        Deviation that is still alike.

    Returns
    -------
    shares : tuple of InjectorShare
        In the order given, deviations in per cent.

    Raises
    ------
    NotMeasurable
        Fewer than three injectors, a negative or broken amount, or half of them delivered nothing.

    Notes
    -----
    Cannot tell: the flow in the engine, spray shape, or an injector that sticks only when hot; all narrowed alike.

    Examples
    --------
    >>> [share.word for share in flow_balance({1: 50.0, 2: 51.0, 3: 38.0, 4: 49.0})]
    ['alike', 'alike', 'low', 'alike']
    """
    amounts = {number: not_below_zero(f"Amount of injector {number}", ml, "mL") for number, ml in amounts_ml.items()}
    _three_or_more(amounts)
    middle = median(amounts.values())
    if middle <= 3.0 * amount_se_ml:
        raise NotMeasurable(
            f"The middle amount is {middle:g} mL with an error of {amount_se_ml:g} mL.",
            "Run longer, or feed the injectors.",
        )
    se = above_zero("Standard error of an amount", amount_se_ml, "mL")
    limit = between("Limit", limit_pct, 0.1, 100.0, "%")
    return _shares(amounts, se, limit, lambda ml, of: 100.0 * (ml / of - 1.0))


def drop_balance(
    drops_kpa: Mapping[int, float], *, drop_se_kpa: float = 2.0, limit_kpa: float = DROP_LIMIT_KPA
) -> tuple[InjectorShare, ...]:
    """Injectors compared by the pressure each takes from a shut rail with the same train of pulses.

    Parameters
    ----------
    drops_kpa : mapping of int to float [kPa]
        Pressure drop by cylinder, each from the same starting pressure.
    drop_se_kpa : float [kPa]
        One standard error of a drop (two readings of a gauge).
    limit_kpa : float [kPa]
        Deviation that is still alike.

    Returns
    -------
    shares : tuple of InjectorShare
        In the order given, deviations in kilopascals; 'low' means it delivers too little.

    Raises
    ------
    NotMeasurable
        Fewer than three injectors, or a drop that is not finite.

    Notes
    -----
    Cannot tell: a coil that fails hot; the bench does. A rail that leaks by itself makes every drop too large.

    Examples
    --------
    >>> [share.word for share in drop_balance({1: 60.0, 2: 62.0, 3: 41.0, 4: 58.0})]
    ['alike', 'alike', 'low', 'alike']
    """
    drops = {number: finite(f"Drop of injector {number}", kpa, "kPa") for number, kpa in drops_kpa.items()}
    _three_or_more(drops)
    se = above_zero("Standard error of a drop", drop_se_kpa, "kPa")
    return _shares(drops, se, above_zero("Limit", limit_kpa, "kPa"), lambda kpa, of: kpa - of)


def _shares(
    values: Mapping[int, float], se: float, limit: float, off: Callable[[float, float], float]
) -> tuple[InjectorShare, ...]:
    """Each against median and mean, which err with it: they are made of the same readings."""
    row, errors = list(values.values()), [se] * len(values)
    found = []
    for place, number in enumerate(values):
        own = itemgetter(place)
        from_middle, middle_se = with_error(lambda *all_, own=own: off(own(all_), median(all_)), row, errors)
        from_mean, mean_se = with_error(lambda *all_, own=own: off(own(all_), fmean(all_)), row, errors)
        word = _word(from_middle, middle_se, limit)
        found.append(InjectorShare(number, from_middle, middle_se, from_mean, mean_se, word))
    return tuple(found)


def _three_or_more(values: Mapping[int, float]) -> None:
    if len(values) < 3:
        raise NotMeasurable(f"{len(values)} injectors measured.", "Three or more are needed to say which one is off.")


def _word(deviation: float, se: float, limit: float) -> str:
    if abs(abs(deviation) - limit) <= 2.0 * se:
        return "at the limit"
    if abs(deviation) < limit:
        return "alike"
    return "low" if deviation < 0 else "high"
