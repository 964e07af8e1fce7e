"""How much voltage a place may lose under its usual load, with where the figure comes from."""

from __future__ import annotations

from dataclasses import dataclass

from knowngood.errors import Refused
from knowngood.measure.given import finite, not_below_zero


@dataclass(frozen=True, slots=True)
class AllowedDrop:
    """A changeable default; `at_a` is the current it is meant for, 0 where the source does not say."""

    place: str
    limit_v: float
    at_a: float
    source: str
    from_memory: bool


_ARMY = "US Army TM 10-3930-671-24, p. F-303"
_MAKER = "common practice, one maker's text"
ALLOWED: dict[str, AllowedDrop] = {
    allowed.place: allowed
    for allowed in (
        AllowedDrop("battery to solenoid stud", 0.4, 0.0, _ARMY, False),
        AllowedDrop("post to clamp", 0.0, 0.0, _ARMY, False),
        AllowedDrop("frame to ground post", 0.1, 0.0, _MAKER, False),
        AllowedDrop("frame to starter body", 0.1, 0.0, _MAKER, False),
        AllowedDrop("positive post to starter stud", 0.1, 0.0, _MAKER, False),
        AllowedDrop("alternator output line", 0.3, 30.0, "common practice", False),
        AllowedDrop("sensor ground", 0.1, 0.0, "trade teaching", True),
        AllowedDrop("connector", 0.1, 0.0, "trade teaching", True),
        AllowedDrop("switch or relay", 0.3, 0.0, "trade teaching", True),
        AllowedDrop("whole feed", 0.5, 0.0, "trade teaching", True),
        AllowedDrop("whole ground", 0.2, 0.0, "trade teaching", True),
    )
}
"""The maker's figure for the car in hand wins. `from_memory` ones are said to be so wherever they are shown."""


@dataclass(frozen=True, slots=True)
class DropVerdict:
    """A loss against what its place may lose.

    `word` is `within`, `over` or `cannot tell` (within two standard errors); `beyond_v` how far over, 0 within.
    """

    word: str
    beyond_v: float
    beyond_se_v: float
    allowed: AllowedDrop


def drop_verdict(drop_v: float, place: str, *, drop_se_v: float = 0.01, limit_v: float | None = None) -> DropVerdict:
    """A voltage lost under load against what its place may lose.

    Parameters
    ----------
    drop_v, drop_se_v : float [V]
        Reading and its standard error. The sign is ignored.
    place : str
        One of the places of `ALLOWED`.
    limit_v : float or None [V]
        The car's own figure, when there is one.

    Returns
    -------
    DropVerdict

    Raises
    ------
    Refused
        There is no such place.
    NotMeasurable
        A reading is not finite, or an error or a limit is below zero.

    Notes
    -----
    Cannot tell: anything without the usual load; a small load hides a bad joint. See `drop_at_current`.

    References
    ----------
    us_army_tm_starter : TM 10-3930-671-24, p. F-303; common practice and, where said, memory for the others.

    Examples
    --------
    >>> drop_verdict(0.9, "frame to ground post").word
    'over'
    """
    if place not in ALLOWED:
        raise Refused(f"No place is called '{place}'.", f"Places: {', '.join(ALLOWED)}.")
    allowed = ALLOWED[place]
    limit = allowed.limit_v if limit_v is None else not_below_zero("Allowed loss", limit_v, "V")
    if limit_v is not None:
        allowed = AllowedDrop(place, limit, allowed.at_a, "the car's own figure", False)
    beyond = abs(finite("Voltage lost", drop_v, "V")) - limit
    margin = 2.0 * not_below_zero("Voltage error", drop_se_v, "V")
    # where nothing may be lost there is no room to be within: what the meter cannot see apart from nothing is nothing
    word = "over" if beyond > margin else "within" if beyond <= -margin or limit == 0.0 else "cannot tell"
    return DropVerdict(word, max(0.0, beyond), drop_se_v, allowed)
