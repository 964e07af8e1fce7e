"""How usual equipment is on cars whose own is not told."""

from __future__ import annotations

from knowngood.library.record import Record


class Given(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Another ``share`` on cars told to have ``needs``, built ``before`` a year (not in it) or ``since`` it."""

    share: dict[str, float]
    source: str
    needs: dict[str, tuple[str, ...]] = {}
    before: int | None = None
    since: int | None = None


class Fitted(Record, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """How usual each kind of equipment is on a car whose kind is not told: ``share[value]`` of cars, summing to 1.

    ``given``: where more of the car is told, the first that holds counts instead.
    """

    field: str
    share: dict[str, float]
    source: str
    given: tuple[Given, ...] = ()
