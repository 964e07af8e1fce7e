"""Freezing point of coolant by its share of glycol."""

from __future__ import annotations

import math

from knowngood.measure.carried import with_error
from knowngood.measure.given import between
from knowngood.measure.glycol import glycol_named
from knowngood.measure.table import between_rows

FREEZING_SE_C = 1.0
"""Spread between published tables."""


def freezing_point(glycol_pct: float, kind: str = "ethylene", *, glycol_se_pct: float = 3.0) -> tuple[float, float]:
    """Temperature at which the first ice forms, straight lines between the points of a table.

    Parameters
    ----------
    glycol_pct : float [%]
        Glycol by volume; up to 60 for ethylene, 50 for propylene glycol.
    kind : str
        'ethylene' or 'propylene'.
    glycol_se_pct : float [%]
        One standard error of the share; 3 % is a refractometer or a float tester.

    Returns
    -------
    freezing_c, se : tuple of float [°C], [°C]

    Raises
    ------
    Refused
        The kind is not one of the two.
    NotMeasurable
        The share is not finite or outside the table.

    Notes
    -----
    Cannot tell: protection of mixed or old coolant; a refractometer of the right kind of glycol does. Over 70 %
    ethylene glycol the freezing point rises again.

    References
    ----------
    ashrae_fundamentals : ASHRAE Handbook Fundamentals, secondary coolants, ethylene glycol by volume.
    lange : Lange's Handbook of Chemistry, table 5.13, propylene glycol by volume.

    Examples
    --------
    >>> freezing_c, se = freezing_point(45)
    >>> f"{freezing_c:.0f} ± {se:.0f} °C"
    '-31 ± 4 °C'
    """
    table = glycol_named(kind).first_ice
    share = between("Glycol", glycol_pct, 0.0, table[-1][0], "%")
    freezing_c, read_se = with_error(lambda pct: between_rows(pct, table), (share,), (glycol_se_pct,))
    return freezing_c, math.hypot(read_se, FREEZING_SE_C)
