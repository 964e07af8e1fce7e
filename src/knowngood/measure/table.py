"""Values between the rows of a published table."""

from __future__ import annotations

import bisect
from collections.abc import Sequence

from knowngood.errors import NotMeasurable
from knowngood.measure.given import finite


def between_rows(at: float, rows: Sequence[tuple[float, float]]) -> float:
    """Value on the straight line between two neighbouring rows; the end row's value beyond the ends.

    Parameters
    ----------
    at : float
        Where, in the unit of the first column.
    rows : sequence of (float, float)
        Rows in rising order of the first column, two or more.

    Returns
    -------
    value : float
        In the unit of the second column.

    Raises
    ------
    NotMeasurable
        Fewer than two rows, rows out of order, or a place that is not finite.

    Notes
    -----
    Cannot tell: how the true curve bends between rows.

    References
    ----------
    arithmetic : linear interpolation.

    Examples
    --------
    >>> between_rows(12.5, [(12.0, 0.0), (13.0, 100.0)])
    50.0
    """
    columns = [row[0] for row in rows]
    if len(columns) < 2 or columns != sorted(columns):
        raise NotMeasurable(f"The first column is {columns}.", "Give two rows or more in rising order.")
    finite("Place in the table", at, "")
    if at <= columns[0]:
        return rows[0][1]
    if at >= columns[-1]:
        return rows[-1][1]
    place = bisect.bisect_right(columns, at)
    (x0, y0), (x1, y1) = rows[place - 1], rows[place]
    return y0 + (y1 - y0) * (at - x0) / (x1 - x0)
