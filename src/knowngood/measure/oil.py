"""Where the oil temperature stands."""

from __future__ import annotations

from knowngood.measure.given import between

NORMAL_C = (90.0, 110.0)
CONCERN_C = (130.0, 140.0)
"""Oil of a warm engine, and where concern begins: from memory, so a hint and never a limit."""


def oil_standing(oil_c: float) -> str:
    """Where the oil temperature of a warm engine stands.

    Parameters
    ----------
    oil_c : float [°C]
        Oil temperature in the sump or gallery.

    Returns
    -------
    word : str
        'cool', 'usual', 'warm', 'hot: ease off' or 'too hot: stop'.

    Raises
    ------
    NotMeasurable
        The temperature is not finite or outside -40 to 250 °C.

    Notes
    -----
    Cannot tell: oil pressure or level. Short runs never warm the oil; fuel and water stay in it below some 90 °C.

    References
    ----------
    common_practice : 90 to 110 °C usual, over 130 to 140 °C of concern (from memory).

    Examples
    --------
    >>> oil_standing(104.0), oil_standing(135.0)
    ('usual', 'hot: ease off')
    """
    celsius = between("Oil temperature", oil_c, -40.0, 250.0, "°C")
    if celsius < NORMAL_C[0]:
        return "cool"
    if celsius <= NORMAL_C[1]:
        return "usual"
    if celsius <= CONCERN_C[0]:
        return "warm"
    return "hot: ease off" if celsius <= CONCERN_C[1] else "too hot: stop"
