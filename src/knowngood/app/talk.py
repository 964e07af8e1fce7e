"""A new car talked through: what was answered, as the lines that say it. Nothing has to be answered."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from knowngood.app.taps import Fields
from knowngood.errors import Problem, Refused


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
CODE_STATES = ("stored", "now", "pending", "permanent")
_DIGITS = re.compile(r"\d{4}")


def lines_of_talk(fields: Fields) -> list[str]:
    """The lines of what was answered: what it is and what it went through, then what was done, then what is new.

    Raises
    ------
    Refused
        Nothing was answered, an answer is none of those there are, or a text is too long.
    """
    given = {name: " ".join(value.split()) for name, value in fields}
    for ask in ASKS:
        _must_answer(ask, given.get(ask.field, ""))
    said = {field: given.get(field, "") for field in (ask.field for ask in ASKS)}
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
    if not lines:
        raise Refused(Problem("Nothing was answered.", "Answer what you know; every question may be left open."))
    return lines


def line_of_codes(digits: str, state: str) -> str:
    """``0302 0171`` with ``stored``: ``P0302, P0171 stored``.

    Raises
    ------
    Refused
        There is no code in it, or the state is none.
    """
    codes: Sequence[str] = _DIGITS.findall(digits[:LONGEST])
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
