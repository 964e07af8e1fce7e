"""A value that is known no better than a range."""

from __future__ import annotations

from dataclasses import dataclass

from knowngood.measure.given import between


@dataclass(frozen=True, slots=True)
class Bracket:
    """A best value and the range it lies in; the unit is that of the function that returned it.

    Parameters
    ----------
    low, value, high : float
        Smallest, best and largest value.

    Examples
    --------
    >>> Bracket(57.6, 72.0, 86.4).holds(60.0)
    True
    """

    low: float
    value: float
    high: float

    def holds(self, value: float) -> bool:
        """Whether a value lies inside, ends included."""
        return self.low <= value <= self.high


def two_sided_tail(confidence: float) -> float:
    """The chance left outside each end of a two-sided interval.

    Parameters
    ----------
    confidence : float
        Chance that the interval holds the truth, 0.5 to 0.9999.

    Returns
    -------
    tail : float

    Raises
    ------
    NotMeasurable
        The confidence is not finite or outside 0.5 to 0.9999.

    Examples
    --------
    >>> round(two_sided_tail(0.95), 6)
    0.025
    """
    return 0.5 * (1.0 - between("Confidence", confidence, 0.5, 0.9999, ""))
