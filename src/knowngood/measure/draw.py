"""Current a parked car takes, and how long the battery stands it."""

from __future__ import annotations

from dataclasses import dataclass

from knowngood.measure.carried import with_error
from knowngood.measure.given import above_zero, between, not_below_zero, resolved

LIMIT_MA = 35.0
USUAL_MA = 20.0
"""Parasitic draw of a sleeping car (common practice, a training course; makers give 10 to 50 mA)."""
ASLEEP_AFTER_MIN = 30.0
"""Modules may stay awake this long (same source; one maker gives 75 min)."""


@dataclass(frozen=True, slots=True)
class DrawVerdict:
    """A draw against its limit: `word` is `usual`, `within`, `over`, `awake` (read too soon) or `cannot tell`."""

    word: str
    limit_ma: float


def draw_verdict(
    draw_ma: float,
    waited_min: float,
    *,
    draw_se_ma: float = 1.0,
    limit_ma: float = LIMIT_MA,
    asleep_min: float = ASLEEP_AFTER_MIN,
) -> DrawVerdict:
    """The current of a car with everything off against what it may take.

    Parameters
    ----------
    draw_ma, draw_se_ma : float [mA]
        Reading and its standard error.
    waited_min : float [min]
        Since the car was locked and left alone.
    limit_ma : float [mA]
        Most it may take; the maker's figure wins.
    asleep_min : float [min]
        When its modules sleep.

    Returns
    -------
    DrawVerdict
        A high reading before the modules sleep is `awake`, not `over`.

    Raises
    ------
    NotMeasurable
        A number is not finite or below zero.

    Notes
    -----
    Cannot tell: a draw that comes and goes; record it over a night. Putting the meter in wakes modules.

    References
    ----------
    common_practice : under 35 mA, about 20 mA usual; makers 10 to 30, 25 to 50 and 5 to 25 mA.

    Examples
    --------
    >>> draw_verdict(240.0, 45.0).word, draw_verdict(240.0, 5.0).word
    ('over', 'awake')
    """
    draw, error = not_below_zero("Draw", draw_ma, "mA"), not_below_zero("Draw error", draw_se_ma, "mA")
    limit, waited = above_zero("Limit", limit_ma, "mA"), not_below_zero("Wait", waited_min, "min")
    asleep = not_below_zero("Time to sleep", asleep_min, "min")
    if abs(draw - limit) <= 2.0 * error:
        word = "cannot tell"
    elif draw > limit:
        word = "over" if waited >= asleep else "awake"
    else:
        word = "usual" if draw <= min(USUAL_MA, limit) else "within"
    return DrawVerdict(word, limit)


def days_to_share(
    draw_ma: float,
    capacity_ah: float,
    *,
    from_percent: float = 100.0,
    to_percent: float = 50.0,
    draw_se_ma: float = 1.0,
    capacity_se_ah: float = 5.0,
) -> tuple[float, float]:
    """Days until a parked car has drawn its battery down.

    Parameters
    ----------
    draw_ma, draw_se_ma : float [mA]
        Current with everything off, and its standard error.
    capacity_ah, capacity_se_ah : float [Ah]
        What the battery holds, and its standard error: a worn one holds less than its label.
    from_percent, to_percent : float [percent]
        State of charge at the start and at the end; half is where it will hardly crank in the cold.

    Returns
    -------
    days, se : tuple of float [d], [d]

    Raises
    ------
    NotMeasurable
        The draw is less than three standard errors, the start is not above the end, or a number is outside its span.

    Notes
    -----
    Cannot tell: what the battery loses by itself, a few percent a month and more when warm.

    References
    ----------
    arithmetic : days = share * capacity / (24 h * current).

    Examples
    --------
    >>> days, se = days_to_share(100.0, 60.0)
    >>> f"{days:.1f} ± {se:.1f} days"
    '12.5 ± 1.0 days'
    """
    draw = resolved("Draw", draw_ma, draw_se_ma, "mA")
    capacity = above_zero("Battery capacity", capacity_ah, "Ah")
    start = between("Charge at the start", from_percent, 0.0, 100.0, "%")
    end = between("Charge at the end", to_percent, 0.0, 100.0, "%")
    share = above_zero("Charge at the start less at the end", start - end, "%") / 100.0
    return with_error(
        lambda ma, ah: share * ah * 1000.0 / (24.0 * ma),
        (draw, capacity),
        (draw_se_ma, not_below_zero("Capacity error", capacity_se_ah, "Ah")),
    )
