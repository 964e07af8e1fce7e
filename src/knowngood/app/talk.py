"""A new car talked through: what was answered, as the lines that say it. Nothing has to be answered."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from knowngood.app.taps import Fields
from knowngood.car import Car
from knowngood.errors import Problem, Refused
from knowngood.evidence import Entry, Reading


@dataclass(frozen=True)
class Ask:
    """One question about the car: its field, its answers as they are written in a line, or a number to type."""

    field: str
    asked: str
    answers: tuple[str, ...] = ()
    number: bool = False
    hint: str = ""


ASKS = (
    Ask("drive", "What drives it?", ("petrol", "hybrid", "gas conversion")),
    Ask("cylinders", "How many cylinders?", ("2", "3", "4", "5", "6", "8", "10", "12")),
    Ask("form", "How do they stand?", ("inline", "V", "flat")),
    Ask("ignition", "Ignition?", ("coil on plug", "coil and lead", "pair coil", "distributor")),
    Ask("injection", "Injection?", ("port injection", "single point injection", "direct injection")),
    Ask("air", "What meters the air?", ("flow meter", "manifold pressure sensor")),
    Ask("turbo", "Turbo?", ("turbo", "no turbo")),
    Ask("km", "Kilometres on the odometer", number=True),
    Ask("year", "Year it was built, about", number=True),
    Ask("stood", "Years it stood", number=True),
    Ask("animals", "Signs of animals in it?", ("signs of animals", "no signs of animals")),
    Ask("done", "What was done last, and by whom?", hint="coils were off, a neighbour"),
    Ask("new", "Which parts are new?", hint="plugs; or none"),
)
LONGEST = 300
NOTHING_TOLD: Mapping[str, str] = MappingProxyType({})
CODE_STATES = ("stored", "now", "pending", "permanent")
_DIGITS = re.compile(r"\d{4}")
_CODES = re.compile(r"(?:[Pp]?(?:\d{4})+)?")
_PARTED = re.compile(r"[\s,;]+")


_INJECTION = {"port": "port injection", "single point": "single point injection", "direct": "direct injection"}
_METERS = {"flow meter": "flow meter", "manifold pressure": "manifold pressure sensor"}


def told_of(car: Car) -> dict[str, str]:
    """What is known of the car, as it was or would be answered: field -> answer; empty where it was not told."""
    return {
        "drive": car.drive,
        "cylinders": f"{car.cylinders}" if car.cylinders and not car.cylinders_doubtful else "",
        "form": car.form,
        "ignition": car.ignition,
        "injection": _INJECTION.get(car.injection, ""),
        "air": _METERS.get(car.air_meter, ""),
        "turbo": _either(car.turbo, "turbo", "no turbo"),
        "km": _digits(car.mileage_km),
        "year": _digits(car.year),
        "stood": _digits(car.standing_years),
        "animals": _either(car.animals, "signs of animals", "no signs of animals"),
        "done": "; ".join(car.last_done),
        "new": "; ".join(car.new_parts),
    }


def _either(known: bool | None, yes: str, no: str) -> str:
    return "" if known is None else yes if known else no


def _digits(known: float | None) -> str:
    return "" if known is None else f"{known:.12g}"


def complained_of(entries: Sequence[Entry]) -> frozenset[str]:
    """Kinds of complaint that were told to be so and not told otherwise since."""
    last = {entry.body.kind: entry.body.word for entry in entries if isinstance(entry.body, Reading)}
    return frozenset(kind for kind, word in last.items() if word == "yes")


def lines_of_talk(fields: Fields, told: Mapping[str, str] = NOTHING_TOLD) -> list[str]:
    """The lines of what was answered: what it is and what it went through, then what was done, then what is new.

    An answer that is known already (``told``, as of :func:`told_of`) is not said once more; no lines where all are.

    Raises
    ------
    Refused
        Nothing was answered, an answer is none of those there are, or a text is too long.
    """
    given = {name: " ".join(value.split()) for name, value in fields}
    for ask in ASKS:
        _must_answer(ask, given.get(ask.field, ""))
    said = {ask.field: given.get(ask.field, "") for ask in ASKS}
    said = {field: "" if value == told.get(field) else value for field, value in said.items()}
    cylinders = f"{said['cylinders']} cylinders" if said["cylinders"] else ""
    if said["form"] == "inline":
        cylinders = f"{cylinders} inline".strip() if cylinders else "inline engine"
    elif said["form"]:
        cylinders = (
            f"{said['form']}{said['cylinders']}"
            if said["form"] == "V" and cylinders
            else (f"{cylinders} {said['form']}".strip() if cylinders else f"{said['form']} engine")
        )
    car = [
        said["drive"],
        cylinders,
        said["ignition"],
        said["injection"],
        said["air"],
        said["turbo"],
        f"{said['km']} km" if said["km"] else "",
        f"about {said['year']}" if said["year"] else "",
        f"stood {said['stood']} years" if said["stood"] else "",
        said["animals"],
    ]
    lines = [", ".join(part for part in car if part)]
    lines += [f"done last: {said['done']}" if said["done"] else "", f"new parts: {said['new']}" if said["new"] else ""]
    lines = [line for line in lines if line]
    if not lines and not any(told.get(field) for field in given):
        raise Refused(Problem("Nothing was answered.", "Answer what you know; every question may be left open."))
    return lines


def line_of_codes(digits: str, state: str) -> str:
    """``0302 0171`` with ``stored``: ``P0302, P0171 stored``.

    Raises
    ------
    Refused
        There is no code in it, something in it is none of four digits, or the state is none.
    """
    typed = _PARTED.split(digits.strip())
    odd = next((one for one in typed if not _CODES.fullmatch(one)), "")
    if odd:
        fact = f"'{odd if len(odd) <= LONGEST else f'{odd[:20]}...'}' is no code of four digits."
        raise Refused(Problem(fact, "Type the four digits of each, such as 0302 0171; others are said as a line."))
    codes = [code for one in typed for code in _DIGITS.findall(one)]
    if not codes or state not in ("", *CODE_STATES):
        raise Refused(Problem(f"'{digits}' holds no code.", "Type the four digits of each, such as 0302 0171."))
    return f"{', '.join(f'P{code}' for code in codes)} {state}".rstrip()


def _must_answer(ask: Ask, value: str) -> None:
    if len(value) > LONGEST:
        raise Refused(Problem(f"'{value[:20]}...' has {len(value)} characters.", f"{LONGEST} are the most."))
    if value and ask.answers and value not in ask.answers:
        raise Refused(Problem(f"'{value}' is no answer to '{ask.asked}'", f"Answers: {', '.join(ask.answers)}."))
    if value and ask.number and not re.fullmatch(r"\d+(?:[.,]\d+)?", value):
        raise Refused(Problem(f"'{value}' is no number.", f"{ask.asked}: type digits only."))
