"""What a meter's printed accuracy means for one reading, and the resistance of its own leads."""

from __future__ import annotations

import math

from knowngood.errors import NotMeasurable
from knowngood.measure.given import finite, not_below_zero


def meter_limit(reading: float, *, percent: float, digits: float, resolution: float) -> float:
    """Largest error of a reading by the meter's printed accuracy: percent of reading plus digits.

    Parameters
    ----------
    reading : float
        As shown, in any unit.
    percent : float [percent]
        Share of the reading.
    digits : float
        Counts of the last digit.
    resolution : float
        One count, in the unit of the reading.

    Returns
    -------
    limit : float
        In the unit of the reading.

    Raises
    ------
    NotMeasurable
        A number is not finite, or one of the three is below zero.

    Notes
    -----
    Cannot tell: a meter that was dropped, a weak meter battery, or a range chosen wrong.

    References
    ----------
    meter_notes : accuracy notes of makers of meters, "±(percent of reading + digits)".

    Examples
    --------
    >>> round(meter_limit(120.0, percent=1.0, digits=3, resolution=0.1), 2)
    1.5
    """
    share = not_below_zero("Percent of reading", percent, "%") / 100.0
    counts = not_below_zero("Digits", digits, "") * not_below_zero("Resolution", resolution, "")
    return share * abs(finite("Reading", reading, "")) + counts


def meter_se(reading: float, *, percent: float, digits: float, resolution: float) -> float:
    """One standard error of a reading: the printed limit over the root of three.

    Any error inside the limit is taken as equally likely.

    Parameters
    ----------
    reading, percent, digits, resolution
        As in `meter_limit`.

    Returns
    -------
    se : float
        In the unit of the reading.

    Raises
    ------
    NotMeasurable
        As in `meter_limit`.

    Notes
    -----
    Cannot tell: errors that two readings of one meter share; they cancel in a comparison and do not add there.

    References
    ----------
    jcgm_100 : JCGM 100:2008, 4.3.7, evenly spread between limits.

    Examples
    --------
    >>> round(meter_se(5100.0, percent=1.0, digits=3, resolution=10.0), 1)
    46.8
    """
    return meter_limit(reading, percent=percent, digits=digits, resolution=resolution) / math.sqrt(3.0)


def less_leads(
    ohms: float, leads_ohm: float, *, ohms_se: float = 0.06, leads_se_ohm: float = 0.06
) -> tuple[float, float]:
    """A low resistance without the meter's own leads.

    Parameters
    ----------
    ohms, ohms_se : float [ohm]
        As shown, and its standard error (0.1 ohm, evenly spread, as a common meter shows).
    leads_ohm, leads_se_ohm : float [ohm]
        What the meter shows with its probes held together, and its standard error.

    Returns
    -------
    ohms, se : tuple of float [ohm], [ohm]

    Raises
    ------
    NotMeasurable
        The result would be below zero by more than three standard errors, or a number is not finite or negative.

    Notes
    -----
    Cannot tell: a joint or cable under about a quarter ohm. Measure the drop under load instead.

    References
    ----------
    meter_notes : leads of 0.2 to 0.5 ohm are usual; subtract them on low ohms.

    Examples
    --------
    >>> ohms, se = less_leads(0.9, 0.3)
    >>> f"{ohms:.1f} ± {se:.2f} Ω"
    '0.6 ± 0.08 Ω'
    """
    shown, leads = not_below_zero("Resistance", ohms, "Ω"), not_below_zero("Resistance of the leads", leads_ohm, "Ω")
    se = math.hypot(not_below_zero("Resistance error", ohms_se, "Ω"), not_below_zero("Lead error", leads_se_ohm, "Ω"))
    if shown - leads < -3.0 * se:
        raise NotMeasurable(
            f"The part shows {shown:g} Ω, the leads alone {leads:g} Ω.",
            "Hold the probes together firmly and read the leads again.",
        )
    return max(0.0, shown - leads), se
