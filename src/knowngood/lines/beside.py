"""Numbers beside a cylinder: named before or behind, paired, or headed by it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise

from knowngood.car import ENGINE, Place
from knowngood.evidence import Reading
from knowngood.lines.amounts import is_likely
from knowngood.lines.cell import Cell, conditions_in, dash_between
from knowngood.lines.elements import Element, cylinder
from knowngood.lines.reader import Reader
from knowngood.lines.token import Token


def no_such(reader: Reader, place: Place) -> str:
    """The question for a cylinder the engine does not have."""
    return f"There is no {place} of {reader.cylinders}: which one is it, or how many cylinders has the engine?"


def is_outside(reader: Reader, place: Place) -> bool:
    """Whether a cylinder's number is one this engine does not have."""
    return place.kind == "cylinder" and place.name.isdigit() and not reader.is_cylinder(int(place.name))


def outside(reader: Reader, places: Iterable[Place]) -> Place | None:
    """The first place that this engine does not have."""
    return next((place for place in places if is_outside(reader, place)), None)


def at_places(reader: Reader, elements: Sequence[Element]) -> list[Cell] | None:
    """Numbers beside cylinders: the cylinder first, or the number first, as the line begins."""
    kinds = ("PLACE", "CELL", "ALL", "REST", "EXCEPT", "COND")
    heads = {id(b) for a, b in pairwise(elements) if a.kind == "COMMA" and b.kind == "COND"}
    said = [element for element in elements if element.kind in kinds]
    marks = [element for element in said if element.kind != "COND"]
    place_first = marks[0].kind in ("PLACE", "REST", "ALL")
    cells: list[Cell] = []
    named: list[Place] = []
    open_places: tuple[Place, ...] = ()
    others: list[int] = []
    excepted = False
    waiting: list[str] = []
    for element in said:
        if element.kind == "COND":
            goes_on = id(element) in heads and any(e.kind == "CELL" for e in said[said.index(element) :])
            if cells and goes_on and cells[-1].place != ENGINE:
                waiting, open_places = list(element.names), (cells[-1].place,)
            elif cells:
                cells[-1] = replace(cells[-1], conditions=(*cells[-1].conditions, *element.names))
            else:
                waiting += element.names
        elif element.kind == "EXCEPT":
            excepted = place_first = True
            others += range(len(cells))
            open_places = ()
        elif element.kind == "ALL" and len(open_places) > 1:
            continue  # "2 and 3 both 60"
        elif element.kind in ("PLACE", "REST", "ALL"):
            places = element.places if element.kind == "PLACE" else ()
            named += places
            if place_first or not cells or cells[-1].place != ENGINE:
                open_places = places or (Place("engine", "rest"),)
            else:
                last = cells.pop()
                cells += [replace(last, place=place) for place in places or (Place("engine", "rest"),)]
        else:
            cells += [Cell(element, place, tuple(waiting)) for place in open_places or (ENGINE,)]
    for index in others:
        cells[index] = replace(cells[index], place=Place("engine", "rest"))
    cells = _spread_rest(reader, cells, named)
    if excepted and not any(cell.place in named for cell in cells):
        reader.ask("And what does the excepted cylinder read?")
    tokens = [token for element in elements for token in element.tokens]
    return _each_at_its_place(reader, cells, named, tokens, excepted=excepted)


def _each_at_its_place(
    reader: Reader, cells: list[Cell], named: Sequence[Place], tokens: Sequence[Token], *, excepted: bool
) -> list[Cell] | None:
    """Numbers left without a cylinder given to those that are left; nothing where one of either is over."""
    if any(cell.place == ENGINE for cell in cells) and reader.cylinders != 1:
        free = [place for place in reader.all_cylinders() if place not in named and place != ENGINE]
        loose = sum(cell.place == ENGINE for cell in cells)
        if loose != len(free):
            reader.doubt(
                tokens, "which cylinder is not said", f"{reader.words(tokens)}: which number is of which cylinder?"
            )
            return None
        reader.suppose("the others in counting order")
        cells = [replace(cell, place=free.pop(0)) if cell.place == ENGINE else cell for cell in cells]
    if unread := set(named) - {cell.place for cell in cells} - ({*named} if excepted else set()):
        where = sorted(unread)[0]
        reader.doubt(tokens, f"no number for {where}", f"{reader.words(tokens)}: what does {where} read?")
        return None
    wrong = [cell for cell in cells if is_outside(reader, cell.place)]
    if wrong:
        place = wrong[0].place
        reader.doubt(tokens, f"there is no {place}: the engine has {reader.cylinders}", no_such(reader, place))
        return None
    return cells


def _spread_rest(reader: Reader, cells: list[Cell], named: Sequence[Place]) -> list[Cell]:
    """ "The rest" and "all" turned into the cylinders that were not named, here or before in the sentence."""
    fresh = [body for body in reader.bodies[reader.since :] if isinstance(body, Reading) and body.kind == reader.kind]
    named = [*named, *(body.place for body in fresh)]
    out: list[Cell] = []
    for cell in cells:
        if cell.place != Place("engine", "rest"):
            out.append(cell)
            continue
        places = [place for place in reader.all_cylinders() if place not in named]
        out += [replace(cell, place=place) for place in places]
    return out


def pairs_of(reader: Reader, quantity: str, groups: Sequence[Sequence[Element]]) -> list[Cell]:
    """Each number with its cylinder before it (``1 8 %, 2 9, 3 7``; ``1=175 2=180``); empty when it is no such row."""
    cells: list[Cell] = []
    numbers: list[int] = []
    sure = False
    groups = _split_alternating(reader, quantity, _split_at_equals(groups))
    for group in groups:
        found = [element for element in group if element.kind == "CELL"]
        if not found:
            if cells and (said := conditions_in(group)):
                cells = [replace(cell, conditions=(*cell.conditions, *said)) for cell in cells]
            continue
        *heads, value = found
        heads_whole = [head.whole for head in heads if reader.is_cylinder(head.whole)]
        if not heads or len(heads_whole) != len(heads):
            return []
        together = _are_together(reader, group, found)
        if len(heads) > 1 and not together:
            return []
        sure = sure or together
        numbers += heads_whole
        sure = sure or any(element.kind == "EQUALS" for element in group)
        said = conditions_in(group)
        cells += [Cell(value, cylinder(number), said) for number in heads_whole]
    if not cells or len(set(numbers)) != len(numbers):
        return []
    values = [cell.element for cell in cells]
    rising = numbers == sorted(numbers) and (len(numbers) > 1 or values[0].unit != "")
    odd = [number for number in numbers if not is_likely(quantity, Element("CELL", (), text=str(number)))]
    if sure or (len(groups) > 1 and rising) or values[0].unit or values[0].text == "OL" or odd:
        if len(numbers) == 1 and reader.cylinders == 2 and not values[0].unit and not odd:
            return []
        return cells
    return []


def _split_alternating(reader: Reader, quantity: str, groups: list[list[Element]]) -> list[list[Element]]:
    """One group cut before each cylinder where cylinder and number take turns (``1 150 2 148 4 152``)."""
    at = [index for index, element in enumerate(groups[0]) if element.kind == "CELL"] if len(groups) == 1 else []
    heads = [groups[0][index].whole for index in at[::2]]
    numbers = [head for head in heads if reader.is_cylinder(head)]
    each_has_unit = all(groups[0][index].unit for index in at[1::2])
    in_order = numbers == sorted(numbers) or each_has_unit
    if len(at) < 4 or len(at) % 2 or len(numbers) != len(heads) or len(set(numbers)) != len(numbers) or not in_order:
        return groups
    unlikely = not all(is_likely(quantity, Element("CELL", (), text=str(number))) for number in numbers)
    crowded = reader.cylinders is not None and len(at) > reader.cylinders
    if not (unlikely or crowded) and not all(
        groups[0][index].unit or groups[0][index].text == "OL" or "." in groups[0][index].text for index in at[1::2]
    ):
        return groups
    starts = [0, *at[2::2], len(groups[0])]
    return [groups[0][first:last] for first, last in pairwise(starts)]


def headed(reader: Reader, elements: Sequence[Element]) -> list[Cell]:
    """The first number names the cylinder, the others were read there (``coil 3 0 / infinite``); else empty."""
    cells = [element for element in elements if element.kind == "CELL"]
    index = next((index for index, element in enumerate(elements) if element.kind == "CELL"), 0)
    if len(cells) < 3 or len(cells) == reader.cylinders or not index or elements[index - 1].kind != "NAME":
        return []
    number = cells[0].whole
    dashes = sum(dash_between(elements, at) for at in range(len(elements)))
    if not reader.is_cylinder(number) or dashes != len(cells) - 2 or elements[index + 1].kind == "DASH":
        return []
    return [Cell(cell, cylinder(number), conditions_in(elements)) for cell in cells[1:]]


def _are_together(reader: Reader, group: Sequence[Element], cells: Sequence[Element]) -> bool:
    """``1 and 2 165``, ``3/4 12.1 ohm``: cylinders joined, and behind them one number that is none."""
    *heads, value = cells
    links = sum(element.kind in ("LINK", "DASH") for element in group)
    if len(heads) < 2 or any(head.unit for head in heads) or links < len(heads) - 1:
        return False
    apart = group[group.index(value) - 1].kind not in ("LINK", "DASH") and not reader.is_cylinder(value.whole)
    return bool(value.unit) or apart


def _split_at_equals(groups: Sequence[Sequence[Element]]) -> list[list[Element]]:
    """Groups cut again where "=" or ":" stands behind each cylinder (``1=175 2=180``)."""
    out: list[list[Element]] = []
    for group in groups:
        if sum(element.kind == "EQUALS" for element in group) < 2:
            out.append(list(group))
            continue
        now: list[Element] = []
        for index, element in enumerate(group):
            starts = element.kind == "CELL" and index + 1 < len(group) and group[index + 1].kind == "EQUALS"
            if starts and any(e.kind == "CELL" for e in now):
                out.append(now)
                now = []
            now.append(element)
        out.append(now)
    return out
