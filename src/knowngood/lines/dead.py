"""``2 is dead``, ``dead on 3 and 5``, ``3 not firing``: cylinders that do not work, said without a name."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.evidence import Reading
from knowngood.lines.beside import no_such, outside
from knowngood.lines.elements import PREPOSITIONS, Element, cylinders_at, elements_of
from knowngood.lines.outcomes import faulty_word
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.token import HIGHEST


def read_dead_cylinder(reader: Reader, clause: Sequence[Token]) -> bool:
    """A clause of cylinders and one word for dead, where no kind of reading is under way."""
    record = reader.kind_record("miss")
    if record is None or not record.words or not _says_dead(clause):
        return False
    under_way = reader.kind or reader.recent.kind
    if under_way and not any(token.plain.startswith("still") for token in clause):
        return False
    elements = elements_of(reader, clause)
    places = [place for element in elements for place in cylinders_at(element, HIGHEST)]
    if not places or any(not _is_quiet(element) for element in elements):
        return False
    if wrong := outside(reader, places):
        reader.doubt(list(clause), f"there is no {wrong}: the engine has {reader.cylinders}", no_such(reader, wrong))
        return True
    for place in places:
        reader.put(Reading(kind="miss", place=place, word=faulty_word(reader, record), conditions=reader.given))
    reader.use(clause)
    reader.places = tuple(places)
    reader.kind = "miss"
    return True


def _says_dead(clause: Sequence[Token]) -> bool:
    return any(_is_dead(token) for token in clause)


def _is_dead(token: Token) -> bool:
    """``dead``, ``still dead``."""
    inside = token.parts if token.means("effect") else ()
    return any(piece.means("mark", "dead") for piece in (token, *inside))


def _is_quiet(element: Element) -> bool:
    return (
        element.kind in ("PLACE", "CELL", "LINK", "FILL", "MUTE", "COMMA")
        or _is_dead(element.token)
        or element.token.plain in PREPOSITIONS
    ) and not element.unit
