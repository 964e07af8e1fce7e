"""What ``make prove`` was asked for, read from the environment; all that cannot be done is said at once."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from knowngood.errors import Problem, Refused
from knowngood.proving import policies
from knowngood.proving.development import CARS
from knowngood.proving.seeds import DEVELOPMENT

PARTS = ("cases", "plans", "chances", "ways")
DEVELOP = "develop"  # only where asked for: its cars are looked at one by one, and give no figure


@dataclass(frozen=True)
class Asked:
    """What to prove, and on how many cars.

    Parameters
    ----------
    full : bool
        Many cars, kept in the docs.
    parts : tuple of str
        Of :data:`PARTS` and :data:`DEVELOP`.
    cars : int or None
        ``None`` where as many as are usual.
    ways : tuple of str
        Ways of working, with knowing the faults and ours; empty where those that are usual.
    first : int
        Seed of the first development car.
    """

    full: bool = False
    parts: tuple[str, ...] = PARTS
    cars: int | None = None
    ways: tuple[str, ...] = ()
    first: int = DEVELOPMENT.start


def asked(environment: Mapping[str, str]) -> Asked:
    """What ``FULL``, ``ONLY``, ``CARS``, ``WAYS`` and ``FIRST`` say.

    Raises
    ------
    Refused
        A part or way that is not there, a count that is none, development cars outside their seeds.
    """
    parts, ways = _names(environment, "ONLY"), _names(environment, "WAYS")
    problems = [*_unknown("ONLY", parts, (*PARTS, DEVELOP)), *_unknown("WAYS", ways, policies.WAYS)]
    numbers: dict[str, int] = {}
    for name in ("CARS", "FIRST"):
        typed = environment.get(name, "").strip()
        if typed and not (typed.isdecimal() and int(typed)):
            problems.append(Problem(f"{name} is '{typed}', which is no count.", "Give a whole number, 1 or more."))
        elif typed:
            numbers[name] = int(typed)
    if DEVELOP in parts:
        problems += _outside(numbers.get("FIRST", DEVELOPMENT.start), numbers.get("CARS", CARS))
    if problems:
        raise Refused(problems)
    return Asked(
        full=environment.get("FULL", "") == "1",
        parts=parts or PARTS,
        cars=numbers.get("CARS"),
        ways=tuple(dict.fromkeys([policies.KNOWS, policies.OURS, *ways])) if ways else (),
        first=numbers.get("FIRST", DEVELOPMENT.start),
    )


def _names(environment: Mapping[str, str], name: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in environment.get(name, "").split(",") if part.strip())


def _unknown(variable: str, names: Iterable[str], known: Iterable[str]) -> Iterator[Problem]:
    there = list(known)
    for name in names:
        if name not in there:
            yield Problem(f"{variable} names '{name}', which is not there.", f"Name one of: {', '.join(there)}.")


def _outside(first: int, cars: int) -> Iterator[Problem]:
    """Development cars are of their own seeds only: one of another has given a figure, or may yet."""
    last = first + cars - 1
    if first not in DEVELOPMENT or last not in DEVELOPMENT:
        yield Problem(
            f"Development cars have seeds {DEVELOPMENT.start} to {DEVELOPMENT[-1]}; asked for are {first} to {last}.",
            "Set FIRST and CARS so that all lie inside.",
        )
