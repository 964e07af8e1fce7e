"""Readings with numbers: rows of cylinders, single cylinders, engine values with their conditions."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import replace

from knowngood.car import ENGINE, Place
from knowngood.errors import Refused
from knowngood.evidence import CarFact, Reading
from knowngood.lines.amounts import quantity_of, read_cells, slip, takes_unit, value_of
from knowngood.lines.cell import Cell
from knowngood.lines.conditions import settled
from knowngood.lines.elements import Element
from knowngood.lines.engine_values import at_banks
from knowngood.lines.kinds import Segment, conditions_of, kind_for, kind_of_cell, name_of, readings_of, segments_of
from knowngood.lines.placing import cells_placed
from knowngood.lines.reader import Reader
from knowngood.lines.scan import Token
from knowngood.lines.understood import TRIMS_ASKED
from knowngood.units import Quantity, kind_named


def read_series(reader: Reader, elements: Sequence[Element]) -> bool:
    """Read every segment that holds a number (or a "none") for a kind that is known; say whether any was read."""
    return sum(read_segment(reader, segment) for segment in _sharing(segments_of(_banks_first(elements)))) > 0


def _banks_first(elements: Sequence[Element]) -> list[Element]:
    """``b1 ltft +14 stft +6, b2 ltft -2 stft 0``: a bank in front of a name is of every name up to the next bank."""
    banks = [e.kind == "PLACE" and e.places[0].kind == "bank" for e in elements]
    heads = [i for i, bank in enumerate(banks) if bank]
    if heads[:1] == [1] and elements[0].kind == "NAME":
        return (
            [*elements[:1], *_banks_first(elements[1:])]
            if len(elements) > 2 and elements[2].kind == "NAME"
            else [*elements]
        )
    if (
        not heads
        or heads[0] != 0
        or any(elements[i + 1 : i + 2] == [] or elements[i + 1].kind != "NAME" for i in heads)
    ):
        return list(elements)
    found: list[Element] = []
    for index, element in enumerate(elements):
        bank = next(elements[head] for head in reversed(heads) if head <= index)
        named = element.kind == "NAME" and not banks[index - 1]
        found += [bank, element] if named else [element]
    return found


def _sharing(segments: list[Segment]) -> list[Segment]:
    """``stft +3 ltft +18 both banks at idle``: what trails the last number is of those before it too, up to a comma."""
    for index in range(len(segments) - 1, 0, -1):
        mine, before = segments[index].elements, segments[index - 1].elements
        if any(e.kind == "COMMA" for e in before) or any(e.kind in ("COND", "SPEED", "PLACE") for e in before):
            continue
        at = max((i for i, e in enumerate(mine) if e.kind in ("CELL", "NONE")), default=len(mine))
        tail = [e for e in mine[at + 1 :] if e.kind in ("COND", "SPEED", "PLACE")]
        commas = [i for i, e in enumerate(mine[:-1]) if e.kind == "COMMA"]
        if sum(e.kind in ("CELL", "NONE") for e in mine) == 1 and not commas:
            before.extend(tail)
    return segments


def read_segment(reader: Reader, segment: Segment, kind: str = "") -> bool:
    """Read one segment into readings, of a kind if that is known; nothing is marked as read when it cannot be."""
    said = conditions_of(segment.elements)
    kind = kind or kind_for(reader, segment, said)
    if not kind:
        return False
    quantity = quantity_of(reader, kind)
    segment = Segment(_fitted(_without_strangers(segment.elements), kind, quantity))
    window, body = _without_window(segment.elements)
    cells = cells_placed(reader, kind, quantity, body)
    if cells is None:
        return True
    if not cells:
        return put_window(reader, kind, quantity, window)
    cells = _spread(kind, at_banks(reader, kind, cells))
    if kind == "battery_cranking" and len(cells) > 1 and not any(cell.conditions for cell in cells):
        tokens = [token for element in segment.elements for token in element.tokens]
        words = reader.words(tokens)
        reader.doubt(tokens, "when each was read is not said", f"{words}: which at rest, cranking, running?")
        return True
    try:
        values = read_cells([cell.element for cell in cells], quantity, _last_unit(reader, kind))
    except Refused as refused:
        tokens = [token for element in segment.elements for token in element.tokens]
        problem = refused.problems[0]
        reader.doubt(tokens, problem.fact, f"{problem.fact} {problem.fix}")
        return True
    slow = quantity == "engine_speed" and any(value.value < SLOWEST for value in values)
    if slow and not segment.names():
        return False  # a number that goes on with another reading
    for cell, value in zip(cells, values, strict=True):
        _put_reading(
            reader, kind_of_cell(reader, kind, segment, cell), cell, _trimmed(reader, quantity, value), segment
        )
    reader.places = tuple(dict.fromkeys(cell.place for cell in cells))
    put_window(reader, kind, quantity, window)
    used = [e for e in segment.elements if e.kind != "WORD" and not _complains(reader, e.token)]
    reader.use(token for element in used for token in element.tokens)
    reader.kind = kind
    return True


OF_THE_TEST = ("throttle open", "throttle closed", "plugs out", "plugs in")
"""Conditions of a compression test as a whole, wherever in the row they are said."""


def _spread(kind: str, cells: list[Cell]) -> list[Cell]:
    said = [name for cell in cells for name in cell.conditions if name in OF_THE_TEST]
    if kind not in ("compression", "compression_wet") or not said:
        return cells
    return [replace(cell, conditions=tuple(dict.fromkeys((*cell.conditions, *said)))) for cell in cells]


SLOWEST = 30.0
"""No engine turns more slowly while it is cranked or runs [rpm]; common practice."""


def _complains(reader: Reader, token: Token) -> bool:
    """``rpm hunting 600 to 1100``: a complaint among the numbers is one by itself."""
    kinds = (*token.ids("says"), *(name.partition("=")[0] for name in token.ids("alone")))
    records = [reader.kind_record(kind) for kind in kinds]
    plain = token.means("kind") or token.means("part") or token.means("condition") or token.means("filler")
    return not plain and any(record is not None and record.complaint for record in records)


def _without_strangers(elements: Sequence[Element]) -> list[Element]:
    """``ect 88c iat 31``: a number right behind a word that is not known is of that, not of the name before it."""
    found: list[Element] = []
    for element in elements:
        before = found[-1] if found else None
        measured = any(other.kind == "CELL" for other in found)
        if element.kind == "CELL" and before is not None and measured and _is_stranger(before):
            element = replace(element, kind="WORD")
        found.append(element)
    return found


def _is_stranger(element: Element) -> bool:
    return element.kind == "WORD" and element.token.kind == "word" and len(element.token.plain) > 1


def _last_unit(reader: Reader, kind: str) -> str:
    """The unit this kind was read in last, on this line or before it."""
    units = [body.value.unit for body in readings_of(reader) if body.kind == kind and body.value is not None]
    return units[-1] if units else reader.recent.units.get(kind, "")


def _fitted(elements: Sequence[Element], kind: str, quantity: str) -> list[Element]:
    """The elements with the numbers that are no values of this kind turned into conditions."""
    found: list[Element] = []
    relative = False
    for index, element in enumerate(elements):
        relative = relative and element.kind != "COMMA"
        if relative and element.kind == "COND":
            element = replace(element, kind="WORD")
        behind = elements[index + 1] if index + 1 < len(elements) else None
        if element.kind == "OPEN":
            element = replace(element, kind="CELL" if kind_named(quantity).open_line is not None else "WORD", text="OL")
        elif (
            element.kind == "CELL"
            and quantity == "trim"
            and element.whole in (1, 2)
            and (not element.token.spaced or (behind is not None and behind.kind == "EQUALS"))
        ):
            element = replace(element, kind="PLACE", places=(Place("bank", str(element.whole)),))
        if element.kind == "SPEED":
            element = replace(element, kind="CELL" if quantity == "engine_speed" else "COND")
        elif element.kind == "CELL" and (speed := _speed_beside(element, quantity, elements)):
            names = ("cruise" if speed >= 1300 else "hot idle", f"{speed} rpm")
            element = replace(element, kind="COND", names=names)
        elif element.kind == "CELL" and element.unit and not takes_unit(quantity, element.unit):
            element = replace(element, kind="COND", names=(f"at {element.text}",))
        elif element.kind == "CELL" and element.signed and kind in ("compression", "compression_wet"):
            element, relative = replace(element, kind="WORD"), True
        found.append(element)
    return found


def _speed_beside(element: Element, quantity: str, elements: Sequence[Element]) -> int:
    """``4 bar 3000``, ``trims +4 2500``: a bare number of the size of an engine speed, and of no size of this kind; 0
    for any other.
    """
    if element.unit or element.whole is None or not 500 <= element.whole <= 7500:
        return 0
    measured = any(other.kind == "CELL" and other.unit for other in elements)
    pressed = measured and quantity in ("oil_pressure", "fuel_pressure", "vacuum")
    return element.whole if quantity == "trim" or pressed else 0


def _without_window(elements: Sequence[Element]) -> tuple[Element | None, list[Element]]:
    """The number behind "should be", and the elements without it."""
    for index, element in enumerate(elements):
        if element.kind != "SPEC":
            continue
        for behind in range(index + 1, min(index + 4, len(elements))):
            if elements[behind].kind != "CELL":
                continue
            end, window = behind + 1, elements[behind]
            if end + 1 < len(elements) and elements[end].kind == "DASH" and elements[end + 1].kind == "CELL":
                other = elements[end + 1]
                first = window.text.removesuffix(window.unit).strip()
                window = replace(
                    window,
                    text=f"{first} to {other.text}",
                    unit=other.unit or window.unit,
                    ranged=True,
                    tokens=(*window.tokens, *elements[behind + 1].tokens, *other.tokens),
                )
                end += 2
            return window, [*elements[:index], *elements[end:]]
    return None, list(elements)


def _is_of_another(reader: Reader, kind: str, window: Element) -> bool:
    """``injector 2 wire 40 ohm, should be under 1`` is no limit for the coils that were read on the line before."""
    named = [t for t in reader.tokens if t.means("part") and t.start < window.tokens[0].start]
    read = any(isinstance(body, Reading) and body.kind == kind for body in reader.bodies)
    return bool(named) and not read and not any(kind in reader.kinds_of_part(token) for token in named)


def put_window(reader: Reader, kind: str, quantity: str, window: Element | None) -> bool:
    """What the reading should be, as told, kept as a fact of the car."""
    if window is None or _is_of_another(reader, kind, window):
        return False
    prefer = next(
        (
            body.value.unit
            for body in reversed(reader.bodies)
            if isinstance(body, Reading) and body.value and body.kind == kind
        ),
        "",
    )
    try:
        read = read_cells([window], quantity, prefer)[0]
    except Refused:
        return False
    low, high = read.low, read.high
    if low is not None and high is not None and low == high:
        reader.suppose(f"should be {window.text} taken as 5 % either way")
        low, high = low - WINDOW_SHARE * abs(low), high + WINDOW_SHARE * abs(high)
    told = {kind: {"low": low, "high": high, "source": "as told"}}
    reader.put(CarFact("windows", json.dumps(told)))
    reader.use_turned(window.tokens)
    return True


def _trimmed(reader: Reader, quantity: str, value: Quantity) -> Quantity:
    """A trim on the scale about 100 (``125 %``) brought to the scale about 0.

    ``+3`` of a car whose neutral trim is 100 was read on another instrument: 97 % lean is no trim.
    """
    typed, neutral = value.amount.value, reader.car.neutral_trim
    low, high = kind_named("trim").usual
    if quantity != "trim" or neutral == 0.0 or not low <= typed - 100.0 <= high:
        return value
    if neutral is None and typed <= high:
        return value
    reader.suppose(f"{typed:g} % taken as {typed - 100:+g} % (scale about 100)")
    if neutral is None and not reader.recent.trims_asked:
        reader.ask(TRIMS_ASKED)

    def moved(end: float | None) -> float | None:
        return None if end is None else end - 100.0

    amount = replace(value.amount, value=typed - 100.0, low=moved(value.amount.low), high=moved(value.amount.high))
    return replace(value, value=value.value - 100.0, amount=amount)


def _put_reading(reader: Reader, kind: str, cell: Cell, value: Quantity, segment: Segment) -> None:
    doubt = ""
    sure = any(token.means("mark", "sure") for element in segment.elements for token in element.tokens)
    if not sure and (out := slip(value)):
        doubt = out
        where = "" if cell.place == ENGINE else f" of {cell.place}"
        reader.ask(f"{name_of(kind)}{where}: {out} Really so?")
    elif not sure and value.others:
        others = " or ".join(other.unit for other in value.candidates)
        doubt = f"could be {others}"
        reader.ask(f"{name_of(kind)}: {value.amount.value:g} {others}?")
    if cell.doubt:
        doubt = doubt or cell.doubt
    if reader.kind_record(kind) is None:
        doubt = doubt or "no such kind"
    final, conditions = settled(reader, kind, (*cell.conditions, *reader.given))
    word = ""
    if kind == "fuel_pressure" and "after a wait" in cell.conditions:
        final, word = _held(reader, value)
    if final == "compression_wet" and reader.kind_record(final) is None and reader.kind_record(kind) is not None:
        final, conditions = kind, (*conditions, "wet")
    if value.guessed and not value.others:
        unit = kind_named(value.kind).unit(value.unit)
        reader.suppose(f"guessed {unit.symbol or unit.name}")
    instrument = next((e.token.text for e in segment.names() if e.token.plain in ("gauge", "needle")), "")
    who = (
        "shown by the ECU"
        if kind in ("long_trim", "short_trim", "coolant_reading") and not instrument
        else "measured here"
    )
    reader.put(
        Reading(
            kind=final,
            place=cell.place,
            value=value_of(value),
            word=word,
            conditions=conditions,
            instrument=instrument,
            who=who,
            doubt=doubt,
        ),
        [token for element in (cell.element,) for token in element.tokens],
    )


WINDOW_SHARE = 0.05
"""Half width of a single number told as what should be read; a convention of ours."""


HELD_SHARE = 0.7
"""A fuel pressure that keeps less than this share after the wait "falls"; common practice, the car's own data win."""


def _held(reader: Reader, value: Quantity) -> tuple[str, str]:
    """Whether the fuel pressure held, against the one read before on this line."""
    first = next(
        (b.value for b in reader.bodies if isinstance(b, Reading) and b.kind == "fuel_pressure" and b.value), None
    )
    if first is None or first.number <= 0:
        return "fuel_pressure", ""
    word = "falls" if value.value < HELD_SHARE * first.number else "holds"
    reader.suppose(f"fuel pressure {word}: {100 * value.value / first.number:.0f} % left")
    return "fuel_hold", word
