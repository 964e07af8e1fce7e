"""How the errors of the readings reach the result."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence

from knowngood.errors import NotMeasurable
from knowngood.measure.given import not_below_zero


def with_error(compute: Callable[..., float], values: Sequence[float], errors: Sequence[float]) -> tuple[float, float]:
    """A result and its standard error, from independent readings.

    Each reading is moved up and down by one of its standard errors and half of
    the difference is that reading's part; the parts add in quadrature.

    Parameters
    ----------
    compute : callable
        The formula; takes the values in order, returns a float.
    values, errors : sequence of float
        The readings, and one standard error of each in the same unit.

    Returns
    -------
    value, se : tuple of float
        In the unit of the formula.

    Raises
    ------
    NotMeasurable
        A standard error is negative, not finite, or so large that it carries its reading out of the formula.

    Notes
    -----
    Cannot tell: anything about readings that err together (one meter used twice), or a formula that bends
    strongly within one standard error.

    References
    ----------
    jcgm_100 : JCGM 100:2008, Guide to the expression of uncertainty in measurement, 5.1.3 note 2.

    Examples
    --------
    >>> value, se = with_error(lambda volts, amps: volts / amps, (12.0, 4.0), (0.06, 0.02))
    >>> f"{value:.2f} ± {se:.3f}"
    '3.00 ± 0.021'
    """
    middle = compute(*values)
    parts = []
    for place, error in enumerate(errors):
        if not_below_zero(f"Standard error of the reading {values[place]:g}", error, "") == 0.0:
            continue
        up, down = list(values), list(values)
        up[place] += error
        down[place] -= error
        try:
            part = 0.5 * (compute(*up) - compute(*down))
        except (ArithmeticError, ValueError, TypeError):  # the last: a root of what a broken power made complex
            part = math.nan
        if isinstance(part, complex) or not math.isfinite(part):
            raise NotMeasurable(
                f"Standard error of the reading {values[place]:g} is {error:g}: too large to carry.",
                "Measure again with a finer instrument, or check the error and its unit.",
            )
        parts.append(part)
    return middle, math.hypot(*parts)
