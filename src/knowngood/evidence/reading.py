"""One observation in a look."""

from __future__ import annotations

import msgspec

from knowngood.car import ENGINE, Place

SENSES = ("exact", "about", "over", "under", "range", "none seen")
REMEMBERED = ("stored", "permanent")
"""States of a code that was there once and stays until it is cleared: read again, it is no new one."""


class Value(msgspec.Struct, frozen=True):
    """A number as it was read.

    Parameters
    ----------
    number : float
        In the base unit of the kind of measurement (kPa, ohm, V, degC, mm, g/s, ...).
    sense : str
        One of :data:`SENSES`; ``none seen`` is zero by word ("none", "dead").
    low, high : float or None
        Ends of a range, base unit.
    unit : str
        The unit as typed or guessed.
    guessed : bool
        The unit was not typed.
    step : float
        One unit of the last digit typed, base unit; 0 where not known.
    """

    number: float
    sense: str = "exact"
    low: float | None = None
    high: float | None = None
    unit: str = ""
    guessed: bool = False
    step: float = 0.0


class Reading(msgspec.Struct, frozen=True, tag="reading", kw_only=True):
    """What was read, where, how, by whom, under which conditions.

    Parameters
    ----------
    kind : str
        Id of a kind of reading in the library (``compression``, ``shakes``, ``code``, ``seen``).
    place : Place
    value : Value or None
        A number; ``None`` for a word.
    word : str
        One of the outcome words of the kind (``drops``, ``wet with fuel``, ``yes``).
    code : str
        For kind ``code``: ``P0304`` as normalised, or the text as typed when it is not a generic code.
    state : str
        For a code: ``now``, ``pending``, ``stored``, ``permanent`` or empty.
    conditions : tuple of str
        Regime and modifiers (``cold idle``, ``wet``, ``throttle open``).
    instrument : str
        What it was read with, where said.
    who : str
        ``measured here``, ``owner``, ``other workshop``, ``shown by the ECU``.
    doubt : str
        Why it is doubtful. A doubtful reading is kept and shown, and does not count.
    """

    kind: str
    place: Place = ENGINE
    value: Value | None = None
    word: str = ""
    code: str = ""
    state: str = ""
    conditions: tuple[str, ...] = ()
    instrument: str = ""
    who: str = "measured here"
    doubt: str = ""
