"""Which kind of reading a run of numbers is: by its name, its unit, its size, its conditions."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from knowngood.evidence import Reading
from knowngood.lines.amounts import is_likely, quantity_of, takes_unit
from knowngood.lines.by_size import is_charging, is_of_cold, is_running
from knowngood.lines.cell import Cell
from knowngood.lines.counted import is_counted
from knowngood.lines.elements import Element
from knowngood.lines.reader import Reader
from knowngood.lines.vocabulary import PASSED_OVER


@dataclass
class Segment:
    """A run of elements about one kind of reading."""

    elements: list[Element] = field(default_factory=list)

    def of(self, kind: str) -> list[Element]:
        """Its elements of one kind."""
        return [element for element in self.elements if element.kind == kind]

    def names(self) -> list[Element]:
        """Its elements that name a kind of reading."""
        return self.of("NAME")


def segments_of(elements: Sequence[Element]) -> list[Segment]:
    """Cut where another name starts after numbers were given to the one before (``LT +8 ST +2``)."""
    found = [Segment()]
    for index, element in enumerate(elements):
        now = found[-1]
        if element.kind == "NAME" and now.names() and any(e.kind in ("CELL", "NONE", "SPEED") for e in now.elements):
            before = elements[index - 1]
            joined = before.kind in ("LINK", "FILL") and before.token.plain in ("at", "in", "on", "of", "from")
            if not joined or any(e.kind == "COMMA" for e in now.elements[-2:]):
                found.append(Segment(_taken_along(now)))
        found[-1].elements.append(element)
    return found


def _taken_along(before: Segment) -> list[Element]:
    """``b1 ltft -12 b2 ltft +1``: where places stand first, the one right before the next name belongs to it."""
    last = max((i for i, e in enumerate(before.elements) if e.kind == "COMMA"), default=-1)
    lead = before.elements[last + 1 :]
    if last > 0 and lead and all(e.kind in ("COND", "SPEED", "FILL", "LINK") for e in lead):
        del before.elements[last + 1 :]
        return lead  # "at idle, at 2500 long +5": behind a comma it leads the next name in
    places_first = before.elements[0].kind == "PLACE" and before.elements[-1].kind == "PLACE"
    return [before.elements.pop()] if places_first and len(before.elements) > 1 else []


def candidates_of(reader: Reader, segment: Segment) -> list[str]:
    """Kinds of reading the names of a segment may mean, the longest names first."""
    found: list[str] = []
    for element in sorted(segment.names(), key=lambda e: -len(e.token.text)):
        token = element.token
        named = [*token.ids("says"), *token.ids("kind")]
        named += [] if token.means("kind") else reader.kinds_of_part(token)
        for kind in named:
            if kind not in found:
                found.append(kind)
    return found


def kind_for(reader: Reader, segment: Segment, conditions: Sequence[str]) -> str:
    """The kind of reading a segment is about: by its name, its unit, the size of its numbers, its conditions."""
    cells = segment.of("CELL")
    if _is_voltage_elsewhere(reader, segment) or _is_no_voltage(segment, cells) or _is_of_air(reader, segment):
        return ""
    candidates = candidates_of(reader, segment)
    if not candidates and cells and reader.subject is not None and any(cell.unit for cell in cells):
        subject = Segment([Element("NAME", (reader.subject,))])
        candidates = [
            kind for kind in candidates_of(reader, subject) if _score(reader, kind, cells, conditions, segment) > 0
        ]
    if not candidates and any(cell.unit for cell in cells):
        candidates = _of_system(reader, segment, cells)
    if not candidates and {"hot idle", "cold idle"} & set(conditions) and _has_speed(segment):
        candidates = ["idle_speed"]
    if not candidates and {"wet", "dry"} & set(conditions) and _is_row(reader, segment):
        candidates = ["compression"]
    best = _best(reader, candidates, cells, conditions, segment)
    if not any(cell.unit for cell in cells) and ((not best and candidates) or _is_fluid_behind(segment)):
        return ""
    if best:
        return best
    best = _best(reader, _by_unit(reader, segment), cells, conditions, segment)
    units = [cell.unit for cell in cells if cell.unit]
    if best and units and not reader.recent.kind and best != reader.kind:
        reader.suppose(f"{units[0]} taken as {name_of(best)}")
    return best


def _of_system(reader: Reader, segment: Segment, cells: Sequence[Element]) -> list[str]:
    """``changed fuel filter, pressure now 2.9 bar``: what is named by its last word, of the system named before."""
    words = {e.token.plain for e in segment.elements if e.kind in ("WORD", "FILL")} & LAST_WORDS
    if not words or reader.subject is None:
        return []
    roots = {part.split("_")[0] for part in reader.subject.ids("part")}
    fitting = [f"{root}_{word}" for root in sorted(roots) for word in sorted(words)]
    units = [cell.unit for cell in cells if cell.unit]
    return [k for k in fitting if k in reader.library.readings and takes_unit(quantity_of(reader, k), units[0])]


LAST_WORDS = frozenset(["pressure", "voltage", "level", "resistance", "temperature"])


def _is_no_voltage(segment: Segment, cells: Sequence[Element]) -> bool:
    """``1 drop 8, 2 drop 8``: a bare "drop" with whole numbers and no unit may be a drop of anything."""
    bare = [name.token.plain for name in segment.names()] in (["drop"], ["drops"])
    return bare and bool(cells) and all(cell.whole is not None for cell in cells)


FLUIDS = frozenset(["fuel", "petrol", "oil", "coolant", "water"])


def _is_fluid_behind(segment: Segment) -> bool:
    """``3 wet fuel``: a fluid behind a bare number is no pressure of it."""
    names, cells = segment.names(), segment.of("CELL")
    return bool(names and cells) and all(
        name.token.plain in FLUIDS and name.token.start > cells[-1].token.start for name in names
    )


AIR = frozenset(["air", "outside", "ambient", "weather"])


def _is_of_air(reader: Reader, segment: Segment) -> bool:
    """``temp 15 c outside``, ``coolant 18 air 17``: one of the numbers is no coolant's, and it is asked which."""
    named = [kind for name in segment.names() for kind in name.token.ids("kind")]
    if "coolant_reading" not in named:
        return False
    spans = [(token.start, token.end) for element in segment.elements for token in element.tokens]
    first, last = min(start for start, _ in spans), max(end for _, end in spans)
    before = [token.plain for token in reader.tokens if token.end <= first][-1:]
    behind = [token.plain for token in reader.tokens if token.start >= last][:1]
    inside = [token.plain for token in reader.tokens if first <= token.start < last]
    return bool(AIR & {*before, *inside, *behind})


OWN_VOLTAGE = ("battery", "alternator", "starter")


def _is_voltage_elsewhere(reader: Reader, segment: Segment) -> bool:
    """``voltage at pump 9.8``: a bare "voltage" is the battery's only where no other part is named."""
    names = [element.token for element in segment.names()]
    bare = [name for name in names if name.plain in ("voltage", "volts")]
    parts = [reader.part(name) for name in names if name.means("part") and name not in bare]
    return bool(bare) and len(bare) + len(parts) == len(names) and any(part not in OWN_VOLTAGE for part in parts)


def _names_a_part(reader: Reader, segment: Segment) -> bool:
    """``pump gets 11.8v cranking``: a voltage at a part that is none of the battery's own."""
    parts = [reader.part(name.token) for name in segment.names() if name.token.means("part")]
    return any(part not in OWN_VOLTAGE for part in parts)


IDLE_SPAN = (350, 3000)
"""A bare whole number beside "idle" inside this span is an idle speed."""


def _has_speed(segment: Segment) -> bool:
    low, high = IDLE_SPAN
    bare = [cell.whole for cell in segment.of("CELL") if cell.whole is not None]
    return bool(segment.of("SPEED")) or any(low <= whole <= high for whole in bare)


def _best(
    reader: Reader, kinds: Sequence[str], cells: Sequence[Element], conditions: Sequence[str], segment: Segment
) -> str:
    best, best_score = "", 0.0
    for kind in kinds:
        score = _score(reader, kind, cells, conditions, segment)
        if score > best_score:
            best, best_score = kind, score
    return best


def _score(reader: Reader, kind: str, cells: Sequence[Element], conditions: Sequence[str], segment: Segment) -> float:
    quantity = quantity_of(reader, kind)
    if not quantity:
        return 0.0
    if not any(cell.unit for cell in cells) and _needs_unit(kind, cells, segment):
        return 0.0
    if kind == "plug_gap" and any(
        name.token.means("part") and not name.token.means("part", "plug") for name in segment.names()
    ):
        return 0.0
    if kind == "plug_gap" and _is_of_stranger(reader, segment):
        return 0.0
    if reader.place_of_kind(kind) == "cylinder" and _is_number_of_part(reader, cells, segment):
        return 0.0
    score = 10.0
    units = [cell.unit for cell in cells if cell.unit]
    fitting = sum(takes_unit(quantity, unit) for unit in units)
    if units and not fitting:
        return 0.0
    score += 10.0 if fitting else 0.0
    score += 2.0 if units and takes_unit(quantity, units[0]) else 0.0
    if fitting and not any(is_likely(quantity, cell) for cell in cells if takes_unit(quantity, cell.unit)):
        score -= 6.0  # its unit, and no size it ever has: of two kinds with that unit it is the other
    if quantity == "engine_speed" and segment.of("SPEED"):
        score += 10.0
    bare = [cell for cell in cells if not cell.unit]
    if bare and not units:
        likely = sum(is_likely(quantity, cell) for cell in bare) / len(bare)
        score += 4.0 * likely
    words = reader.vocabulary.kinds.get(kind)
    if words is not None:
        if words.with_:
            score += 5.0 if set(words.with_) & set(conditions) else -6.0
        if set(words.without) & set(conditions):
            score -= 5.0
        score -= 0.001 * words.order
    first = next((e.token.start for e in segment.elements if e.kind in ("CELL", "SPEED", "NONE")), 0)
    before = [name.token for name in segment.names() if name.token.start < first]
    if before and (before[-1].means("kind", kind) or before[-1].means("says", kind)):
        score += 3.0
    longest = max(
        (len(e.token.text) for e in segment.names() if e.token.means("kind", kind) or e.token.means("says", kind)),
        default=0,
    )
    score += 0.05 * longest
    record = reader.kind_record(kind)
    if record is not None:
        score += 1.0 if reader.fits(record.needs) else -3.0
    return score


def _is_of_stranger(reader: Reader, segment: Segment) -> bool:
    """``points gap 0.4``: a gap with a word before it that is not known is of something else."""
    first = min((name.token.start for name in segment.names()), default=0)
    before = next((token for token in reversed(reader.tokens) if token.end <= first), None)
    return before is not None and before.kind == "word" and before.plain not in PASSED_OVER


def _needs_unit(kind: str, cells: Sequence[Element], segment: Segment) -> bool:
    """A bare number is that of a plug and no gap, a temperature, a cylinder's ("oil in plug wells 2 3")."""
    oil = kind == "oil_pressure" and any(name.token.plain == "oil" for name in segment.names())
    gap = kind == "plug_gap" and any(cell.whole for cell in cells)
    return oil or gap or kind == "coolant_sensor_resistance"


def _is_number_of_part(reader: Reader, cells: Sequence[Element], segment: Segment) -> bool:
    """``coil 1 on cylinder 3``, ``inj 3 to 1``: small bare numbers right behind a part of a cylinder say which part."""
    if any(_falls(cell) for cell in cells):
        return True
    tokens = [token for element in segment.elements for token in element.tokens]
    if len(cells) == 1 and any(is_counted(reader, tokens, name.token) for name in segment.names()):
        return True  # "2 coils": how many there are
    if (
        cells
        and not segment.of("OPEN")
        and all(_counts_parts(reader, cell) for cell in cells)
        and _is_part(reader, segment)
    ):
        return True
    if len(cells) != 1 or not segment.of("PLACE") or not reader.is_cylinder(cells[0].whole):
        return False
    at = segment.elements.index(cells[0])
    before = segment.elements[at - 1] if at else None
    return before is not None and before.kind == "NAME" and before.token.means("part")


def _counts_parts(reader: Reader, cell: Element) -> bool:
    """A small whole number without a unit may be the number of a cylinder."""
    return not cell.unit and not cell.signed and reader.is_cylinder(cell.whole)


def _is_part(reader: Reader, segment: Segment) -> bool:
    """``coil 4``: right behind a part of a cylinder such a number is that part's, and no reading of it."""
    at = next(index for index, element in enumerate(segment.elements) if element.kind == "CELL")
    before = segment.elements[at - 1] if at else None
    parts = before.token.ids("part") if before is not None and before.kind == "NAME" else ()
    gap = before is not None and before.token.means("kind", "plug_gap")
    return any(reader.part_place(part) == "cylinder" for part in parts) and not gap


def _falls(cell: Element) -> bool:
    """A bare range from high to low is none."""
    ends = cell.text.split(" to ") if cell.ranged and not cell.unit else []
    return len(ends) == 2 and all(end.isdigit() for end in ends) and int(ends[0]) > int(ends[1])


def kind_of_cell(reader: Reader, kind: str, segment: Segment, cell: Cell) -> str:
    """The kind by the conditions of one number: ``battery 12.1 rested, 9.4 cranking`` is of two kinds."""
    quantity = quantity_of(reader, kind)
    if kind == "battery_rested" and not cell.conditions and is_charging(cell.element):
        reader.suppose(f"{cell.element.text} taken as charging voltage")
        return "charging_volts"
    if kind == "battery_rested" and {"hot idle", "cold idle", "cruise"} & set(cell.conditions):
        return "charging_volts"
    if kind == "crank_rpm" and "cranking" not in cell.conditions and is_running(cell.element):
        return "idle_speed"
    if kind == "coolant_reading" and reader.kind_record("coolant_reading_cold") and is_of_cold(reader, cell):
        return "coolant_reading_cold"  # how warm a cold engine should read is another question
    alike = [other for other in candidates_of(reader, segment) if quantity_of(reader, other) == quantity]
    if len(alike) < 2:
        return kind
    return max(
        alike, key=lambda other: (_score(reader, other, [cell.element], cell.conditions, segment), other == kind)
    )


def _by_state(conditions: Sequence[str]) -> str:
    """Which voltage of the battery is meant, by what the engine did; empty where it is not said."""
    if "cranking" in conditions:
        return "battery_cranking"
    if "at rest" in conditions:
        return "battery_rested"
    return "charging_volts" if {"hot idle", "cold idle", "cruise"} & set(conditions) else ""


def _by_unit(reader: Reader, segment: Segment) -> list[str]:
    """Kinds a number without a name may be, by its unit and whether a cylinder is named."""
    units = [cell.unit for cell in segment.of("CELL") if cell.unit]
    at_cylinder = bool(segment.of("PLACE"))
    found: list[str] = []
    others = [e.token for e in segment.names() if e.token.means("part") and not e.token.means("kind")]
    sits = {reader.part_place(reader.part(token)) for token in others}
    elsewhere = "bank" in sits or ("engine" in sits and not at_cylinder)
    worked = any(not isinstance(body, Reading) for body in reader.bodies)
    strange = any(e.kind == "WORD" and e.token.kind == "word" for e in segment.elements)
    last = "" if elsewhere or worked or strange else reader.recent.kind  # the line goes on with the one before
    if others and not any(last in reader.kinds_of_part(token) for token in others):
        last = ""  # of another part than the line before
    of_cylinder = reader.place_of_kind(last) == "cylinder" if last else False
    bank = any(place.kind == "bank" for element in segment.of("PLACE") for place in element.places)
    if last and (takes_unit(quantity_of(reader, last), units[0]) if units else of_cylinder or bank):
        found.append(last)
    if (
        reader.kind
        and not elsewhere
        and quantity_of(reader, reader.kind)
        and any(body.kind == reader.kind for body in readings_of(reader))
    ):
        found.append(reader.kind)
    if not units:
        return found
    unit = units[0]
    if takes_unit("vacuum", unit) and unit.casefold().replace(" ", "").endswith("hg"):
        found.append("vacuum")
    elif takes_unit("pressure", unit) and (at_cylinder or _is_row(reader, segment)):
        found.append("compression")
    elif (
        takes_unit("battery_voltage", unit)
        and not _names_a_part(reader, segment)
        and (kind := _by_state(conditions_of(segment.elements)))
    ):
        found.append(kind)
    elif takes_unit("draw", unit) and "at rest" in conditions_of(segment.elements):
        found.append("drain_current")
    elif takes_unit("air_flow", unit):
        found.append("air_flow")
    elif takes_unit("engine_speed", unit) and any("idl" in token.plain for token in reader.tokens):
        found.append("idle_speed")
    return found


ROW_LEAST = 3


def _is_row(reader: Reader, segment: Segment) -> bool:
    """As many numbers as cylinders, or places left open for them."""
    count = len([e for e in segment.elements if e.kind in ("CELL", "HOLE")])
    return count >= ROW_LEAST and count == reader.cylinders


def readings_of(reader: Reader) -> list[Reading]:
    """The readings of the line so far."""
    return [body for body in reader.bodies if isinstance(body, Reading)]


def name_of(kind: str) -> str:
    """How a kind of reading is called on screen."""
    return kind.replace("_", " ")


def conditions_of(elements: Sequence[Element]) -> list[str]:
    """Every condition said in some elements."""
    return [name for element in elements if element.kind in ("COND", "SPEED") for name in element.names]
