"""Freezing point of coolant by its share of glycol."""

from __future__ import annotations

import math

from knowngood.errors import Refused
from knowngood.measure.given import between
from knowngood.measure.spread import spread
from knowngood.measure.table import between_rows

FREEZING_C = {
    "ethylene": ((0, 0.0), (10, -3.6), (20, -9.0), (30, -15.7), (40, -24.8), (50, -36.8), (60, -52.0)),
    "propylene": (
        (0, 0.0), (5, -1.1), (10, -2.2), (15, -3.9), (20, -6.7), (25, -8.9),
        (30, -12.8), (35, -16.1), (40, -20.6), (45, -26.7), (50, -33.3),
    ),
}  # fmt: skip
"""Glycol by volume [%] and first ice [°C]."""
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
    if kind not in FREEZING_C:
        raise Refused(f"No glycol is called '{kind}'.", f"Give one of: {', '.join(FREEZING_C)}.")
    table = FREEZING_C[kind]
    share = between("Glycol", glycol_pct, 0.0, float(table[-1][0]), "%")
    freezing_c, read_se = spread(lambda pct: between_rows(pct, table), (share,), (glycol_se_pct,))
    return freezing_c, math.hypot(read_se, FREEZING_SE_C)
