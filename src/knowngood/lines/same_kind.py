"""``plugs 2 and 3 oily, 1 and 4 dry``: other cylinders of the reading by word that was named before."""

from __future__ import annotations

from collections.abc import Sequence

from knowngood.car import ENGINE
from knowngood.evidence import Reading
from knowngood.lines.amounts import quantity_of
from knowngood.lines.beside import outside
from knowngood.lines.conditions import settled
from knowngood.lines.each import cylinders_with_banks
from knowngood.lines.elements import Element, elements_of
from knowngood.lines.kinds import conditions_of
from knowngood.lines.outcomes import said_word
from knowngood.lines.phrases import read_free
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.token import HIGHEST
from knowngood.lines.vocabulary import PASSED_OVER


def read_same_kind(reader: Reader, clause: Sequence[Token]) -> bool:
    """Read a clause of cylinders and one word, behind a reading of the same sentence that took such words."""
    fresh = [body for body in reader.bodies if isinstance(body, Reading) and body.kind == reader.kind]
    if (
        not (fresh or reader.headed)
        or quantity_of(reader, reader.kind)
        or reader.place_of_kind(reader.kind) != "cylinder"
    ):
        return False
    elements = elements_of(reader, clause)
    heads: list[Element] = []
    for element in elements:
        if element.kind not in ("CELL", "PLACE", "LINK") or (element.kind == "CELL" and element.whole is None):
            break
        heads.append(element)
    places = [place for element in heads for place in cylinders_with_banks(reader, element, HIGHEST)]
    if not heads and elements and elements[0].kind == "REST":
        heads, named = elements[:1], {body.place for body in fresh}
        places = [place for place in reader.all_cylinders() if place not in named and place != ENGINE]
    rest = [token for element in elements[len(heads) :] for token in element.tokens]
    word, used = said_word(reader, reader.kind, rest)
    said = [token for token in rest if token.means("condition") and token not in used]
    small = [token for token in rest if token not in (*used, *said)]
    if not places or not word or outside(reader, places):
        return False
    if not all(token.means("filler") or token.plain in PASSED_OVER for token in small):
        return False
    names = [name for name in conditions_of(elements) if any(name in token.ids("condition") for token in said)]
    _, conditions = settled(reader, reader.kind, names)
    for place in places:
        reader.put(Reading(kind=reader.kind, place=place, word=word, conditions=conditions))
    reader.use(clause)
    return True


def read_pairs(reader: Reader, clause: Sequence[Token]) -> bool:
    """``plug 1 white 2 tan 3 black``: cylinder and word take turns behind one name."""
    cuts = [index for index in range(2, len(clause) - 1) if _starts_pair(reader, clause, index)]
    if not cuts or any(token.kind == "unit" for token in clause):
        return False
    before = len(reader.bodies)
    read_free(reader, elements_of(reader, clause[: cuts[0]]))
    for start, end in zip(cuts, [*cuts[1:], len(clause)], strict=True):
        if not read_same_kind(reader, clause[start:end]):
            read_free(reader, elements_of(reader, clause[start:end]))
    return len(reader.bodies) > before


def _starts_pair(reader: Reader, clause: Sequence[Token], index: int) -> bool:
    whole = clause[index].whole()
    return reader.is_cylinder(whole) and _says(clause[index - 1]) and _says(clause[index + 1])


def _says(token: Token) -> bool:
    return any(token.means(kind) for kind in ("word", "judge", "outcome")) and not token.means("part")
