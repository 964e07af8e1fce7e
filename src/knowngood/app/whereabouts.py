"""Which places of a suspect stand out from the others, and how that is said.

Where nothing that was found speaks for one cylinder before another, naming the first of the list would send a man
to it for no reason.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from knowngood.app.answer import Suspect
from knowngood.car import ENGINE
from knowngood.sheets.words import in_words, with_range

STANDS_OUT = math.log10(2.0)  # odds twice those of the next place
SURE_BY = 2.0  # standard errors of a share of draws that the lead must be worth
SAME = 0.1  # two chances nearer than this, or saying the same in words, are said once
MOSTLY = 0.75  # of a suspect's chance, held by the places that stand out


def standing_out(shares: Sequence[float], draws: float) -> int:
    """How many of the places, the likeliest first, stand out from the rest; 0 where none does.

    Parameters
    ----------
    shares : sequence of float
        Chance at each place, the highest first.
    draws : float
        Independent draws that the chances were counted in; infinite where they are exact.

    >>> standing_out([0.40, 0.05, 0.04, 0.04], math.inf), standing_out([0.05, 0.04, 0.04, 0.03], math.inf)
    (1, 0)
    >>> standing_out([0.30, 0.28, 0.02, 0.02], math.inf), standing_out([0.02, 0.01, 0.01, 0.01], 200)
    (2, 0)
    """
    if len(shares) < 2:
        return 0
    most = max(1, len(shares) // 2)
    gaps = [_odds_above(shares[at - 1], shares[at], draws) for at in range(1, most + 1)]
    widest = max(range(most), key=lambda at: gaps[at])
    return widest + 1 if gaps[widest] >= STANDS_OUT else 0


def _odds_above(more: float, less: float, draws: float) -> float:
    """Log10 of the odds of the one over the odds of the other, each moved towards the other by its error."""
    return _log_odds(more - SURE_BY * _error(more, draws)) - _log_odds(less + SURE_BY * _error(less, draws))


def _error(share: float, draws: float) -> float:
    spread = max(0.0, share * (1.0 - share))  # a sum of chances may lie over one by what rounding leaves
    return math.sqrt(spread / draws) if math.isfinite(draws) else 0.0


def _log_odds(share: float) -> float:
    held = min(max(share, 1e-6), 1.0 - 1e-6)
    return math.log10(held / (1.0 - held))


def where(suspect: Suspect) -> str:
    """Behind the name: the places that stand out, or that none does; nothing where there is but one place."""
    if not suspect.places or suspect.places[0].place == str(ENGINE):
        return ""
    if not suspect.several:
        return f", {suspect.places[0].place}"
    if not suspect.stand_out:
        return f", {suspect.places[0].place.split()[0]} not known yet"
    named = " and ".join(place.place for place in suspect.places[: suspect.stand_out])
    return f", {named}" if suspect.held >= MOSTLY * suspect.shown else f", {named} before the others"


def how_likely(suspect: Suspect, *, ranged: bool = False) -> str:
    """How likely it is behind what was found; beside it how likely it is there at all, where that is another figure."""
    shown = suspect.shown
    said = with_range(shown, suspect.low, suspect.high) if ranged else in_words(shown)
    if suspect.chance - shown < SAME or in_words(shown) == in_words(suspect.chance):
        return said
    return f"{said}; there at all, behind it or not: {in_words(suspect.chance)}"


def places_beside(suspect: Suspect, most: int = 3) -> list[str]:
    """Places with the chance at each, where there are several and one stands out."""
    if not suspect.stand_out or not suspect.several:
        return []
    return [f"{place.place} {in_words(place.chance)}" for place in suspect.places[:most] if place.chance >= 0.02]
