"""What a line says, as short texts a test can list."""

from __future__ import annotations

from knowngood.car import ENGINE, Car
from knowngood.evidence import Access, Body, CarFact, Finding, Note, Reading, Stock, Tool, Undone, Work
from knowngood.lines import Recent, Understood, read_line
from tests.unit.lines.small_library import LIBRARY

FOUR = Car(cylinders=4, form="inline", ignition="coil on plug")
SIX = Car(cylinders=6, form="V", ignition="coil on plug")
EIGHT = Car(cylinders=8, form="V", ignition="coil on plug")


def read(line: str, car: Car = FOUR, recent: Recent | None = None) -> Understood:
    return read_line(line, car, LIBRARY, recent)


def said(line: str, car: Car = FOUR, recent: Recent | None = None) -> list[str]:
    """One text for each body of a line."""
    return [text_of(body) for body in read(line, car, recent).bodies]


def text_of(body: Body) -> str:
    match body:
        case Reading():
            return _reading(body)
        case Work():
            to = f" with {body.to.name}" if body.to else ""
            at = f" {body.effect_at.name}" if body.effect_at else ""
            places = "" if body.places == (ENGINE,) else " " + "+".join(place.name for place in body.places)
            origin = "" if body.origin == "unknown" else f" ({body.origin})"
            effect = f": {body.effect}{at}" if body.effect else ""
            return f"{body.do} {body.part}{places}{to}{origin}{effect}".replace("  ", " ").strip()
        case CarFact():
            return f"{body.field} = {body.value}"
        case Finding():
            return f"{'seen' if body.seen else 'not seen'} {body.fault or body.part}{_at(body.place)}"
        case Access():
            return f"{body.step} {'apart' if body.open else 'together'}"
        case Undone():
            return f"{'put right' if body.put_right else 'undone'}: {body.what}{_at(body.place)}"
        case Tool():
            return f"{body.name} {body.state} {body.back}".rstrip()
        case Stock():
            return f"{body.count} {body.part} in {body.wait_days:g} d"
        case Note():
            return f"note: {body.text}"
    return repr(body)


def _at(place: object) -> str:
    return "" if place == ENGINE else f" at {place}"


def _reading(body: Reading) -> str:
    place = "" if body.place == ENGINE else f" {body.place.kind[0]}{body.place.name}"
    value = ""
    if body.value is not None:
        value = f" {body.value.number:.6g}"
        if body.value.sense in ("range", "about", "over", "under", "none seen"):
            value += f" {body.value.sense}"
        value += f" {body.value.unit}".rstrip()
    words = "".join(f" {word}" for word in (body.word, body.code, body.state) if word)
    conditions = f" [{', '.join(body.conditions)}]" if body.conditions else ""
    return f"{body.kind}{place}{value}{words}{conditions}{' ?' if body.doubt else ''}"
