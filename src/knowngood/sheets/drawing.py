"""What the drawings of a sheet share: the width of its column, how words are written, and a scale for readings.

Lengths are in the drawing's own unit; the form of print makes the whole drawing as wide as the column.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

WIDTH = 620
SERIF = 'font-family="Libertinus Serif, serif" fill="black"'
ROOM_SHARE = 0.08
"""Of the span of the readings, left free at either end so that no stroke stands on the rim."""


def opening(width: float, height: float, *, top: float = 0) -> str:
    """The start of an SVG that shows from ``top`` downward."""
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 {top:g} {width:g} {height:g}">'


def scale(readings: Iterable[float], left: float, right: float) -> Callable[[float], float]:
    """Where a reading stands between two edges, on a scale that holds all of them with some room.

    Parameters
    ----------
    readings : iterable of float
        All that has to be on the scale, of one unit; at least one.
    left, right : float
        Edges of the scale on the drawing.

    Returns
    -------
    callable
        From a reading to its place, a tenth of the drawing's unit fine.

    Examples
    --------
    >>> place = scale([100.0, 200.0], 0.0, 116.0)
    >>> place(100.0), place(200.0)
    (8.0, 108.0)
    """
    all_of_them = list(readings)
    low, high = min(all_of_them), max(all_of_them)
    # readings that are all alike stand in the middle of a scale of their own size
    room = ROOM_SHARE * (high - low) or 0.1 * abs(high) or 1.0
    low, high = low - room, high + room
    return lambda value: round(left + (right - left) * (value - low) / (high - low), 1)
