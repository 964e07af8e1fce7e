"""Where an entry says something about."""

from __future__ import annotations

from knowngood.car import Place
from knowngood.evidence.bodies import Body


def named_places(body: Body) -> tuple[Place, ...]:
    """Every place a body names, those of a piece of work first; none for what speaks of the car as a whole."""
    one = (getattr(body, name, None) for name in ("place", "to", "effect_at"))
    return (*getattr(body, "places", ()), *(place for place in one if place is not None))
