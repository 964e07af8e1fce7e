"""Numbers of the engine or of a bank, each with the conditions said beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from knowngood.car import ENGINE, Place, layout_of
from knowngood.lines.cell import Cell, as_cell, conditions_in, groups_of
from knowngood.lines.elements import Element
from knowngood.lines.reader import Reader


def at_banks(reader: Reader, kind: str, cells: list[Cell]) -> list[Cell]:
    """Readings of a bank kind without a bank: the only bank, two numbers for two banks, or a question."""
    if reader.place_of_kind(kind) != "bank" or not any(cell.place == ENGINE for cell in cells):
        return cells
    banks = layout_of(reader.car).banks
    if len(banks) == 1:
        return [replace(cell, place=Place("bank", "1")) if cell.place == ENGINE else cell for cell in cells]
    if len(cells) == 2 and not cells[0].conditions and _is_joined(reader, cells):
        cells = [replace(cells[0], conditions=cells[1].conditions), cells[1]]
    if len(cells) == 2 and cells[0].conditions == cells[1].conditions:
        reader.suppose("taken as bank 1 and bank 2")
        return [replace(cell, place=Place("bank", str(number))) for number, cell in enumerate(cells, start=1)]
    reader.ask(f"{kind.replace('_', ' ')}: of which bank?")
    return cells


def _is_joined(reader: Reader, cells: list[Cell]) -> bool:
    """``+4/+1 idle``, ``+4 and +1 idle``: joined, two numbers share what is said behind them."""
    between = reader.text[cells[0].element.tokens[-1].end : cells[1].element.tokens[0].start]
    return between.strip().casefold() in ("/", "and", "&")


def by_condition(reader: Reader, kind: str, elements: Sequence[Element]) -> list[Cell]:
    """Numbers of an engine or bank reading, each with the conditions said beside it."""
    of_bank = reader.place_of_kind(kind) == "bank"
    place: Place | None = None
    cells: list[Cell] = []
    waiting: list[str] = []
    in_group, alike = 0, 1
    pending_places: tuple[Place, ...] = ()
    for element in elements:
        if element.kind == "COMMA":
            in_group, waiting = 0, waiting if not cells else []
        elif element.kind == "PLACE":
            banks = tuple(_bank_of(reader, found) if of_bank else found for found in element.places)
            if cells and cells[-1].place == ENGINE and not pending_places and place is None and in_group:
                last = cells.pop()
                cells += [replace(last, place=bank) for bank in banks]
                alike = len(banks)
            else:
                pending_places = banks
                place = banks[0]
        elif element.kind in ("COND", "SPEED"):
            if in_group and cells:
                count = max(len(pending_places), alike, 1)
                for index in range(max(len(cells) - count, 0), len(cells)):
                    cells[index] = replace(cells[index], conditions=(*cells[index].conditions, *element.names))
            elif cells and not waiting and element is _last_said(elements):
                cells[-1] = replace(cells[-1], conditions=(*cells[-1].conditions, *element.names))
            else:
                waiting += element.names
        elif element.kind in ("CELL", "NONE"):
            cell = as_cell(element) if element.kind == "NONE" else element
            for where in pending_places or (ENGINE,):
                cells.append(Cell(cell, where, tuple(waiting)))
            in_group, waiting, alike = in_group + 1, [], 1
    return _in_turn(elements, cells) if of_bank else cells


def _in_turn(elements: Sequence[Element], cells: list[Cell]) -> list[Cell]:
    """``bank 1 +24, bank 2 +22, at 2500 +6 +5``: two numbers behind two banks are of these, in their order."""
    groups = groups_of(elements)
    banks = [e.places[0] for group in groups for e in group if e.kind == "PLACE" and len(e.places) == 1]
    last = groups[-1] if groups else []
    loose = not any(element.kind == "PLACE" for element in last)
    if not loose or sum(e.kind == "CELL" for e in last) != len(banks) or len(set(banks)) != 2 or len(banks) != 2:
        return cells
    said = conditions_in(last)
    return [*cells[:-2], *(replace(c, place=p, conditions=said) for c, p in zip(cells[-2:], banks, strict=True))]


def _last_said(elements: Sequence[Element]) -> Element | None:
    return next((element for element in reversed(elements) if element.kind in ("COND", "SPEED", "CELL", "NONE")), None)


def _bank_of(reader: Reader, place: Place) -> Place:
    return place if place.kind == "bank" else ENGINE
