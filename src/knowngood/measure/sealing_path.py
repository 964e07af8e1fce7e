"""Where the air of a leaking cylinder comes out, and which parts that names."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from knowngood.errors import Refused
from knowngood.measure.given import between

PATHS: dict[str, tuple[str, ...]] = {
    "intake": ("intake valve",),
    "exhaust": ("exhaust valve",),
    "oil filler": ("rings", "piston", "bore"),
    "coolant": ("head gasket", "crack"),
    "neighbour": ("head gasket between the cylinders",),
}
"""What each opening names (common practice, several workshop texts agreeing)."""


@dataclass(frozen=True, slots=True)
class Heard:
    """What the openings name: `parts` in the order heard, `remark` what has to be said with it."""

    parts: tuple[str, ...]
    remark: str


def parts_heard(openings: Sequence[str], *, percent: float) -> Heard:
    """Parts named by the openings the air was heard or seen at.

    Parameters
    ----------
    openings : sequence of str
        Of `intake`, `exhaust`, `oil filler`, `coolant`, `neighbour`; empty when nothing was heard.
    percent : float [percent]
        Leak of that cylinder on the tester.

    Returns
    -------
    Heard

    Raises
    ------
    Refused
        An opening is not one of the five.
    NotMeasurable
        The leak is not 0 to 100 %.

    Notes
    -----
    Cannot tell: how much goes each way. A little at the oil filler is normal. Low compression with little leak is
    a matter of valve lift or valve timing, which this test does not see.

    References
    ----------
    common_practice : listening at the intake, the tail pipe, the oil filler, the coolant and the neighbour's plug hole.

    Examples
    --------
    >>> parts_heard(["exhaust"], percent=40.0).parts
    ('exhaust valve',)
    """
    between("Leak", percent, 0.0, 100.0, "%")
    for opening in openings:
        if opening not in PATHS:
            raise Refused(f"No opening is called '{opening}'.", f"Openings: {', '.join(PATHS)}.")
    parts = tuple(dict.fromkeys(part for opening in openings for part in PATHS[opening]))
    return Heard(parts, _remark(set(openings), percent))


def _remark(openings: set[str], percent: float) -> str:
    if {"intake", "exhaust"} <= openings or percent >= 95.0:
        return "Everything leaks: it may be the wrong stroke. Turn the engine once and measure again."
    if openings == {"oil filler"} and percent <= 20.0:
        return "A little past the rings is normal."
    if not openings and percent > 20.0:
        return "The air goes somewhere: check the tester's own joint at the plug hole first."
    return ""
