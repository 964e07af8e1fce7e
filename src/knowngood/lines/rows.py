"""Which number belongs to which cylinder.

As many numbers as cylinders are cylinders 1..n in counting order; fewer leave the rest not measured; a number beside a
cylinder belongs to it, before or behind as the line does it.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from knowngood.car import ENGINE, Place, layout_of
from knowngood.evidence import CarFact
from knowngood.lines.amounts import is_likely
from knowngood.lines.elements import PREPOSITIONS, Element, cylinder
from knowngood.lines.reader import MOST_CYLINDERS, Reader
from knowngood.units import kind_named

ROW_LEAST, ROW_MOST = 3, 16


@dataclass(frozen=True)
class Cell:
    """One number with the place and the conditions it was read at."""

    element: Element
    place: Place = ENGINE
    conditions: tuple[str, ...] = ()
    doubt: str = ""


def cells_placed(reader: Reader, kind: str, quantity: str, elements: Sequence[Element]) -> list[Cell] | None:
    """The numbers of a segment, each at its place.

    Returns
    -------
    list of Cell or None
        Empty when there is no number; None when the numbers cannot be placed: a note with its question was put in.
    """
    elements = joined_ranges(reader, kind, quantity, list(elements))
    if reader.place_of_kind(kind) != "cylinder":
        return _by_condition(reader, kind, elements)
    elements = [_as_cell(element) if element.kind == "NONE" else element for element in elements]
    if _says_how_many(elements):
        tokens = [token for element in elements for token in element.tokens]
        reader.doubt(tokens, "how many is said, not which", f"{reader.words(tokens)}: which cylinders are they?")
        return None
    elements = _places_behind_prepositions(reader, elements)
    if not any(element.kind == "CELL" for element in elements):
        return []
    elements = _places_behind_names(reader, elements)
    if any(element.kind in ("PLACE", "REST", "EXCEPT") for element in elements):
        return _at_places(reader, elements)
    groups = _groups(elements)
    if pairs := _pairs(reader, quantity, groups):
        return pairs
    if headed := _headed(reader, elements):
        return headed
    return _rows(reader, kind, quantity, elements)


def joined_ranges(reader: Reader, kind: str, quantity: str, elements: list[Element]) -> list[Element]:
    """Two numbers with a dash between them made one range, where they are no row of cylinders."""
    cells = [element for element in elements if element.kind == "CELL"]
    places = reader.place_of_kind(kind)
    count = reader.cylinders
    dashes = sum(_dash_between(elements, index) for index in range(len(elements)))
    if places == "cylinder" and dashes == len(cells) - 1 and len(cells) >= 2:
        if len(cells) == count or (
            len(cells) > 2 and (count is None or len(cells) < count or "/" in _dash_signs(elements))
        ):
            return elements
        if "/" in _dash_signs(elements):
            return elements
    out: list[Element] = []
    index = 0
    while index < len(elements):
        if (
            _dash_between(elements, index)
            and out
            and out[-1].kind == "CELL"
            and not out[-1].ranged
            and elements[index].text != "/"
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


def _dash_between(elements: Sequence[Element], index: int) -> bool:
    return (
        elements[index].kind == "DASH"
        and 0 < index < len(elements) - 1
        and elements[index - 1].kind == "CELL"
        and elements[index + 1].kind == "CELL"
    )


def _dash_signs(elements: Sequence[Element]) -> set[str]:
    return {elements[index].text for index in range(len(elements)) if _dash_between(elements, index)}


def _as_cell(element: Element) -> Element:
    return replace(element, kind="CELL", text="none")


def _places_behind_prepositions(reader: Reader, elements: list[Element]) -> list[Element]:
    """``60 in 3``, ``none in 1 and 3``: small bare numbers behind a preposition are cylinders."""
    if not any(element.kind == "CELL" and _is_value(reader, element) for element in elements):
        return elements
    out = list(elements)
    for index, element in enumerate(out):
        if element.kind != "CELL" or element.whole is None or not 1 <= element.whole <= reader.most:
            continue
        if element.after in PREPOSITIONS and element.after not in ("to", "by", "from"):
            numbers, end = [element.whole], index + 1
            while end + 1 < len(out) and out[end].kind in ("LINK", "COMMA", "DASH") and out[end].text != "-":
                number = out[end + 1].whole if out[end + 1].kind == "CELL" else None
                if number is None or not 1 <= number <= reader.most:
                    break
                numbers.append(number)
                end += 2
            tokens = tuple(token for part in out[index:end] for token in part.tokens)
            place = Element("PLACE", tokens, places=tuple(cylinder(number) for number in numbers))
            return [*out[:index], place, *_places_behind_prepositions_from(reader, out[end:])]
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


def _groups(elements: Sequence[Element]) -> list[list[Element]]:
    """Cut at commas."""
    groups: list[list[Element]] = [[]]
    for element in elements:
        if element.kind == "COMMA":
            groups.append([])
        else:
            groups[-1].append(element)
    return [group for group in groups if group]


def _says_how_many(elements: Sequence[Element]) -> bool:
    """``250-260 in seven, zero in one``: counts of cylinders, not their numbers."""
    spoken = [e for e in elements if e.kind == "CELL" and e.after == "in" and e.token.kind == "numword"]
    return bool(spoken) and any(e.kind == "CELL" and e.token.kind == "num" for e in elements)


def at_banks(reader: Reader, kind: str, cells: list[Cell]) -> list[Cell]:
    """Readings of a bank kind for which no bank was said: the only bank, or two numbers for two banks, or a question."""
    if reader.place_of_kind(kind) != "bank" or not any(cell.place == ENGINE for cell in cells):
        return cells
    banks = layout_of(reader.car).banks
    if len(banks) == 1:
        return [replace(cell, place=Place("bank", "1")) if cell.place == ENGINE else cell for cell in cells]
    if len(cells) == 2 and cells[0].conditions == cells[1].conditions:
        reader.suppose("taken as bank 1 and bank 2")
        return [replace(cell, place=Place("bank", str(number))) for number, cell in enumerate(cells, start=1)]
    reader.ask(f"{kind.replace('_', ' ')}: of which bank?")
    return cells


def _by_condition(reader: Reader, kind: str, elements: Sequence[Element]) -> list[Cell]:
    """Numbers of an engine or bank reading, each with the conditions said beside it."""
    of_bank = reader.place_of_kind(kind) == "bank"
    place: Place | None = None
    cells: list[Cell] = []
    waiting: list[str] = []
    in_group = 0
    pending_places: tuple[Place, ...] = ()
    for element in elements:
        if element.kind == "COMMA":
            in_group, waiting = 0, waiting if not cells else []
        elif element.kind == "PLACE":
            banks = tuple(_bank_of(reader, found) if of_bank else found for found in element.places)
            if cells and cells[-1].place == ENGINE and not pending_places and place is None and in_group:
                last = cells.pop()
                cells += [replace(last, place=bank) for bank in banks]
            else:
                pending_places = banks
                place = banks[0]
        elif element.kind in ("COND", "SPEED"):
            if in_group and cells:
                count = max(len(pending_places), 1)
                for index in range(max(len(cells) - count, 0), len(cells)):
                    cells[index] = replace(cells[index], conditions=(*cells[index].conditions, *element.names))
            elif cells and not waiting and element is _last_said(elements):
                cells[-1] = replace(cells[-1], conditions=(*cells[-1].conditions, *element.names))
            else:
                waiting += element.names
        elif element.kind in ("CELL", "NONE"):
            cell = _as_cell(element) if element.kind == "NONE" else element
            for where in pending_places or (ENGINE,):
                cells.append(Cell(cell, where, tuple(waiting)))
            in_group, waiting = in_group + 1, []
    return cells


def _last_said(elements: Sequence[Element]) -> Element | None:
    return next((element for element in reversed(elements) if element.kind in ("COND", "SPEED", "CELL", "NONE")), None)


def _bank_of(reader: Reader, place: Place) -> Place:
    return place if place.kind == "bank" else ENGINE


def _conditions(elements: Iterable[Element]) -> tuple[str, ...]:
    return tuple(name for element in elements if element.kind in ("COND", "SPEED") for name in element.names)


def _at_places(reader: Reader, elements: Sequence[Element]) -> list[Cell] | None:
    """Numbers beside cylinders: the cylinder first, or the number first, as the line begins."""
    said = [element for element in elements if element.kind in ("PLACE", "CELL", "ALL", "REST", "EXCEPT", "COND")]
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
            if cells:
                cells[-1] = replace(cells[-1], conditions=(*cells[-1].conditions, *element.names))
            else:
                waiting += element.names
        elif element.kind == "EXCEPT":
            excepted = place_first = True
            others += range(len(cells))
            open_places = ()
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
    wrong = [cell for cell in cells if _outside(reader, cell.place)]
    if wrong:
        place = wrong[0].place
        reader.doubt(tokens, f"there is no {place}: the engine has {reader.cylinders}", no_such(reader, place))
        return None
    return cells


def no_such(reader: Reader, place: Place) -> str:
    """The question for a cylinder the engine does not have."""
    return f"There is no {place} of {reader.cylinders}: which one is it, or how many cylinders has the engine?"


def _outside(reader: Reader, place: Place) -> bool:
    return place.kind == "cylinder" and place.name.isdigit() and not 1 <= int(place.name) <= reader.most


def outside(reader: Reader, places: Iterable[Place]) -> Place | None:
    """The first place that this engine does not have."""
    return next((place for place in places if _outside(reader, place)), None)


def _spread_rest(reader: Reader, cells: list[Cell], named: Sequence[Place]) -> list[Cell]:
    """ "The rest" and "all" turned into the cylinders that were not named."""
    out: list[Cell] = []
    for cell in cells:
        if cell.place != Place("engine", "rest"):
            out.append(cell)
            continue
        places = [place for place in reader.all_cylinders() if place not in named]
        out += [replace(cell, place=place) for place in places]
    return out


def _pairs(reader: Reader, quantity: str, groups: Sequence[Sequence[Element]]) -> list[Cell]:
    """``1 8 %, 2 9, 3 7``, ``1=175 2=180``, ``lead 5 3.1k``: each number with its cylinder before it; empty when it is no such row."""
    cells: list[Cell] = []
    numbers: list[int] = []
    sure = False
    for group in _split_at_equals(groups):
        found = [element for element in group if element.kind == "CELL"]
        if not found:
            if cells and (said := _conditions(group)):
                cells = [replace(cell, conditions=(*cell.conditions, *said)) for cell in cells]
            continue
        *heads, value = found
        heads_whole = [head.whole for head in heads if head.whole is not None and 1 <= head.whole <= reader.most]
        if not heads or len(heads_whole) != len(heads):
            return []
        if len(heads) > 1 and not (value.unit and not any(head.unit for head in heads) and _linked(group, len(heads))):
            return []
        numbers += heads_whole
        sure = sure or any(element.kind == "EQUALS" for element in group)
        said = _conditions(group)
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


def _headed(reader: Reader, elements: Sequence[Element]) -> list[Cell]:
    """``coil 3 0 / infinite``: the first number names the cylinder, the others were read there; empty when it is no such run."""
    cells = [element for element in elements if element.kind == "CELL"]
    index = next((index for index, element in enumerate(elements) if element.kind == "CELL"), 0)
    if len(cells) < 3 or len(cells) == reader.cylinders or not index or elements[index - 1].kind != "NAME":
        return []
    number = cells[0].whole
    dashes = sum(_dash_between(elements, at) for at in range(len(elements)))
    if (
        number is None
        or not 1 <= number <= reader.most
        or dashes != len(cells) - 2
        or elements[index + 1].kind == "DASH"
    ):
        return []
    return [Cell(cell, cylinder(number), _conditions(elements)) for cell in cells[1:]]


def _linked(group: Sequence[Element], heads: int) -> bool:
    return sum(element.kind in ("LINK", "DASH") for element in group) >= heads - 1


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


def _rows(reader: Reader, kind: str, quantity: str, elements: Sequence[Element]) -> list[Cell] | None:
    """Rows of numbers in counting order; a condition between numbers starts another row."""
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


def _row_of_unknown(reader: Reader, cells: list[Element], tokens: Sequence[object]) -> list[Cell] | None:
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
