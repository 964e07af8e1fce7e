"""What was told or measured otherwise, as the looks of gates it settles: of an oil lamp that flickers no more is asked.

A stop reading counts until a second witness speaks, however it came: the lamp shuts the gate, a gauge opens it again
(common practice).
"""

from __future__ import annotations

from collections.abc import Iterator

from knowngood.evidence import Reading
from knowngood.library.reach import good_level
from knowngood.library.records import UNDER, Library, ReadingKind
from knowngood.planner.gates import Look


def looks_told(library: Library, reading: Reading) -> Iterator[Look]:
    """The looks of gates that a reading of another kind has settled, each with the word it comes to.

    A word settles a look as bad. A number settles it either way: under what is good as bad, within it as good.
    """
    for name in dict.fromkeys(look for gate in library.gates.values() for look in gate.looks):
        look = library.readings.get(name)
        bad_at = look.bad_by.get(reading.kind, ()) if look is not None else ()
        if look is None or not bad_at:
            continue
        if reading.word in bad_at:
            yield Look(look.id, look.words[1])
        elif UNDER in bad_at and reading.value is not None:
            yield Look(look.id, look.words[_is_under(library, library.readings[reading.kind], reading.value.number)])


def _is_under(library: Library, kind: ReadingKind, number: float) -> bool:
    good = kind.spread[str(good_level(library, kind))]
    return good.low is not None and number < good.low
