"""What stands among numbers: a state (``30 with fuse 7 out``), a number left open (``900 ? 890``), a unit in front."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from knowngood.lines.element import Element, cylinder
from knowngood.lines.expected import plainly_said
from knowngood.lines.reader import Reader
from knowngood.lines.scan import is_unit

OUT = frozenset(
    ["off", "out", "pulled", "unplugged", "disconnected", "removed", "clamped", "pinched", "bridged", "open"]
)


def with_states(elements: Sequence[Element]) -> list[Element]:
    """The elements with a part and what was done to it, behind a number, made one condition."""
    out: list[Element] = []
    index, numbered = 0, False
    while index < len(elements):
        element = elements[index]
        end = _state_end(elements, index) if numbered else 0
        if end:
            tokens = tuple(token for piece in elements[index:end] for token in piece.tokens)
            out.append(Element("COND", tokens, names=_names(tokens)))
            index = end
            continue
        numbered = numbered or element.kind == "CELL"
        out.append(element)
        index += 1
    return out


def series_elements(reader: Reader, elements: Sequence[Element]) -> list[Element]:
    """The elements of a series of numbers: states made conditions, open places named, a unit in front put behind."""
    elements = _colon_pairs(reader, _paired(reader, list(_without_span(reader, elements))))
    return _with_holes(reader, _unit_behind(_linked_places(reader, with_states(plainly_said(elements)))))


def _without_span(reader: Reader, elements: Sequence[Element]) -> Sequence[Element]:
    """``comp warm psi 1-4: 155 150 60 158``: the span of the cylinders in front of the row says nothing more."""
    at = next((index for index, element in enumerate(elements) if element.kind == "CELL"), 0)
    span = elements[at : at + 4]
    spoken = bool(span) and span[0].text == f"1 to {reader.cylinders}" and [e.kind for e in span[1:2]] == ["EQUALS"]
    if spoken and elements[0].kind == "NAME":
        reader.use_turned(token for element in span[:2] for token in element.tokens)
        return [*elements[:at], *elements[at + 2 :]]
    whole = (span[0].whole, span[2].whole) if [e.kind for e in span] == ["CELL", "DASH", "CELL", "EQUALS"] else ()
    if whole != (1, reader.cylinders) or elements[0].kind != "NAME":
        return elements
    reader.use_turned(token for element in span for token in element.tokens)
    return [*elements[:at], *elements[at + 4 :]]


def _paired(reader: Reader, elements: list[Element]) -> list[Element]:
    """``compression 1 3: 175 60 psi``: as many numbers behind the colon as cylinders before it."""
    at = next((index for index, element in enumerate(elements) if element.kind == "EQUALS"), 0)
    heads, values = elements[1:at], elements[at + 1 :]
    cells = [element for element in values if element.kind == "CELL"]
    numbered = all(e.kind == "CELL" and reader.is_cylinder(e.whole) for e in heads)
    if len(heads) < 2 or not numbered or values[: len(cells)] != cells or len(cells) != len(heads):
        return elements
    out = [elements[0]]
    for head, cell in zip(heads, cells, strict=True):
        out += [replace(head, kind="PLACE", places=(cylinder(str(head.whole)),)), cell]
    return [*out, *values[len(cells) :]]


def _colon_pairs(reader: Reader, elements: list[Element]) -> list[Element]:
    """``inj 1: 12.1 2: 12.0``, ``comp 1-170 2-168``: cylinders with a colon or a dash each, two or more."""
    at = [
        index
        for index in range(len(elements) - 2)
        if [e.kind for e in elements[index : index + 3]] in (["CELL", "EQUALS", "CELL"], ["CELL", "DASH", "CELL"])
        and 1 <= (elements[index].whole or 0) <= reader.most < (elements[index + 2].whole or reader.most + 1)
    ]
    cells = sum(element.kind == "CELL" for element in elements)
    heads = [elements[index].whole or 0 for index in at]
    if len(at) < 2 or cells != 2 * len(at) or heads != sorted(set(heads)):
        return elements
    places = {index: cylinder(str(elements[index].whole)) for index in at}
    signs = {index + 1 for index in at}
    return [
        replace(e, kind="PLACE", places=(places[i],)) if i in places else replace(e, kind="EQUALS") if i in signs else e
        for i, e in enumerate(elements)
    ]


def _linked_places(reader: Reader, elements: list[Element]) -> list[Element]:
    """``coil for 1+4 secondary 7.2k``, ``plug 3 gap 1.2``: bare numbers between two names are cylinders."""
    if len(numbered := _numbered_parts(reader, elements)) > 1:
        return [
            replace(e, kind="PLACE", places=(cylinder(str(e.whole)),)) if i in numbered else e
            for i, e in enumerate(elements)
        ]
    for at in range(1, len(elements) - 2):
        name, cell, behind = elements[at - 1 : at + 2]
        whole = cell.whole or 0
        if [name.kind, cell.kind, behind.kind] != ["NAME", "CELL", "NAME"] or not reader.is_cylinder(whole):
            continue
        if name.token.means("part") and reader.part_place(reader.part(name.token)) == "cylinder":
            place = Element("PLACE", cell.tokens, places=(cylinder(whole),))
            return [*elements[:at], place, *elements[at + 1 :]]
    for at in range(1, len(elements) - 3):
        run = elements[at : at + 4]
        if [run[0].kind, run[2].kind, run[3].kind] != ["CELL", "CELL", "NAME"]:
            continue
        if run[1].kind != "LINK" and not (run[1].kind == "DASH" and run[1].text == "/"):
            continue
        before = next((element for element in reversed(elements[:at]) if element.kind != "FILL"), None)
        numbers = [element.whole for element in (run[0], run[2])]
        if before is None or before.kind != "NAME" or any(not reader.is_cylinder(n) for n in numbers):
            continue
        tokens = tuple(token for element in run[:3] for token in element.tokens)
        place = Element("PLACE", tokens, places=tuple(cylinder(str(number)) for number in numbers))
        return [*elements[:at], place, *elements[at + 3 :]]
    return elements


def _numbered_parts(reader: Reader, elements: Sequence[Element]) -> set[int]:
    """``inj 1 14.1 inj 2 14.0``: where the number of a part stands, between its name and its value."""
    found = set()
    for at in range(1, len(elements) - 1):
        name, cell, value = elements[at - 1 : at + 2]
        if [name.kind, cell.kind, value.kind] != ["NAME", "CELL", "CELL"] or not reader.is_cylinder(cell.whole):
            continue
        if any(reader.part_place(part) == "cylinder" for part in name.token.ids("part")):
            found.add(at)
    return found


def _unit_behind(elements: list[Element]) -> list[Element]:
    """``kpa 900 910``: the unit belongs to the last number that has none."""
    for index, element in enumerate(elements[:-1]):
        if element.kind == "WORD" and elements[index + 1].kind == "CELL" and is_unit(element.token.text):
            cells = [at for at in range(index + 1, len(elements)) if elements[at].kind == "CELL"]
            if any(elements[at].unit for at in cells):
                return elements
            last, unit = elements[cells[-1]], element.token.text
            elements[cells[-1]] = replace(last, text=f"{last.text} {unit}", unit=unit, whole=None)
            return [*elements[:index], *elements[index + 1 :]]
    return elements


def _with_holes(reader: Reader, elements: list[Element]) -> list[Element]:
    """``900 910 ? 890 - 905``: a free sign in the row is a cylinder left open, where the count then is right."""
    found = [replace(e, kind="HOLE") if _is_free(elements, at) else e for at, e in enumerate(elements)]
    count = sum(element.kind in ("CELL", "HOLE") for element in found)
    holes = any(element.kind == "HOLE" for element in found)
    return found if holes and count == reader.cylinders else elements


def _is_free(elements: Sequence[Element], index: int) -> bool:
    """A sign by itself with a number, another such sign or nothing behind it."""
    if index == 0 or not _is_open_sign(elements[index]):
        return False
    behind = elements[index + 1 : index + 2]
    return all((other.kind == "CELL" and other.token.spaced) or _is_open_sign(other) for other in behind)


def _is_open_sign(element: Element) -> bool:
    return element.token.spaced and element.token.is_sign("?", "-", "/")


def _names(tokens: Sequence[object]) -> tuple[str, ...]:
    words = [str(getattr(token, "plain", "")) for token in tokens if getattr(token, "plain", "") != "with"]
    said = " ".join(words)
    return ("hose off", said) if "hose off" in said else (said,)


def _state_end(elements: Sequence[Element], index: int) -> int:
    """Where a part with its state ends; 0 when none starts here."""
    at = index
    if elements[at].token.plain == "with":
        at += 1
    if at >= len(elements) or not elements[at].token.means("part"):
        return 0
    if at + 1 < len(elements) and elements[at + 1].kind == "COND" and "hose off" in elements[at + 1].names:
        at += 1
    at += 1
    if at < len(elements) and elements[at].kind == "CELL" and elements[at].whole is not None and not elements[at].unit:
        at += 1
    if at >= len(elements) or elements[at].token.plain not in OUT or elements[at].token.means("part"):
        return 0
    at += 1
    while at < len(elements) and elements[at].kind == "FILL":
        at += 1
    return at + 1 if at < len(elements) and _is_on(elements[at]) else at


def _is_on(element: Element) -> bool:
    """A part behind it says on what: ``vac hose off regulator``."""
    return element.kind == "NAME" and element.token.means("part")
