"""What compressions say of each other: which cylinder is low, and what a wet one tells beside the dry one.

Oil seals worn rings for some turns of the crank, and neither a valve nor a gasket. A low cylinder that comes up with
oil loses its air past the rings; one that stays low loses it elsewhere (common practice). How far it must come up is a
convention of ours: a third of what it is short of the others, as oil takes up some room by itself.
"""

from __future__ import annotations

from collections.abc import Sequence
from statistics import median

import msgspec

from knowngood.car import Place
from knowngood.evidence import Entry, Reading, Work
from knowngood.measure.compression import wet_gain

DRY, WET = "compression", "compression_wet"
LOW_SHARE = 0.75  # of the others, under which a cylinder is low; common practice
COMES_UP = 1.0 / 3.0  # share of what it is short of the others
OF_THE_DRY = 0.2  # share of the dry reading by which a lone cylinder comes up


def with_wet_words(entries: Sequence[Entry]) -> list[Entry]:
    """Entries in time order; a wet compression by number carries the word it comes to.

    It is set against the last dry one before it, or the first after it, where that was told late. One of a cylinder
    that was never read dry is left as it is: it says nothing.
    """
    dry: dict[Place, float] = {}
    for entry in reversed(entries):
        told = entry.body
        if isinstance(told, Reading) and told.kind == DRY and told.value is not None and not told.doubt:
            dry[told.place] = told.value.number
    result: list[Entry] = []
    for entry in entries:
        body = entry.body
        if isinstance(body, Reading) and body.value is not None and not body.doubt:
            if body.kind == DRY:
                dry[body.place] = body.value.number
            elif body.kind == WET and not body.word and body.place in dry:
                others = [number for place, number in dry.items() if place != body.place]
                word = wet_word(dry[body.place], body.value.number, others)
                entry = msgspec.structs.replace(entry, body=msgspec.structs.replace(body, word=word))
        result.append(entry)
    return result


def wet_word(dry_kpa: float, wet_kpa: float, others_kpa: Sequence[float]) -> str:
    """``rises``, ``stays low`` or ``as dry``.

    Parameters
    ----------
    dry_kpa, wet_kpa : float [kPa]
        Of one cylinder, before and after the oil.
    others_kpa : sequence of float [kPa]
        The other cylinders dry; none: it is judged by itself.

    Examples
    --------
    >>> wet_word(414.0, 965.0, [1172.0, 1186.0, 1179.0])
    'rises'
    >>> wet_word(724.0, 758.0, [1034.0, 1100.0])
    'stays low'
    >>> wet_word(1172.0, 1240.0, [1186.0, 1179.0])
    'as dry'
    """
    gain, error = wet_gain(dry_kpa, wet_kpa)
    usual = median(others_kpa) if others_kpa else None
    if usual is not None and dry_kpa >= LOW_SHARE * usual:
        return "as dry"
    wanted = COMES_UP * (usual - dry_kpa) if usual is not None else OF_THE_DRY * dry_kpa
    return "rises" if gain >= max(wanted, error) else "stays low"


def low_cylinders(entries: Sequence[Entry]) -> set[Place]:
    """Cylinders whose dry compression, as read last, is under three quarters of the others'; none after work."""
    dry: dict[Place, float] = {}
    for entry in entries:
        body = entry.body
        if isinstance(body, Work):
            dry.clear()
        elif isinstance(body, Reading) and body.kind == DRY and body.value is not None and not body.doubt:
            dry[body.place] = body.value.number
    return {
        place
        for place, number in dry.items()
        if len(dry) > 2 and number < LOW_SHARE * median(other for at, other in dry.items() if at != place)
    }


def wet_without_dry(entries: Sequence[Entry]) -> list[Place]:
    """Cylinders that were read wet by number and never dry."""
    left = [entry.body for entry in with_wet_words(entries) if isinstance(entry.body, Reading)]
    return list(dict.fromkeys(body.place for body in left if body.kind == WET and body.value and not body.word))
