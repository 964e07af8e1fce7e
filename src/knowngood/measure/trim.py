"""Fuel trims: the total, where it stands, bank against bank, and the trim that a known error would cause.

Sign by action: + the computer adds fuel (it measured lean), - it takes fuel away. Old lists say it the other way round.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from knowngood.measure.carried import with_error
from knowngood.measure.given import between, finite, not_below_zero, resolved

USUAL_PCT = 8.0
"""Trim of a healthy engine stays inside this, some say 10: common practice."""
SUSPECT_PCT = 10.0
"""Trim beyond this is suspect: common practice."""
STEP_PCT = 100.0 / 128.0
"""Smallest step of a trim shown by the open standard: SAE J1979, one byte."""
SHORT_SE_PCT = 3.5
"""Scatter of one short trim reading on a steady warm engine: own analysis of 48 drives of one healthy car."""
LONG_SE_PCT = STEP_PCT / math.sqrt(12.0)
"""Rounding of one byte; a long trim moves in minutes."""
BETWEEN_DRIVES_PCT = 2.1
"""Scatter of a total trim between drives with nothing changed: own analysis of 48 drives of one healthy car."""


@dataclass(frozen=True, slots=True)
class TrimStanding:
    """Where a total trim stands.

    `word` is 'usual' (inside 8 %), 'edge' (8 to 10 %) or 'beyond' (over 10 %); `beyond_chance` is the chance that the
    trim without reading error is over 10 %; `action` is 'adds fuel', 'takes fuel away' or 'neither'.
    """

    total_pct: float
    se_pct: float
    word: str
    beyond_chance: float
    action: str


@dataclass(frozen=True, slots=True)
class BankSplit:
    """What two banks share and where they differ [%].

    `verdict` is 'usual', 'both banks', 'bank 1', 'bank 2' or 'banks differ' (neither is near zero).
    """

    shared_pct: float
    shared_se_pct: float
    difference_pct: float
    difference_se_pct: float
    verdict: str


def total_trim(
    short_pct: float, long_pct: float, *, short_se_pct: float = SHORT_SE_PCT, long_se_pct: float = LONG_SE_PCT
) -> tuple[float, float]:
    """Both trims together: they multiply.

    Parameters
    ----------
    short_pct, long_pct : float [%]
        Short and long trim of one bank at the same moment, 0 for none.
    short_se_pct, long_se_pct : float [%]
        One standard error of each.

    Returns
    -------
    total_pct, se : tuple of float [%], [%]

    Raises
    ------
    NotMeasurable
        A trim is not finite or outside -100 to 100 %.

    Notes
    -----
    Cannot tell: anything in open loop, where the short trim is not fed by the oxygen sensor.

    References
    ----------
    common_practice : total = (1 + short) (1 + long) - 1, near to their sum.

    Examples
    --------
    >>> total_pct, se = total_trim(10.0, 10.0)
    >>> f"{total_pct:.1f} ± {se:.1f} %"
    '21.0 ± 3.9 %'
    """
    between("Short trim", short_pct, -100.0, 100.0, "%")
    between("Long trim", long_pct, -100.0, 100.0, "%")
    not_below_zero("Standard error of the short trim", short_se_pct, "%")
    not_below_zero("Standard error of the long trim", long_se_pct, "%")
    return with_error(
        lambda short, long: 100.0 * ((1.0 + short / 100.0) * (1.0 + long / 100.0) - 1.0),
        (short_pct, long_pct),
        (short_se_pct, long_se_pct),
    )


def trim_standing(total_pct: float, se_pct: float) -> TrimStanding:
    """Where a total trim stands against the trade's windows.

    Parameters
    ----------
    total_pct, se_pct : float [%]
        Total trim and its standard error.

    Returns
    -------
    standing : TrimStanding

    Raises
    ------
    NotMeasurable
        A number is not finite, or the standard error is negative.

    Notes
    -----
    Cannot tell: health from a small trim. A car that was just cleared, or is in open loop, shows none; and two errors
    of opposite sign cancel.

    References
    ----------
    common_practice : usual within 8 %, some say 10 %; beyond 10 % suspect.

    Examples
    --------
    >>> standing = trim_standing(14.0, 3.0)
    >>> standing.word, standing.action, f"{standing.beyond_chance:.2f}"
    ('beyond', 'adds fuel', '0.91')
    """
    size, se = abs(finite("Total trim", total_pct, "%")), not_below_zero("Standard error of the trim", se_pct, "%")
    word = "usual" if size <= USUAL_PCT else "edge" if size <= SUSPECT_PCT else "beyond"
    action = "adds fuel" if total_pct > 0 else "takes fuel away" if total_pct < 0 else "neither"
    if se == 0.0:
        return TrimStanding(total_pct, se, word, float(size > SUSPECT_PCT), action)
    outside = _above((SUSPECT_PCT - total_pct) / se) + _above((SUSPECT_PCT + total_pct) / se)
    return TrimStanding(total_pct, se, word, outside, action)


def bank_split(
    bank_1_pct: float,
    bank_2_pct: float,
    *,
    bank_1_se_pct: float = BETWEEN_DRIVES_PCT,
    bank_2_se_pct: float = BETWEEN_DRIVES_PCT,
) -> BankSplit:
    """Whether a trim error is shared by both banks or sits on one.

    What both share lies before the manifold divides (meter, pump, pressure, fuel); what one has alone lies on it.

    Parameters
    ----------
    bank_1_pct, bank_2_pct : float [%]
        Total trim of each bank at the same moment.
    bank_1_se_pct, bank_2_se_pct : float [%]
        One standard error of each; 2.1 is the scatter between drives of one healthy car.

    Returns
    -------
    split : BankSplit

    Raises
    ------
    NotMeasurable
        A trim is not finite or outside -100 to 100 %, or a standard error is negative.

    Notes
    -----
    Cannot tell: which side is which on this engine, nor a lazy oxygen sensor from a wrong mixture on its bank.

    References
    ----------
    common_practice : one bank only, then look on that bank.
    own_drives : own analysis of 48 drives of one healthy car, 2.1 % between drives.

    Examples
    --------
    >>> bank_split(19.0, 2.0).verdict, bank_split(17.0, 15.0).verdict
    ('bank 1', 'both banks')
    """
    one = between("Trim of bank 1", bank_1_pct, -100.0, 100.0, "%")
    two = between("Trim of bank 2", bank_2_pct, -100.0, 100.0, "%")
    se = math.hypot(
        not_below_zero("Standard error of bank 1", bank_1_se_pct, "%"),
        not_below_zero("Standard error of bank 2", bank_2_se_pct, "%"),
    )
    differ = abs(one - two) > 3.0 * se
    far = [abs(bank) > SUSPECT_PCT for bank in (one, two)]
    if differ and far[0] != far[1]:
        verdict = "bank 1" if far[0] else "bank 2"
    elif differ:
        verdict = "banks differ"
    else:
        verdict = "both banks" if any(far) else "usual"
    return BankSplit(0.5 * (one + two), 0.5 * se, one - two, se, verdict)


def meter_trim(reads_share: float, *, share_se: float = 0.0) -> tuple[float, float]:
    """Trim caused by an air meter that reads too little or too much.

    The computer fuels the air it is told of: trim = 1 / share - 1, the same at every load.

    Parameters
    ----------
    reads_share : float
        What the meter reads as a share of the true flow, 0.9 for 10 % too little.
    share_se : float
        One standard error of it; taken as given when nothing is said.

    Returns
    -------
    trim_pct, se : tuple of float [%], [%]

    Raises
    ------
    NotMeasurable
        The share is not above zero by three of its standard errors.

    Notes
    -----
    Cannot tell: a meter whose error changes with flow, as soiled ones do.

    Examples
    --------
    >>> f"{meter_trim(0.9)[0]:+.1f} %"
    '+11.1 %'
    """
    resolved("Share that the meter reads", reads_share, share_se, "")
    return with_error(lambda share: 100.0 * (1.0 / share - 1.0), (reads_share,), (share_se,))


def pressure_trim(
    pressure_kpa: float, wanted_kpa: float, *, pressure_se_kpa: float = 0.0, wanted_se_kpa: float = 0.0
) -> tuple[float, float]:
    """Trim caused by a regulated fuel pressure that is off.

    Injector flow goes with the root of the pressure across it: trim = 1 / sqrt(pressure / wanted) - 1 at every load.

    Parameters
    ----------
    pressure_kpa, wanted_kpa : float [kPa]
        Pressure across the injector (rail less manifold) as it is, and as it should be.
    pressure_se_kpa, wanted_se_kpa : float [kPa]
        One standard error of each; both are taken as given when nothing is said.

    Returns
    -------
    trim_pct, se : tuple of float [%], [%]

    Raises
    ------
    NotMeasurable
        A pressure is not above zero by three of its standard errors.

    Notes
    -----
    Cannot tell: engines with a rail pressure sensor, whose computer lengthens the pulse by itself; and a rail that
    sinks with flow, where the trim rises with load.

    Examples
    --------
    >>> f"{pressure_trim(150.0, 300.0)[0]:+.1f} %"
    '+41.4 %'
    """
    resolved("Fuel pressure", pressure_kpa, pressure_se_kpa, "kPa")
    resolved("Fuel pressure wanted", wanted_kpa, wanted_se_kpa, "kPa")
    return with_error(
        lambda pressure, wanted: 100.0 * (math.sqrt(wanted / pressure) - 1.0),
        (pressure_kpa, wanted_kpa),
        (pressure_se_kpa, wanted_se_kpa),
    )


def _above(z: float) -> float:
    """Chance that a normal reading lies more than so many standard deviations above its mean."""
    return 0.5 * math.erfc(z / math.sqrt(2.0))
