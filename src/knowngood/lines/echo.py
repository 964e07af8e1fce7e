"""What was understood, in one short line, with every guess shown."""

from __future__ import annotations

import json
from collections.abc import Sequence
from itertools import groupby

import msgspec

from knowngood.car import ENGINE, Place, Tightening
from knowngood.evidence import Access, Body, CarFact, Clock, Finding, Note, Reading, Stock, Strike, Tool, Undone, Work
from knowngood.library.records import Library
from knowngood.lines.amounts import shown
from knowngood.lines.back_on import STATE, back_on
from knowngood.lines.vocabulary import table
from knowngood.units import kinds

IN_WORDS = {
    "cylinders": "{:g} cylinders",
    "form": "{} engine",
    "mileage_km": "{:.0f} km",
    "displacement_l": "{:g} litres",
    "drive": "{}",
    "neutral_trim": "trims: {:g} is neutral",
}
NEAR_A_MONTH = 0.05  # a stay of 1.667 years was told as 20 months


def echo_of(bodies: Sequence[Body], library: Library, assumed: Sequence[str]) -> str:
    """The line that confirms what was read.

    Rows of cylinders are said together (``compression 1..4: 175 180 60 175 psi``); guesses stand at the end.
    """
    pieces = []
    for _, group in groupby(bodies, key=_group):
        pieces.append(_piece(list(group), library))
    text = "; ".join(piece for piece in pieces if piece)
    guesses = [guess for guess in assumed if guess not in text]
    return ", ".join([text, *guesses]) if text else ", ".join(guesses)


def _group(body: Body) -> tuple[object, ...]:
    if isinstance(body, Reading):
        unit = body.value.unit if body.value is not None else ""
        word = body.word if body.value is None else ""
        return ("reading", body.kind, body.conditions, unit, word, body.state, body.place.kind, body.doubt)
    if isinstance(body, CarFact):
        return ("car",)
    return (id(body),)


def _piece(bodies: list[Body], library: Library) -> str:
    first = bodies[0]
    match first:
        case Reading():
            return _readings([body for body in bodies if isinstance(body, Reading)], library)
        case CarFact():
            return ", ".join(dict.fromkeys(_fact(body) for body in bodies if isinstance(body, CarFact)))
        case Work():
            return _work(first, library)
        case Finding():
            words = first.words or first.fault.replace("_", " ")
            return f"{'seen' if first.seen else 'looked for and not seen'}: {words}{_at(first.place)}"
        case Access():
            return _access(first, library)
        case Undone():
            return f"{'put right' if first.put_right else 'left undone'}: {first.what}"
        case Tool():
            tool = library.tools.get(first.name)
            back = f", back {first.back}" if first.back else ""
            price = f", bought for {first.price:g}" if first.price is not None else ""
            return f"{tool.name if tool is not None else first.name}: {first.state}{back}{price}"
        case Stock():
            return _stock(first, library)
        case Clock():
            return "the clock runs" if first.running else "the clock stands"
        case Note():
            return f"kept as a note: {first.text}" + (f" ({first.why})" if first.why else "")
        case Strike():
            return f"taken back: {first.why}"
    return ""


def _access(access: Access, library: Library) -> str:
    """``plenum off``, ``plenum back on``; by its name where its words name no state."""
    step = library.access.get(access.step)
    off = next((says for says in step.says if STATE.search(says)), "") if step is not None else ""
    if off:
        return off if access.open else back_on(off)
    return f"{step.name if step is not None else access.step}: {'off' if access.open else 'back on'}"


def _at(place: Place) -> str:
    return "" if place == ENGINE else f", {place}"


def _numbers(places: Sequence[Place]) -> str:
    """``1..6`` for a run, else the numbers."""
    names = [place.name for place in places]
    if len(names) > 2 and all(name.isdigit() for name in names):
        numbers = [int(name) for name in names]
        if numbers == list(range(numbers[0], numbers[0] + len(numbers))):
            return f"{numbers[0]}..{numbers[-1]}"
    return " ".join(names)


def _readings(readings: list[Reading], library: Library) -> str:
    first = readings[0]
    if first.kind == "code":
        return _codes(readings)
    record = library.readings.get(first.kind)
    name = first.kind.replace("_", " ")
    places = [reading.place for reading in readings]
    where = ""
    if places[0] != ENGINE:
        label = _numbers(places)
        where = (
            f" {label}" if places[0].kind == "cylinder" and places[0].name.isdigit() else f" {places[0].kind} {label}"
        )
    if first.value is None:
        words = list(dict.fromkeys(reading.word for reading in readings))
        text = f"{name}{where}: {' '.join(words)}"
    else:
        quantity = record.quantity if record is not None and record.quantity in kinds() else _quantity(first.kind)
        values = [shown(r.value, quantity, with_unit=False) for r in readings if r.value is not None]
        unit = kinds()[quantity].units.get(first.value.unit) if quantity in kinds() else None
        text = f"{name}{where}: {' '.join(values)} {unit.symbol if unit else ''}".rstrip()
        if first.word:
            text += f", {first.word}"
    if first.conditions:
        text += f" ({', '.join(first.conditions)})"
    doubts = list(dict.fromkeys(reading.doubt for reading in readings if reading.doubt))
    return text + (f", in doubt: {'; '.join(doubts)}" if doubts else "")


def _quantity(kind: str) -> str:
    return next((str(entry.get("quantity", "")) for entry in table()["kind"] if entry["id"] == kind), "")


def _codes(readings: list[Reading]) -> str:
    if readings[0].word == "none":
        return "no codes"
    state = f" {readings[0].state}" if readings[0].state else ""
    doubts = list(dict.fromkeys(reading.doubt for reading in readings if reading.doubt))
    text = f"code {' '.join(reading.code for reading in readings)}{state}"
    return text + (f", in doubt: {'; '.join(doubts)}" if doubts else "")


def _part(part: str, library: Library) -> str:
    found = library.parts.get(part)
    return found.name if found is not None else part.replace("_", " ")


def _work(work: Work, library: Library) -> str:
    if work.do == "cleared":
        return f"cleared codes{' by taking the battery off' if work.part == 'battery' else ''}"
    cylinders = [place for place in work.places if place != ENGINE]
    where = (
        f" {cylinders[0].kind if cylinders[0].kind != 'cylinder' else ''} {_numbers(cylinders)}".replace("  ", " ")
        if cylinders
        else ""
    )
    to = f" with {work.to.name}" if work.to is not None else ""
    origin = f" ({work.origin})" if work.origin != "unknown" else ""
    effect = f", {work.effect}" if work.effect else ""
    at = f" at {work.effect_at.name}" if work.effect_at is not None else ""
    record = library.parts.get(work.part)
    own = record.done_as.get(work.do, "") if record is not None else ""
    part = f" {_part(work.part, library)}" if work.part else f": {work.words}" if work.words else ""
    took = f", {work.minutes:.3g} min" if work.minutes is not None else ""
    return f"{own or work.do + part}{where}{to}{origin}{effect}{at}{took}"


def _stock(stock: Stock, library: Library) -> str:
    count = f"{stock.count} " if stock.count != 1 else ""
    price = f", {stock.price:g}" if stock.price is not None else ""
    source = f", from {stock.source}" if stock.source else ""
    days = f"{stock.wait_days:g} {'day' if stock.wait_days == 1 else 'days'}"
    wait = f"ordered, {days}" if stock.wait_days else stock.state or "in stock"
    return f"{count}{_part(stock.part, library)}: {wait}{price}{source}"


def _fact(fact: CarFact) -> str:
    value = json.loads(fact.value)
    name = fact.field.replace("_", " ")
    if value is None or value == "":
        return f"{name} not known"
    if isinstance(value, bool):
        return f"{'' if value else 'no '}{name}"
    if fact.field == "windows":
        return ", ".join(
            f"{kind.replace('_', ' ')} should be {_span(window, _base(kind))} (as told)"
            for kind, window in value.items()
        )
    if fact.field == "tightening":
        return "; ".join(f"{what}: {tightening_words(msgspec.convert(one, Tightening))}" for what, one in value.items())
    if fact.field == "branches":
        return "; ".join(f"{branch} feeds {', '.join(feeds).replace('_', ' ')}" for branch, feeds in value.items())
    if isinstance(value, list):
        text = "-".join(map(str, value)) if fact.field == "firing_order" else ", ".join(map(str, value))
        return f"with {text}" if fact.field == "systems" else f"{name}: {text}"
    if fact.field == "standing_years":
        return f"stood {_years(float(value))}"
    if fact.field in IN_WORDS:
        return IN_WORDS[fact.field].format(value)
    return f"{name}: {value:g}" if isinstance(value, float) else f"{name}: {value}"


def _years(years: float) -> str:
    """In months where that is how it was told: ``14 months``, ``2 years``."""
    months = round(12.0 * years)
    if months % 12 and abs(12.0 * years - months) < NEAR_A_MONTH:
        return f"{months} month{'s' if months > 1 else ''}"
    return f"{years:g} year{'s' if years != 1.0 else ''}"


def tightening_words(told: Tightening) -> str:
    """``20 to 25 N·m, then 90°, then 90°``."""
    span = f"{told.low_nm:g}" + (f" to {told.high_nm:g}" if told.high_nm != told.low_nm else "")
    return ", then ".join([f"{span} N·m", *(f"{angle:g}°" for angle in told.then_deg)])


def _base(kind: str) -> str:
    quantity = kinds().get(_quantity(kind))
    return quantity.units[quantity.base].symbol if quantity is not None and quantity.base in quantity.units else ""


def _span(window: dict[str, object], unit: str) -> str:
    low, high = window.get("low"), window.get("high")
    ends = [f"{end:.5g}" for end in (low, high) if isinstance(end, (int, float))]
    side = "" if len(ends) != 1 else "at least " if low is not None else "at most "
    return f"{side}{' to '.join(ends)} {unit}".rstrip()
