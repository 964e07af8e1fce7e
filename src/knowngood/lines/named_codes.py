"""Codes told by what they speak of: ``misfire code``, ``code: knock sensor``, ``codes for misfire on 3 and P0420``."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from knowngood.car import Place
from knowngood.evidence import Reading
from knowngood.lines.beside import no_such, outside
from knowngood.lines.codes import place_of, read_loose_codes
from knowngood.lines.elements import PREPOSITIONS, Element, cylinder
from knowngood.lines.reader import Reader
from knowngood.lines.vocabulary import table

MISFIRE = "P0300"
OF = frozenset(
    ["for", "of", "is", "are", "was", "were", "include", "includes", "including", "included", "says", "reads"]
)


def read_code_list(reader: Reader, elements: Sequence[Element]) -> bool:
    """A run that is nothing but "codes" and a list of names, cylinders and plain codes; say whether it was one."""
    elements = _placed(reader, elements)
    if not elements or not elements[0].token.means("mark", "code"):
        return False
    if not any(element.token.means("codename") for element in elements) or not all(map(_in_list, elements[1:])):
        return False
    _read_behind(reader, elements[0], elements[1:], elements)
    read_loose_codes(reader, elements)
    reader.use(token for element in elements for token in element.tokens)
    return True


def _in_list(element: Element) -> bool:
    quiet = (
        element.kind in ("EQUALS", "MUTE", "LINK", "COMMA", "CODE", "PLACE") or element.token.plain in OF | PREPOSITIONS
    )
    return quiet or element.token.means("state") or element.token.means("codename")


def _placed(reader: Reader, elements: Sequence[Element]) -> list[Element]:
    """Small bare numbers behind a misfire, and those joined to them, made cylinders."""
    out: list[Element] = []
    for element in elements:
        before = [
            other for other in out if other.kind not in ("FILL", "MUTE") and other.token.plain not in PREPOSITIONS
        ][-2:]
        heads = [other.kind == "PLACE" or MISFIRE in other.token.ids("codename") for other in before]
        joined = len(before) == 2 and before[1].kind == "LINK" and heads[0]
        if element.kind == "CELL" and element.whole and heads and (heads[-1] or joined):
            if joined and before[0].kind == "PLACE":
                at = out.index(before[0])
                tokens = tuple(token for other in (*out[at:], element) for token in other.tokens)
                out[at:] = [replace(before[0], tokens=tokens, places=(*before[0].places, cylinder(element.whole)))]
                continue
            element = replace(element, kind="PLACE", places=(cylinder(element.whole),))
        out.append(element)
    return out


def read_named_codes(reader: Reader, elements: Sequence[Element]) -> None:
    """Names of codes beside the word "code", each with the cylinders or the bank said behind it."""
    elements = _placed(reader, elements)
    for index, element in enumerate(elements):
        if not element.token.means("mark", "code") or not reader.is_unread(element.token):
            continue
        if index and elements[index - 1].token.means("codename") and not _is_denied(elements, index - 1):
            _put(reader, elements[index - 1], element, elements[index + 1 :], elements)
        elif not (index and elements[index - 1].token.means("codename")):
            _read_behind(reader, element, elements[index + 1 :], elements)


def _read_behind(reader: Reader, word: Element, behind: Sequence[Element], all_: Sequence[Element]) -> None:
    """A list behind "codes": names, cylinders, plain codes, what joins them; it ends at any other word."""
    for index, element in enumerate(behind):
        if element.token.means("codename"):
            _put(reader, element, word, behind[index + 1 :], all_)
        elif not _in_list(element):
            return


def _put(reader: Reader, name: Element, word: Element, behind: Sequence[Element], elements: Sequence[Element]) -> None:
    code = name.token.ids("codename")[0]
    said = [element for element in behind[:2] if element.kind == "PLACE"][:1]
    places = said[0].places if said and not any(e.kind == "COMMA" for e in behind[: behind.index(said[0])]) else ()
    codes = [code]
    if code == MISFIRE and places and places[0].kind == "cylinder":
        if wrong := outside(reader, places):
            tokens = [*name.tokens, *word.tokens, *said[0].tokens]
            reader.doubt(tokens, f"there is no {wrong}: the engine has {reader.cylinders}", no_such(reader, wrong))
            return
        codes = [f"P03{int(place.name):02d}" for place in places if place.name.isdigit()]
    elif places == (Place("bank", "2"),):
        codes = [table()["code_bank_2"].get(code, code)]
    elif places:
        said = []
    state = next((e.token.ids("state")[0] for e in elements if e.token.means("state")), "")
    for one in codes:
        reader.put(
            Reading(kind="code", place=place_of(reader, one), code=one, state=state, who="shown by the ECU"),
            [*name.tokens, *word.tokens],
        )
    reader.suppose(f"{name.token.text} code taken as {' '.join(codes)}")
    reader.use(token for element in said for token in element.tokens)
    reader.use(token for element in elements if element.token.means("state") for token in element.tokens)


def _is_denied(elements: Sequence[Element], index: int) -> bool:
    return index > 0 and elements[index - 1].token.means("mark", "negation")
