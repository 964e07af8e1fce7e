"""Which number belongs to which cylinder.

As many numbers as cylinders are cylinders 1..n in counting order; fewer leave the rest not measured; a number beside a
cylinder belongs to it, before or behind as the line does it.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from knowngood.car import Place
from knowngood.lines.beside import at_places, headed, no_such, pairs_of
from knowngood.lines.cell import Cell, as_cell, conditions_in, dash_between, dash_signs, groups_of
from knowngood.lines.elements import PREPOSITIONS, Element, cylinder
from knowngood.lines.engine_values import by_condition
from knowngood.lines.placed_word import cylinders_of
from knowngood.lines.reader import Reader
from knowngood.lines.rows import rows_of, with_decimals
from knowngood.lines.token import HIGHEST


def cells_placed(reader: Reader, kind: str, quantity: str, elements: Sequence[Element]) -> list[Cell] | None:
    """The numbers of a segment, each at its place.

    Returns
    -------
    list of Cell or None
        Empty when there is no number; None when the numbers cannot be placed: a note with its question was put in.
    """
    elements = joined_ranges(reader, kind, quantity, list(elements))
    if reader.place_of_kind(kind) != "cylinder":
        return by_condition(reader, kind, elements)
    elements = with_decimals(reader, quantity, elements)
    elements = [as_cell(element) if element.kind == "NONE" else element for element in elements]
    if _says_how_many(elements):
        tokens = [token for element in elements for token in element.tokens]
        reader.doubt(tokens, "how many is said, not which", f"{reader.words(tokens)}: which cylinders are they?")
        return None
    if _became(elements):
        return []
    if respective := _respectively(reader, elements):
        return respective
    asked = len(reader.bodies)
    if (of_bank := _row_of_bank(reader, elements)) is not None or len(reader.bodies) > asked:
        return of_bank
    elements = _places_behind_prepositions(reader, elements)
    if not any(element.kind == "CELL" for element in elements):
        return []
    elements = _pair_going_on(reader, elements)
    elements = _places_behind_names(reader, elements)
    if any(element.kind in ("PLACE", "REST", "EXCEPT") for element in elements):
        return at_places(reader, elements)
    groups = groups_of(elements)
    if pairs := pairs_of(reader, quantity, groups):
        return pairs
    if run := headed(reader, elements):
        return run
    if wrong := _cylinder_outside(reader, elements):
        tokens = [token for element in elements for token in element.tokens]
        reader.doubt(tokens, f"there is no {wrong}: the engine has {reader.cylinders}", no_such(reader, wrong))
        return None
    return rows_of(reader, kind, quantity, elements)


def _became(elements: Sequence[Element]) -> bool:
    """``1150 > 800``: two numbers, one that became the other, are no row of cylinders."""
    kinds = [e.kind for e in elements if e.kind in ("CELL", "ARROW", "PLACE", "NAME")]
    return kinds == ["CELL", "ARROW", "CELL"]


def _respectively(reader: Reader, elements: Sequence[Element]) -> list[Cell]:
    """``162, 158 and 165 psi for 4, 5 and 6``: as many cylinders behind as numbers before, each its own; else empty."""
    cells = [element for element in elements if element.kind == "CELL"]
    half = len(cells) // 2
    numbers = [cell.whole or 0 for cell in cells[half:]]
    placed = [e for e in elements if e.kind == "PLACE" and e.places[0].kind == "cylinder"]
    if (
        len(placed) == 1
        and len(placed[0].places) == len(cells) > 1
        and elements.index(placed[0]) > elements.index(cells[-1])
    ):
        numbers, half = [int(place.name) for place in placed[0].places if place.name.isdigit()], len(cells)
    elif placed or half < 2 or len(cells) % 2 or cells[half].after not in ("for", "on", "at", "in", "of"):
        return []
    if any(e.kind in ("REST", "ALL", "EXCEPT", "NONE") for e in elements) or numbers != sorted(set(numbers)):
        return []
    if len(numbers) != half or not all(reader.is_cylinder(number) for number in numbers):
        return []
    reader.use_turned(token for cell in cells[half:] for token in cell.tokens)
    said = conditions_in(elements)
    return [Cell(cell, cylinder(str(number)), said) for cell, number in zip(cells[:half], numbers, strict=True)]


def _row_of_bank(reader: Reader, elements: Sequence[Element]) -> list[Cell] | None:
    """``left bank comp 150 155 40``: as many numbers as the bank has cylinders are these, from the pulley end."""
    banks = [e.places[0] for e in elements if e.kind == "PLACE" and e.places[0].kind == "bank"]
    cells = [element for element in elements if element.kind == "CELL"]
    if (
        not banks
        or reader.cylinders is None
        or any(e.kind == "PLACE" and e.places[0].kind == "cylinder" for e in elements)
    ):
        return None
    if len(banks) > 1:
        return _rows_of_banks(reader, elements)
    numbers = cylinders_of(reader, banks[0]) or reader.all_cylinders()
    size = len(numbers)
    if len(cells) == 1 and any(e.kind == "ALL" for e in elements) and cylinders_of(reader, banks[0]):
        reader.suppose(f"{banks[0]}: cylinders {', '.join(place.name for place in numbers)}")
        return [Cell(cells[0], place, conditions_in(elements)) for place in numbers]
    if len(cells) != size or size < 2:
        return None
    letter = "R" if banks[0].name == "right" else "L"
    by_side = not banks[0].name.isdigit()
    names = [f"{letter}{n + 1}" if by_side else place.name for n, place in enumerate(numbers)]
    reader.suppose(f"{banks[0]} from the pulley end")
    return [Cell(cell, cylinder(name), conditions_in(elements)) for cell, name in zip(cells, names, strict=True)]


def _rows_of_banks(reader: Reader, elements: Sequence[Element]) -> list[Cell] | None:
    """``bank 1 160 165 158, bank 2 162 90 161``: each bank with its own row; other numbers are asked about."""
    heads = [i for i, e in enumerate(elements) if e.kind == "PLACE"]
    runs = [list(elements[a:b]) for a, b in zip(heads, [*heads[1:], len(elements)], strict=True)]
    if any(len(run[0].places) != 1 for run in runs) or any(e.kind == "CELL" for e in elements[: heads[0]]):
        return None
    rows = [_row_of_bank(reader, run) for run in runs]
    if all(row is not None for row in rows):
        return [cell for row in rows for cell in row or ()]
    tokens = [token for element in elements for token in element.tokens]
    reader.doubt(tokens, "which cylinder is not said", f"{reader.words(tokens)}: which number is of which cylinder?")
    return None


def _cylinder_outside(reader: Reader, elements: Sequence[Element]) -> Place | None:
    """``lead 9 12k`` on eight cylinders: two numbers, the first of them no cylinder of this engine, are no row."""
    cells = [index for index, element in enumerate(elements) if element.kind == "CELL"]
    if len(cells) != 2 or cells[1] != cells[0] + 1 or not cells[0] or reader.cylinders in (None, 2):
        return None
    whole = elements[cells[0]].whole
    if whole is None or not reader.most < whole <= HIGHEST or elements[cells[0] - 1].kind != "NAME":
        return None
    return cylinder(whole)


def joined_ranges(reader: Reader, kind: str, quantity: str, elements: list[Element]) -> list[Element]:
    """Two numbers with a dash between them made one range, where they are no row of cylinders."""
    cells = [element for element in elements if element.kind == "CELL"]
    places = reader.place_of_kind(kind)
    count = reader.cylinders
    dashes = sum(dash_between(elements, index) for index in range(len(elements)))
    if places == "cylinder" and dashes == len(cells) - 1 and len(cells) >= 2:
        if len(cells) == count or (
            len(cells) > 2 and (count is None or len(cells) < count or "/" in dash_signs(elements))
        ):
            return elements
        if "/" in dash_signs(elements):
            return elements
    out: list[Element] = []
    index = 0
    while index < len(elements):
        if (
            dash_between(elements, index)
            and out
            and out[-1].kind == "CELL"
            and not out[-1].ranged
            and elements[index].text != "/"
            and not (places == "cylinder" and _is_cylinder_before(reader, elements, index))
        ):
            first, second = out[-1], elements[index + 1]
            number = first.text.removesuffix(first.unit).strip()
            unit = second.unit or first.unit
            text = f"{number} to {second.text.removesuffix(second.unit).strip()} {unit}".strip()
            tokens = (*first.tokens, *elements[index].tokens, *second.tokens)
            out[-1] = replace(first, tokens=tokens, text=text, unit=unit, whole=None, ranged=True)
            index += 2
            continue
        out.append(elements[index])
        index += 1
    return out


FAR_APART = 3.0
"""No range of one reading goes up so many times over; a convention of ours."""


def _is_cylinder_before(reader: Reader, elements: Sequence[Element], index: int) -> bool:
    """``comp 3 - 170 psi``: a small number, a dash and a number far from it are a cylinder and what it reads; so are
    those behind one part (``lead 3 - 4.2k``), and a range that would fall (``gap 3 - 0.9 mm``).
    """
    first, second = elements[index - 1], elements[index + 1]
    if not reader.is_cylinder(first.whole) or first.unit or (reader.is_cylinder(second.whole) and not second.unit):
        return False
    name = elements[index - 2].token if index > 1 else None
    one = name is not None and name.means("part") and not name.plain.endswith("s")
    if one and second.unit and second.token.spaced:
        return True
    number = float(re.sub(r"[^\d.]", "", second.text.removesuffix(second.unit).replace(",", ".")) or 0)
    return number >= FAR_APART * first.whole or (bool(second.unit) and number < first.whole)


def _places_behind_prepositions(reader: Reader, elements: list[Element]) -> list[Element]:
    """``60 in 3``, ``none in 1 and 3``: small bare numbers behind a preposition are cylinders."""
    if not any(element.kind == "CELL" and _is_value(reader, element) for element in elements):
        return elements
    out = list(elements)
    for index, element in enumerate(out):
        if element.kind != "CELL" or not reader.is_cylinder(element.whole):
            continue
        if element.after in PREPOSITIONS and element.after not in ("to", "by", "from"):
            numbers, end = [element.whole], index + 1
            while end + 1 < len(out) and out[end].kind in ("LINK", "COMMA", "DASH") and out[end].text != "-":
                number = out[end + 1].whole if out[end + 1].kind == "CELL" else None
                if not reader.is_cylinder(number):
                    break
                numbers.append(number)
                end += 2
            tokens = tuple(token for part in out[index:end] for token in part.tokens)
            place = Element("PLACE", tokens, places=tuple(cylinder(number) for number in numbers))
            return [*out[:index], place, *_places_behind_prepositions_from(reader, out[end:])]
    return out


def _pair_going_on(reader: Reader, elements: list[Element]) -> list[Element]:
    """``comp 7 112 psi, 5 157``: behind the same kind, a cylinder and a number that is none."""
    told = [index for index, element in enumerate(elements) if element.kind not in ("FILL", "MUTE", "COND")]
    if len(told) != 2 or not reader.bodies or not all(elements[index].kind == "CELL" for index in told):
        return elements
    first, second = (elements[index] for index in told)
    whole = first.whole
    if not reader.is_cylinder(whole) or (second.whole is not None and second.whole <= HIGHEST):
        return elements
    out = list(elements)
    out[told[0]] = replace(first, kind="PLACE", places=(cylinder(whole),))
    return out


def _places_behind_names(reader: Reader, elements: list[Element]) -> list[Element]:
    """``injector 2 measures 14 ohms, the others 14``: the number behind the name is the cylinder."""
    if not any(element.kind in ("REST", "EXCEPT", "PLACE") for element in elements):
        return elements
    out = list(elements)
    for index in range(1, len(out)):
        whole = out[index].whole
        values = [e for e in out[index + 1 :] if e.kind == "CELL"]
        if out[index].kind == "CELL" and out[index - 1].kind == "NAME" and whole and whole <= reader.most and values:
            out[index] = replace(out[index], kind="PLACE", places=(cylinder(whole),))
    return out


def _places_behind_prepositions_from(reader: Reader, rest: list[Element]) -> list[Element]:
    head = Element("CELL", (), text="0")
    return _places_behind_prepositions(reader, [head, *rest])[1:] if rest else rest


def _is_value(reader: Reader, element: Element) -> bool:
    return element.whole is None or element.whole > reader.most or element.after not in PREPOSITIONS


def _says_how_many(elements: Sequence[Element]) -> bool:
    """``250-260 in seven, zero in one``: counts of cylinders, not their numbers."""
    spoken = [e for e in elements if e.kind == "CELL" and e.after == "in" and e.token.kind == "numword"]
    return bool(spoken) and any(e.kind == "CELL" and e.token.kind == "num" for e in elements)
