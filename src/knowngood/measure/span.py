"""A reading against the span it should lie in."""

from __future__ import annotations


def against_span(value: float, low: float, high: float, *, margin: float) -> str:
    """Where a reading lies, of numbers that were checked already and have one unit.

    Parameters
    ----------
    value : float
    low, high : float
        Ends of the span.
    margin : float
        Nearer than this to either end nothing is said: two standard errors, as everywhere here.

    Returns
    -------
    word : str
        `under`, `inside`, `over` or `cannot tell`.

    Examples
    --------
    >>> against_span(0.35, 0.5, 0.7, margin=0.06), against_span(0.48, 0.5, 0.7, margin=0.06)
    ('under', 'cannot tell')
    """
    if min(abs(value - low), abs(value - high)) < margin:
        return "cannot tell"
    return "under" if value < low else "over" if value > high else "inside"
