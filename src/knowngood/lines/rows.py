"""Rows of numbers in counting order.

As many numbers as cylinders are cylinders 1..n; fewer leave the rest not measured; a condition between numbers starts
another row.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from knowngood.car import MOST_CYLINDERS
from knowngood.evidence import CarFact
from knowngood.lines.amounts import is_likely, share_a_unit
from knowngood.lines.cell import Cell, conditions_in
from knowngood.lines.elements import Element, cylinder
from knowngood.lines.reader import Reader
from knowngood.lines.token import Token
from knowngood.units import kind_named

ROW_LEAST = 3


def rows_of(reader: Reader, kind: str, quantity: str, elements: Sequence[Element]) -> list[Cell] | None:
    """Rows of numbers in counting order; a condition between numbers starts another row."""
    if any(element.kind == "HOLE" for element in elements):
        return _row_with_holes(reader, elements)
    runs: list[tuple[list[Element], list[str]]] = [([], [])]
    conditions_first = False
    spans_all = any(element.kind in ("ALL", "HIGH", "LOW") for element in elements)
    for element in elements:
        cells, said = runs[-1]
        if element.kind == "COND":
            if not cells and not conditions_first and len(runs) == 1:
                conditions_first = True
            if cells and conditions_first and _more_cells(elements, element):
                runs.append(([], list(element.names)))
            else:
                said += element.names
        elif element.kind == "CELL":
            if said and cells and not conditions_first:
                runs.append(([element], []))
            else:
                cells.append(element)
    placed: list[Cell] = []
    for cells, said in runs:
        found = _row(reader, kind, quantity, cells, spans_all, elements)
        if found is None:
            return None
        placed += [replace(cell, conditions=tuple(said)) for cell in found]
    return placed


def _row_with_holes(reader: Reader, elements: Sequence[Element]) -> list[Cell]:
    """One place for each number and each sign that leaves one open."""
    row = [element for element in elements if element.kind in ("CELL", "HOLE")]
    said = conditions_in(elements)
    reader.suppose("counting order")
    cells = [Cell(cell, cylinder(number), said) for number, cell in enumerate(row, start=1) if cell.kind == "CELL"]
    missing = ", ".join(str(number) for number, cell in enumerate(row, start=1) if cell.kind == "HOLE")
    reader.suppose(f"{missing} not measured")
    return cells


def with_decimals(reader: Reader, quantity: str, elements: Sequence[Element]) -> list[Element]:
    """``9,5,9,8,9,6,4,1`` on four cylinders: twice as many numbers as cylinders, tight commas: decimals."""
    at = [index for index, element in enumerate(elements) if element.kind == "CELL"]
    count = reader.cylinders
    if count is None or len(at) != 2 * count or any(elements[i].unit for i in at[:-1]):
        return list(elements)
    if any(b - a != 2 or not _is_tight(elements[a : b + 1]) for a, b in pairwise(at)):
        return list(elements)
    joined: list[Element] = []
    for first, second in zip(at[::2], at[1::2], strict=True):
        left, right = elements[first], elements[second]
        tokens = (*left.tokens, *elements[first + 1].tokens, *right.tokens)
        text = f"{left.text},{right.text}"
        joined.append(replace(left, tokens=tokens, text=text, unit=right.unit, whole=None))
    if not all(is_likely(quantity, cell) for cell in joined):
        return list(elements)
    reader.turned.update(token.start for cell in joined for token in cell.tokens)
    reader.suppose("commas read as decimal ones")
    return [*elements[: at[0]], *joined, *elements[at[-1] + 1 :]]


def _is_tight(elements: Sequence[Element]) -> bool:
    """A number, a comma and a number without a blank."""
    left, comma, right = elements
    return comma.kind == "COMMA" and not comma.token.spaced and not right.token.spaced and len(left.tokens) == 1


def _more_cells(elements: Sequence[Element], behind: Element) -> bool:
    index = next(i for i, element in enumerate(elements) if element is behind)
    return any(element.kind == "CELL" for element in elements[index:])


def _row(
    reader: Reader, kind: str, quantity: str, cells: list[Element], spans_all: bool, elements: Sequence[Element]
) -> list[Cell] | None:
    tokens = [token for element in elements for token in element.tokens]
    count = reader.cylinders
    cells = _commas_settled(reader, quantity, cells)
    if (
        len(cells) == 2
        and any(element.kind == "HIGH" for element in elements)
        and any(element.kind == "LOW" for element in elements)
    ):
        text = f"{cells[1].text} to {cells[0].text}"
        cells = [replace(cells[0], tokens=(*cells[0].tokens, *cells[1].tokens), text=text, ranged=True)]
        spans_all = True
    names = [e.token.text.casefold() for e in elements if e.kind == "NAME"]
    of_all = kind == "plug_gap" or any(name.endswith("s") and not name.endswith("ss") for name in names)
    if len(cells) == 1 and (spans_all or cells[0].ranged or of_all) and count != 1:
        if not any(element.kind == "ALL" for element in elements):
            reader.suppose("taken for all cylinders")
        return [Cell(cells[0], place) for place in reader.all_cylinders()]
    if count is None:
        return _row_of_unknown(reader, cells, tokens)
    if len(cells) == 2 < count and (one := _one_beside_its_number(reader, quantity, cells, tokens)) != []:
        return one
    if len(cells) > count:
        numbers = " ".join(cell.text for cell in cells)
        reader.doubt(
            tokens,
            f"{len(cells)} numbers for {count} cylinders",
            f"{numbers}: which is which of the {count} cylinders?",
        )
        return None
    if len(cells) == 1 and count > 1:
        if reader.places and reader.places[0].kind == "cylinder" and len(reader.places) == 1:
            reader.suppose(f"taken for {reader.places[0]}")
            return [Cell(cells[0], reader.places[0])]
        reader.doubt(tokens, "which cylinder is not said", f"{cells[0].text}: which cylinder is it?")
        return None
    if len(cells) < count and not any(element.kind == "ALL" for element in elements):
        rest = ", ".join(str(number) for number in range(len(cells) + 1, count + 1))
        reader.suppose(f"taken as cylinders 1 to {len(cells)}, {rest} not measured")
    else:
        reader.suppose("counting order")
    return [Cell(cell, cylinder(number)) for number, cell in enumerate(cells, start=1)]


def _one_beside_its_number(
    reader: Reader, quantity: str, cells: list[Element], tokens: Sequence[Token]
) -> list[Cell] | None:
    """``5 157``, ``3 9.5``: two numbers, the first a cylinder and no value beside the second: else empty.

    Where it may be either (``leakdown 3 45``), it is asked.
    """
    number, value = cells[0].whole, cells[1]
    if not reader.is_cylinder(number) or cells[0].unit or value.signed:
        return []
    alike = value.whole is not None and share_a_unit(quantity, number, value.whole)
    if not (value.unit or is_likely(quantity, value)):
        return []
    if is_likely(quantity, cells[0]) and alike:
        ask = f"{number} {value.text}: cylinder {number} reads {value.text}, or cylinders 1 and 2 read one each?"
        reader.doubt(tokens, "a cylinder and what it reads, or two readings", ask)
        return None
    reader.suppose(f"{number} taken as the cylinder")
    return [Cell(value, cylinder(number))]


def _row_of_unknown(reader: Reader, cells: list[Element], tokens: Sequence[Token]) -> list[Cell] | None:
    """A row on a car whose count is not known: 3 numbers or more make a doubtful count."""
    run = [token for element in cells for token in element.tokens]
    if ROW_LEAST <= len(cells) <= MOST_CYLINDERS:
        count = len(cells)
        reader.bodies += [CarFact("cylinders", json.dumps(count)), CarFact("cylinders_doubtful", "true")]
        reader.suppose(f"{count} cylinders from the row")
        reader.ask(f"{count} numbers: has the engine {count} cylinders?")
        return [Cell(cell, cylinder(number)) for number, cell in enumerate(cells, start=1)]
    if len(cells) > MOST_CYLINDERS:
        reader.doubt(
            run,
            f"{len(cells)} numbers are more than {MOST_CYLINDERS} cylinders",
            "How many cylinders has the engine, and which number is whose?",
        )
        return None
    if len(cells) == 1:
        reader.doubt(run, "which cylinder is not said", f"{cells[0].text}: which cylinder is it?")
        return None
    reader.suppose("taken as cylinders 1 and 2")
    return [Cell(cell, cylinder(number)) for number, cell in enumerate(cells, start=1)]


def _commas_settled(reader: Reader, quantity: str, cells: list[Element]) -> list[Element]:
    """A comma between digits is a decimal one, unless only the two numbers apart make the row or fit the kind."""
    joint = [cell for cell in cells if _comma(cell)]
    if not joint:
        return cells
    apart = [part for cell in cells for part in (_apart(cell) if _comma(cell) else [cell])]
    count = reader.cylinders
    if count is not None and (len(cells) == count) != (len(apart) == count):
        return cells if len(cells) == count else apart
    likely = all(is_likely(quantity, cell) for cell in cells if not cell.unit)
    long_ends = any(len(cell.text.partition(",")[2]) > 2 for cell in joint) and not kind_named(quantity).whole
    if likely and not long_ends:
        if count is None and all(is_likely(quantity, part) for part in apart) and len(cells) > 1:
            first = joint[0].text
            reader.ask(f"{first}: one number with a decimal comma, or two numbers?")
        return cells
    return apart


def _comma(cell: Element) -> bool:
    left, comma, right = cell.text.partition(",")
    return bool(comma) and left.isdigit() and right[:1].isdigit() and not cell.ranged


def _apart(cell: Element) -> list[Element]:
    left, _, right = cell.text.partition(",")
    return [replace(cell, text=left, unit="", whole=int(left)), replace(cell, text=right)]
